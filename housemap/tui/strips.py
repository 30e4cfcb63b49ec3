"""How rows of runs become what Textual draws, in as many colours as the terminal has."""

from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING

from rich.color import Color, ColorType
from rich.color_triplet import ColorTriplet
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from housemap.tui.render.cells import PLAIN, Hex, Ink, Row
from housemap.tui.render.look import Eyes
from housemap.tui.terminal import Depth

if TYPE_CHECKING:
    from housemap.tui.few_colours import FewColours

_few: "FewColours | None" = None
"""The palette of a terminal that has few colours. One program has one terminal."""


_eyes: Eyes = ""
"""Whose eyes everything is drawn for. One program has one screen."""


def use_eyes(eyes: Eyes) -> None:
    global _eyes  # noqa: PLW0603 - one screen; whoever changes it has everything drawn again
    if eyes != _eyes:
        _eyes = eyes
        _forget()


def use_depth(depth: Depth) -> None:
    """Draw in the colours that the terminal has."""
    global _few  # noqa: PLW0603 - one terminal, settled once before anything is drawn
    if depth.name in {"256", "16"}:
        from housemap.tui.few_colours import FewColours  # noqa: PLC0415 - numpy, only where needed

        _few = FewColours(depth.name)
    else:
        _few = None
    _forget()


def show_together(paints: Iterable[Hex]) -> None:
    """Keep paints that are in view at once from looking the same on a terminal of few colours."""
    if _few is not None and _few.show_together(paints):
        _forget()


def _forget() -> None:
    rich_style.cache_clear()
    _rich_color.cache_clear()


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
    if not (ink.bold or ink.reverse):
        return plain
    return plain + Style(bold=ink.bold or None, reverse=ink.reverse or None)


@lru_cache(maxsize=16_384)
def _rich_color(colour: Hex | None) -> Color | None:
    if colour is None:
        return None
    if _eyes:
        from housemap.tui.render.other_eyes import seen_with  # noqa: PLC0415 - numpy, if wanted

        colour = seen_with(_eyes, colour)
    if _few is None:
        value = int(colour[1:], 16)
        return Color.from_rgb(value >> 16, value >> 8 & 255, value & 255)
    number = _few.entry(colour)
    kind = ColorType.STANDARD if number in range(16) else ColorType.EIGHT_BIT
    # With its triplet, so that Textual takes the number as it is.
    return Color(colour, kind, number, ColorTriplet(*_few.entries[number]))
