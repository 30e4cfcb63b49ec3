"""Where the program starts: finds the command, runs it, and tells errors in plain lines."""

import os
import sys
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Iterator, Sequence

from housemap.cli.command import DONE, INTERRUPTED, UNUSABLE, Command
from housemap.cli.open import OPEN
from housemap.errors import HousemapError


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
    parser = _Parser(command or OPEN)
    arguments = parser.parse_args(words[1:] if command else words)
    return (command or OPEN).run(arguments)


def _named(word: str) -> Command | None:
    """The command of that name. To open a file no other command is imported."""
    if not word.isalpha():
        return None
    from housemap.cli.every import COMMANDS

    return next((command for command in COMMANDS if command.name == word), None)


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

    def format_help(self) -> str:
        self.epilog = "\n".join(_epilog(self._command))
        return super().format_help()


def _epilog(command: Command) -> Iterator[str]:
    yield "examples:"
    yield from (f"  {example}" for example in command.examples)
    if command is OPEN:
        from housemap.cli.every import COMMANDS

        yield ""
        yield "commands (each has its own --help):"
        yield from (f"  {c.name:10} {c.summary}" for c in COMMANDS)
