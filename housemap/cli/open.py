"""`housemap` and `housemap FILE`: opens the program on the terminal."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from housemap import __version__
from housemap.cli.command import Command

PICTURES = ("auto", "ask", "kitty", "sixel", "blocks")
COLOURS = ("auto", "truecolor", "256", "16", "none")


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("file", nargs="?", metavar="FILE", type=Path, help="a house file")
    parser.add_argument("--color", choices=COLOURS, default="auto", help="colour depth to use")
    parser.add_argument(
        "--pictures",
        choices=PICTURES,
        default="auto",
        help="how the walk is drawn (default: by the terminal's name; ask: as it answers)",
    )
    parser.add_argument("--ascii", action="store_true", help="draw with ASCII characters alone")
    parser.add_argument("--no-mouse", action="store_true", help="leave the mouse to the terminal")
    parser.add_argument("--read-only", action="store_true", help="never write the file")
    parser.add_argument("--version", action="version", version=f"housemap {__version__}")


def _run(arguments: Namespace) -> int:
    from housemap.tui.opening import open_program  # noqa: PLC0415 - not for another command

    return open_program(arguments)


OPEN = Command(
    name="",
    summary="Plan the paint of a whole house: opens FILE, or a start screen without one.",
    examples=("housemap", "housemap house.toml", "housemap --read-only house.toml"),
    arguments=_arguments,
    run=_run,
)
