"""Where openings leave gaps in the walls of the map, and the sign of each kind.

The kinds differ by sign, not by colour: a doorway has its leaf (across the gap when it stands
shut), glass a double line, open plan a dotted line, stairs treads; a cased opening is a bare gap.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from housemap.model.house import Opening
from housemap.plan.floor_plan import PlacedOpening
from housemap.tui.render.frame import Frame
from housemap.tui.render.grid import E, Grid, N, S, W

Place = tuple[int, int]
"""Column and row of a cell."""

REACH = 2
"""How many cells from its line an opening looks for the edge of its room."""


@dataclass(frozen=True, slots=True)
class Gap:
    """An opening on the map: the cells beside it on either side, in pairs along the wall."""

    opening: Opening
    across: bool
    """Whether its wall runs across (west to east) rather than up."""
    near: tuple[tuple[int, int], ...]
    """Cells of the first room, in the port."""
    far: tuple[tuple[int, int], ...]
    sides: dict[tuple[int, int], int] = field(default_factory=dict)

    @property
    def cells(self) -> tuple[tuple[int, int], ...]:
        return *self.near, *self.far


def gap_of(
    opening: Opening,
    placed: PlacedOpening | None,
    numbers: tuple[int, int],
    frame: Frame,
    grid: Grid,
) -> Gap | None:
    """The gap of an opening between two rooms on this level; None where it cannot be seen."""
    if placed is None:
        return None
    (x0, y0), (x1, y1) = placed.near_m
    across = abs(x1 - x0) >= abs(y1 - y0)
    line, cells = _cells(placed, frame, grid, across=across)
    near: list[Place] = []
    far: list[Place] = []
    sides: dict[Place, int] = {}
    for along in cells:
        pair = _pair(grid, numbers, along, line, across=across)
        for number, cell, side in pair:
            (near if number == numbers[0] else far).append(cell)
            sides[cell] = sides.get(cell, 0) | side
    return Gap(opening, across, tuple(near), tuple(far), sides) if sides else None


def _cells(placed: PlacedOpening, frame: Frame, grid: Grid, *, across: bool) -> tuple[int, range]:
    """The wall's line (a border between cells) and the cells along it, in the port."""
    start, end = (frame.at(point) for point in placed.near_m)
    far_start, _ = (frame.at(point) for point in placed.far_m)
    axis = 0 if across else 1
    offset = (grid.port.column, grid.port.row)
    line = round((start[1 - axis] + far_start[1 - axis]) / 2) - offset[1 - axis]
    low, high = sorted((start[axis] - offset[axis], end[axis] - offset[axis]))
    first = round(low)
    return line, range(first, max(round(high), first + 1))


def _pair(
    grid: Grid, numbers: Sequence[int], along: int, line: int, *, across: bool
) -> Iterator[tuple[int, tuple[int, int], int]]:
    """The edge cells of both rooms at one place along the wall, and the side that is open."""
    before, after = (S, N) if across else (E, W)
    for step, side in ((-1, before), (1, after)):
        first = line - 1 if step < 0 else line
        for k in range(REACH):
            cell = (along, first + k * step) if across else (first + k * step, along)
            if not _on_port(grid, cell):
                break
            if (number := grid.at(*cell)) in numbers:
                yield number, cell, side
                break


def _on_port(grid: Grid, cell: tuple[int, int]) -> bool:
    return 0 <= cell[0] < grid.port.columns and 0 <= cell[1] < grid.port.rows
