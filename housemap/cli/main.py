"""Where the program starts: finds the command, runs it, and prints errors as plain lines."""

import atexit
import gc
import os
import sys
from argparse import Namespace
from collections.abc import Sequence
from io import TextIOWrapper
from pathlib import Path
from types import ModuleType
from typing import NoReturn

from housemap import __version__
from housemap.cli.command import (
    DONE,
    INTERRUPTED,
    MODULES,
    UNUSABLE,
    Command,
    Parser,
    arg,
    command_of,
    nearest_word,
)
from housemap.cli.progress import progress
from housemap.errors import HousemapError, InputError
from housemap.model.text import shown

PICTURES = ("auto", "ask", "kitty", "sixel", "blocks")
COLOURS = ("auto", "truecolor", "256", "16", "none")


def _open_program(arguments: Namespace) -> int:
    from housemap.tui.opening import open_program  # noqa: PLC0415 - not for another command

    return open_program(arguments)


OPEN = Command(
    name="",
    summary="Plan the paint of a whole house: opens FILE, or a start screen without one.",
    examples=("housemap", "housemap house.toml", "housemap --read-only house.toml"),
    arguments=(
        arg("file FILE", "a house file", nargs="?", type=Path),
        arg("--color", "colour depth to use", choices=COLOURS, default="auto"),
        arg("--pictures",
            "how map and walk are drawn (default: by the terminal's name; ask: as it answers)",
            choices=PICTURES, default="auto"),
        arg("--ascii", "draw with ASCII characters alone"),
        arg("--no-mouse", "leave the mouse to the terminal"),
        arg("--read-only", "never write the file"),
        arg("--version", "show program's version number and exit",
            action="version", version=f"housemap {__version__}"),
    ),
    run=_open_program,
)  # fmt: skip

COLLECT_AFTER = 1_000_000
"""New objects between two looks for garbage: a command builds far more than it throws away. The
usual 700 cost a sixth of a large schedule."""


def run() -> NoReturn:
    """Run `main` and end the process at once.

    Nobody waits for a thread that still computes, except while it writes to disk; nor for what was
    built to be taken apart, which is a sixth of the time of a command.
    """
    for name in ("stdin", "stdout", "stderr"):  # one that is closed is None
        setattr(sys, name, getattr(sys, name) or open(os.devnull, "r+"))  # noqa: PTH123, SIM115 - until the end
    if isinstance(sys.stdout, TextIOWrapper):
        # A file name may be no UTF-8, and an old locale may have no letter for a currency.
        sys.stdout.reconfigure(errors="backslashreplace")
    status = main()
    from housemap.file.atomic import wait_for_writes  # noqa: PLC0415 - not for the first frame

    wait_for_writes()
    atexit._run_exitfuncs()  # noqa: SLF001 - there is no other way; ends child processes
    for stream in (sys.stdout, sys.stderr):
        stream.flush()
    os._exit(status)


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command in `argv` (default: the process's own) and give its exit status."""
    # Threaded linear algebra gains nothing at our sizes, and loses much on a busy machine.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # Nobody reads the texts of numpy's own help here: a tenth of its import.
    for name in ("numpy._core._add_newdocs", "numpy._core._add_newdocs_scalars"):
        sys.modules.setdefault(name, ModuleType(name))
    try:
        status = _run(list(sys.argv[1:] if argv is None else argv))
        sys.stdout.flush()
    except HousemapError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    except KeyboardInterrupt:
        return INTERRUPTED
    except OSError as error:
        # Keep the interpreter from complaining at exit about what cannot be printed.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if isinstance(error, BrokenPipeError):  # whoever read the output has seen enough
            return DONE
        print(f"{error.filename or 'standard output'}: {error.strerror}", file=sys.stderr)
        return UNUSABLE
    return status


def _run(words: Sequence[str]) -> int:
    command = _named(words[0]) if words else None
    if command is None and words:
        _not_a_command(words[0])
    parser = Parser(command or OPEN)
    arguments = parser.parse_args(words[1:] if command else words)
    if command is None:
        return OPEN.run(arguments)
    with progress(f"housemap {command.name}", getattr(arguments, "seconds", None)):
        return command.run(arguments)


def _named(word: str) -> Command | None:
    """The command of that name. To open a file no other command is imported."""
    if word not in MODULES:
        return None
    gc.set_threshold(COLLECT_AFTER)
    return command_of(word)


def _not_a_command(word: str) -> None:
    """Raise InputError for a word that is nearly the name of a command, and no file."""
    if not word.isalpha() or os.path.exists(word):  # noqa: PTH110 - a word may be too long for Path
        return
    if near := nearest_word(word, MODULES):
        raise InputError.of(f"there is no command and no file {shown(word)}; did you mean {near}?")
