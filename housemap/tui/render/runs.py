"""Rows of text in colour as plain data; `housemap.tui.strips` makes of them what Textual draws."""

from collections.abc import Iterable
from typing import NamedTuple

from rich.cells import cell_len

Hex = str
"""An sRGB colour as "#rrggbb" in lower case."""


class Ink(NamedTuple):
    """How text looks; None leaves the terminal's own colour."""

    fg: Hex | None = None
    bg: Hex | None = None
    bold: bool = False
    underline: bool = False
    reverse: bool = False


class Run(NamedTuple):
    """Text of one look; every character of it is printable."""

    text: str
    ink: Ink


Row = tuple[Run, ...]

PLAIN = Ink()


def width_of(row: Iterable[Run]) -> int:
    """In cells: some characters take two."""
    return sum(cell_len(run.text) for run in row)


def text_of(rows: Iterable[Row]) -> str:
    """The rows without their colours, one line each."""
    return "\n".join("".join(run.text for run in row).rstrip() for row in rows)
