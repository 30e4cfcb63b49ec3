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
                cells[column] = (char, stamp.ink)
                if width > 1:
                    cells[column + 1] = ("", stamp.ink)
            column += width
    return cells


def runs_of(cells: Iterable[Cell]) -> Row:
    """The cells as few runs as there are changes of ink."""
    return tuple(
        Run("".join(char for char, _ in group), ink)
        for ink, group in groupby(cells, key=itemgetter(1))
    )
