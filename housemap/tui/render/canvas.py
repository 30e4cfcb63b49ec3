"""A sheet of cells to draw on before it becomes rows of runs."""

from collections.abc import Iterable
from itertools import groupby
from operator import itemgetter
from typing import NamedTuple

from rich.cells import cell_len

from housemap.tui.render.runs import Ink, Row, Run

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
