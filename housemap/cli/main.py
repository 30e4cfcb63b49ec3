"""Where the program starts: finds the command, runs it, and tells errors in plain lines."""

import os
import sys
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Iterator, Sequence
from difflib import get_close_matches
from typing import NoReturn

from housemap.cli.command import DONE, INTERRUPTED, UNUSABLE, Command
from housemap.cli.every import MODULES, command_of, every_command
from housemap.cli.open import OPEN
from housemap.cli.progress import progress
from housemap.errors import HousemapError, InputError, Problem
from housemap.model.text import shown


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command in `argv` (default: the process's own) and give its exit status."""
    # Threaded linear algebra gains nothing at our sizes, and loses much on a busy machine.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        return _run(list(sys.argv[1:] if argv is None else argv))
    except HousemapError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read the output has seen enough; keep the interpreter from complaining at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE


def _run(words: Sequence[str]) -> int:
    command = _named(words[0]) if words else None
    if command is None and words:
        _not_a_command(words[0])
    parser = _Parser(command or OPEN)
    arguments = parser.parse_args(words[1:] if command else words)
    if command is None:
        return OPEN.run(arguments)
    with progress(f"housemap {command.name}", getattr(arguments, "seconds", None)):
        return command.run(arguments)


def _named(word: str) -> Command | None:
    """The command of that name. To open a file no other command is imported."""
    return command_of(word) if word in MODULES else None


def _not_a_command(word: str) -> None:
    """Raise InputError for a word that is nearly the name of a command, and no file."""
    if not word.isalpha() or os.path.exists(word):  # noqa: PTH110 - a word may be too long for Path
        return
    near = get_close_matches(word, MODULES, 1, 0.6)
    if near:
        line = f"there is no command and no file {shown(word)}; did you mean {near[0]}?"
        raise InputError([Problem(line)])


class _Parser(ArgumentParser):
    """The parser of one command; its help is put together when somebody asks for it."""

    def __init__(self, command: Command) -> None:
        super().__init__(
            prog=f"housemap {command.name}".strip(),
            description=command.summary,
            formatter_class=RawDescriptionHelpFormatter,
        )
        self._command = command
        command.arguments(self)

    def error(self, message: str) -> NoReturn:
        """Name the option that was probably meant."""
        unknown = message.partition("unrecognized arguments: ")[2].split()
        known = [option for action in self._actions for option in action.option_strings]
        wrong = next((word for word in unknown if word.startswith("--")), "")
        near = get_close_matches(wrong.partition("=")[0], known, 1, 0.6) if wrong else []
        super().error(f"{message}; did you mean {near[0]}?" if near else message)

    def format_help(self) -> str:
        self.epilog = "\n".join(_epilog(self._command))
        return super().format_help()


def _epilog(command: Command) -> Iterator[str]:
    yield "examples:"
    yield from (f"  {example}" for example in command.examples)
    if command is OPEN:
        yield ""
        yield "commands (each has its own --help):"
        yield from (f"  {c.name:10} {c.summary}" for c in every_command())
