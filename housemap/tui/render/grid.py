"""Which cell of the map belongs to which room, and on which sides of it a wall stands."""

from collections.abc import Iterator, Mapping, Sequence
from math import ceil
from typing import NamedTuple

N, E, S, W, NE, SE, SW, NW = 1, 2, 4, 8, 16, 32, 64, 128
"""A wall on that side of a cell; the four corners count where neither side beside them has one."""

GROUND = -1


class Port(NamedTuple):
    """The part of the frame that is on the screen: its first cell and its size."""

    column: int
    row: int
    columns: int
    rows: int


class Grid(NamedTuple):
    """The cells of a port. `owner` has a margin of one cell all round: see `at`."""

    port: Port
    owner: tuple[list[int], ...]

    def at(self, column: int, row: int) -> int:
        """The room (its number, or GROUND) at a cell of the port, or one beside it."""
        return self.owner[row + 1][column + 1]


def grid_of(outlines: Sequence[Sequence[tuple[int, int]]], port: Port) -> Grid:
    """Fill each outline (corners of cells in the frame) with its number; later ones lie on top."""
    owner = tuple([GROUND] * (port.columns + 2) for _ in range(port.rows + 2))
    for number, outline in enumerate(outlines):
        for row, start, end in _spans(outline, port):
            owner[row][start:end] = [number] * (end - start)
    return Grid(port, owner)


def _spans(outline: Sequence[tuple[int, int]], port: Port) -> Iterator[tuple[int, int, int]]:
    """Rows of the outline with the columns inside it, counted from the margin's corner."""
    left, top = port.column - 1, port.row - 1
    low = max(min(y for _, y in outline) - top, 0)
    high = min(max(y for _, y in outline) - top, port.rows + 2)
    for row in range(low, high):
        crossings = sorted(_crossings(outline, row + top + 0.5))
        for start, end in zip(crossings[::2], crossings[1::2], strict=True):
            first = max(ceil(start - left - 0.5), 0)
            last = min(ceil(end - left - 0.5), port.columns + 2)
            if first < last:
                yield row, first, last


def _crossings(outline: Sequence[tuple[int, int]], y: float) -> Iterator[float]:
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y0 < y) != (y1 < y):
            yield x0 + (y - y0) / (y1 - y0) * (x1 - x0)


Gaps = Mapping[tuple[int, int], int]
"""By cell (column, row): the sides on which an opening leaves no wall."""


def walls_of(grid: Grid, gaps: Gaps) -> list[list[int]]:
    """For each cell of the port, the sides with a wall; 0 on the ground and inside a room."""
    rows = []
    for row in range(grid.port.rows):
        above, line, below = grid.owner[row : row + 3]
        rows.append([_sides(above, line, below, i) for i in range(1, grid.port.columns + 1)])
    for (column, row), sides in gaps.items():
        rows[row][column] &= ~_with_corners(sides)
    return rows


def _sides(above: list[int], line: list[int], below: list[int], i: int) -> int:
    own = line[i]
    if own == GROUND:
        return 0
    sides = (
        (N if above[i] != own else 0)
        | (E if line[i + 1] != own else 0)
        | (S if below[i] != own else 0)
        | (W if line[i - 1] != own else 0)
    )
    return sides or _corners(above, below, i, own)


def _corners(above: list[int], below: list[int], i: int, own: int) -> int:
    return (
        (NE if above[i + 1] != own else 0)
        | (SE if below[i + 1] != own else 0)
        | (SW if below[i - 1] != own else 0)
        | (NW if above[i - 1] != own else 0)
    )


def _with_corners(sides: int) -> int:
    """The sides and the corners that touch them."""
    touching = ((N, NE | NW), (E, NE | SE), (S, SE | SW), (W, NW | SW))
    return sides | sum({corner for side, corner in touching if sides & side})
