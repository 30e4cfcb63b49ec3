"""`housemap` and `housemap FILE`: opens the program on the terminal."""

from argparse import Namespace
from pathlib import Path

from housemap import __version__
from housemap.cli.command import Command, arg

PICTURES = ("auto", "ask", "kitty", "sixel", "blocks")
COLOURS = ("auto", "truecolor", "256", "16", "none")


def _run(arguments: Namespace) -> int:
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
    run=_run,
)  # fmt: skip
