"""Rows of text in colour as plain data, and how they become what Textual draws."""

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from rich.cells import cell_len
from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

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


@lru_cache(maxsize=16_384)
def rich_style(ink: Ink) -> Style:
    plain = Style.from_color(_rich_color(ink.fg), _rich_color(ink.bg))
    if not (ink.bold or ink.underline or ink.reverse):
        return plain
    return plain + Style(
        bold=ink.bold or None, underline=ink.underline or None, reverse=ink.reverse or None
    )


@lru_cache(maxsize=16_384)
def _rich_color(colour: Hex | None) -> Color | None:
    if colour is None:
        return None
    value = int(colour[1:], 16)
    return Color.from_rgb(value >> 16, value >> 8 & 255, value & 255)


def width_of(row: Iterable[Run]) -> int:
    """In cells: some characters take two."""
    return sum(cell_len(run.text) for run in row)


def strip_of(row: Row, width: int, fill: Ink = PLAIN) -> Strip:
    """What Textual draws: the row, filled or cut to `width` cells."""
    strip = Strip([Segment(run.text, rich_style(run.ink)) for run in row])
    return strip.adjust_cell_length(width, rich_style(fill))


def full_strip(row: Row, width: int) -> Strip:
    """What Textual draws of a row that is known to take `width` cells."""
    return Strip([Segment(run.text, rich_style(run.ink)) for run in row], width)


def text_of(rows: Iterable[Row]) -> str:
    """The rows without their colours, one line each."""
    return "\n".join("".join(run.text for run in row).rstrip() for row in rows)
