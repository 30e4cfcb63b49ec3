"""Where the program starts: finds the command, runs it, and tells errors in plain lines."""

import os
import sys
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Sequence

from housemap.cli.command import DONE, UNUSABLE, Command
from housemap.cli.every import COMMANDS, OPEN
from housemap.errors import HousemapError


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command in `argv` (default: the process's own) and give its exit status."""
    # Threaded linear algebra gains nothing at our sizes, and loses much on a busy machine.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    words = list(sys.argv[1:] if argv is None else argv)
    command = next((c for c in COMMANDS if words and c.name == words[0]), None)
    parser = _parser(command or OPEN)
    arguments = parser.parse_args(words[1:] if command else words)
    try:
        return (command or OPEN).run(arguments)
    except HousemapError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        # Whoever read the output has seen enough; keep the interpreter from complaining at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE


def _parser(command: Command) -> ArgumentParser:
    parser = ArgumentParser(
        prog=f"housemap {command.name}".strip(),
        description=command.summary,
        epilog=_epilog(command),
        formatter_class=RawDescriptionHelpFormatter,
    )
    command.arguments(parser)
    return parser


def _epilog(command: Command) -> str:
    lines = ["examples:", *(f"  {example}" for example in command.examples)]
    if command is OPEN:
        lines += ["", "commands (each has its own --help):"]
        lines += [f"  {c.name:10} {c.summary}" for c in COMMANDS]
    return "\n".join(lines)
