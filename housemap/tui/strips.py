"""How rows of runs become what Textual draws."""

from functools import lru_cache

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from housemap.tui.render.runs import PLAIN, Hex, Ink, Row


def strip_of(row: Row, width: int, fill: Ink = PLAIN) -> Strip:
    """What Textual draws: the row, filled or cut to `width` cells."""
    strip = Strip([Segment(run.text, rich_style(run.ink)) for run in row])
    return strip.adjust_cell_length(width, rich_style(fill))


def full_strip(row: Row, width: int) -> Strip:
    """What Textual draws of a row that is known to take `width` cells."""
    return Strip([Segment(run.text, rich_style(run.ink)) for run in row], width)


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
