"""Rows of text in colour as plain data; `housemap.tui.strips` makes of them what Textual draws."""

from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby
from operator import itemgetter
from typing import NamedTuple

from rich.cells import cell_len, chop_cells, set_cell_size

from housemap.model.text import NOTES_LENGTH, clean_text

Hex = str
"""An sRGB colour as "#rrggbb" in lower case."""


class Ink(NamedTuple):
    """How text looks; None leaves the terminal's own colour."""

    fg: Hex | None = None
    bg: Hex | None = None
    bold: bool = False
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


# Text from a house made fit for a row: nothing but printable characters, cut by cells.


@lru_cache(maxsize=8192)
def plain(text: str) -> str:
    """Text without control or hidden characters, on one line, single spaces between words."""
    return clean_text(text, NOTES_LENGTH)


def cut(text: str, width: int, more: str = "…") -> str:
    """`plain` text in at most `width` cells, with `more` at the end where some was left out."""
    text = plain(text)
    if cell_len(text) <= width:
        return text
    room = width - cell_len(more)
    return set_cell_size(text, room).rstrip() + more if room > 0 else set_cell_size(text, width)


def fit(text: str, width: int, more: str = "…") -> str:
    """`cut`, then filled with spaces to exactly `width` cells."""
    return set_cell_size(cut(text, width, more), max(width, 0))


def wrap(text: str, width: int) -> list[str]:
    """Lines of at most `width` cells, broken between words where that is possible."""
    lines = [""]
    for word in plain(text).split(" "):
        joined = f"{lines[-1]} {word}".strip()
        if cell_len(joined) <= width:
            lines[-1] = joined
            continue
        if lines[-1]:
            lines.append("")
        *full, lines[-1] = [*filter(None, chop_cells(word, max(width, 1)))] or [""]
        lines[-1:-1] = full
    return lines


# A sheet of cells to draw on before it becomes rows of runs.

Cell = tuple[str, Ink]
"""One character and its look; the cell after a wide character holds "" instead."""


class Stamp(NamedTuple):
    """Text laid over the cells of one row."""

    column: int
    row: int
    text: str
    ink: Ink

    @property
    def width(self) -> int:
        return cell_len(self.text)


def lay_over(cells: list[Cell], stamps: Iterable[Stamp]) -> list[Cell]:
    """The row of cells with stamps on it; what hangs over an end is left out."""
    cells = list(cells)
    for stamp in stamps:
        column = stamp.column
        for char in stamp.text:
            width = cell_len(char)
            if column >= 0 and column + width <= len(cells):
                _put(cells, column, char, width, stamp.ink)
            column += width
    return cells


def _put(cells: list[Cell], column: int, char: str, width: int, ink: Ink) -> None:
    """Put one character; what is left of a wide one that it covers in part becomes a space."""
    if width == 0:  # a mark that belongs to the letter before it
        if column and cells[column - 1][0]:
            cells[column - 1] = cells[column - 1][0] + char, ink
        return
    if not cells[column][0]:
        cells[column - 1] = " ", cells[column - 1][1]
    after = column + width
    if after < len(cells) and not cells[after][0]:
        cells[after] = " ", cells[after][1]
    cells[column] = char, ink
    if width > 1:
        cells[column + 1] = "", ink


def runs_of(cells: Iterable[Cell]) -> Row:
    """The cells as few runs as there are changes of ink."""
    return tuple(
        Run("".join(char for char, _ in group), ink)
        for ink, group in groupby(cells, key=itemgetter(1))
    )
