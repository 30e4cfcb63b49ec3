"""The map of one level without its colours: kept while only paints or names change."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from housemap.model.house import House
from housemap.plan.floor_plan import Plan
from housemap.tui.render.edges import accent_cells
from housemap.tui.render.frame import Frame
from housemap.tui.render.grid import GROUND, Gaps, Grid, Port, grid_of, walls_of
from housemap.tui.render.openings import Gap, gap_of
from housemap.tui.render.windows import Pane, panes_of

Place = tuple[int, int]
"""Column and row of a cell."""


class Box(NamedTuple):
    """Cells of a room that are free for its label."""

    column: int
    row: int
    columns: int
    rows: int


@dataclass(frozen=True, slots=True)
class Geometry:
    """Where everything of a level is drawn in a port."""

    rooms: tuple[str, ...]
    """By number."""
    frame: Frame
    grid: Grid
    walls: list[list[int]]
    gaps: Mapping[str, Gap]
    """By opening."""
    boxes: Mapping[str, Box]
    accents: Mapping[Place, str]
    """By cell: the accent wall that colours it."""
    cells: Mapping[str, frozenset[Place]]
    """Of each room, as far as it lies in the port."""
    panes: Mapping[str, tuple[Pane, ...]] = field(default_factory=dict)
    """Its windows, by room."""

    @property
    def port(self) -> Port:
        return self.grid.port

    def room_at(self, column: int, row: int) -> str | None:
        number = self.grid.at(column, row)
        return None if number == GROUND else self.rooms[number]


def rooms_of_level(plan: Plan, level: int) -> tuple[str, ...]:
    return tuple(room for room, placed in plan.rooms.items() if placed.level == level)


def geometry_of(house: House, plan: Plan, level: int, frame: Frame, port: Port) -> Geometry:
    """Lay out a level (of at least one room) in a port of the frame."""
    rooms = rooms_of_level(plan, level)
    outlines = [frame.snapped(plan.rooms[room].outline_m) for room in rooms]
    grid = grid_of(outlines, port)
    numbers = {room: number for number, room in enumerate(rooms)}
    gaps = dict(_gaps(house, plan, numbers, frame, grid))
    walls = walls_of(grid, _open_sides(gaps.values()))
    signs = {cell for gap in gaps.values() for cell in gap.cells}
    boxes = {
        room: box
        for room, number in numbers.items()
        if (box := _free_box(grid, walls, number, signs))
    }
    accents = dict(accent_cells(house, rooms, outlines, grid))
    cells = _cells_by_room(grid, rooms)
    panes = panes_of(house, plan, rooms, frame, grid)
    return Geometry(rooms, frame, grid, walls, gaps, boxes, accents, cells, panes)


def _cells_by_room(grid: Grid, rooms: Sequence[str]) -> Mapping[str, frozenset[Place]]:
    cells: dict[int, list[Place]] = {}
    for row in range(grid.port.rows):
        for column, number in enumerate(grid.owner[row + 1][1:-1]):
            if number != GROUND:
                cells.setdefault(number, []).append((column, row))
    return {rooms[number]: frozenset(own) for number, own in cells.items()}


def _gaps(
    house: House, plan: Plan, numbers: Mapping[str, int], frame: Frame, grid: Grid
) -> Iterator[tuple[str, Gap]]:
    for opening_id, opening in house.openings.items():
        first, second = (numbers.get(room) for room in opening.between)
        if first is None or second is None:
            continue
        gap = gap_of(opening, plan.openings.get(opening_id), (first, second), frame, grid)
        if gap:
            yield opening_id, gap


def _open_sides(gaps: Iterable[Gap]) -> Gaps:
    open_sides: dict[Place, int] = {}
    for gap in gaps:
        for cell, sides in gap.sides.items():
            open_sides[cell] = open_sides.get(cell, 0) | sides
    return open_sides


# --- where a label goes

MOST_LABEL_ROWS = 4
NARROW_COLUMNS = 6
"""Columns below which a label may stand on the trim at its right."""
FRAMED_COLUMNS = 7
"""Columns between walls from which a label leaves one free at either end, for a frame."""
WIDE_ENOUGH = 14
"""Columns beyond which a label gains nothing."""


def _free_box(
    grid: Grid, walls: Sequence[Sequence[int]], number: int, signs: set[Place]
) -> Box | None:
    """The best place for a label: wide first, then high, then near the middle of the room."""
    runs = dict(_free_runs(grid, walls, number, signs))
    if not runs:
        return None
    middle = (min(runs) + max(runs)) / 2
    candidates = list(_boxes(runs))
    return max(
        candidates,
        key=lambda box: (
            min(box.columns, WIDE_ENOUGH) * 3 + box.rows * 2,
            -abs(box.row + (box.rows - 1) / 2 - middle),
        ),
    )


def _free_runs(
    grid: Grid, walls: Sequence[Sequence[int]], number: int, signs: set[Place]
) -> Iterator[tuple[int, tuple[int, int]]]:
    """By row, the longest run of cells of a room that stand clear of walls and signs."""
    for row in range(grid.port.rows):
        line = grid.owner[row + 1]
        if number not in line:
            continue
        best = (0, 0)
        start = None
        for column in range(grid.port.columns + 1):
            free = (
                column < grid.port.columns
                and line[column + 1] == number
                and not walls[row][column]
                and (column, row) not in signs
            )
            if free and start is None:
                start = column
            elif not free and start is not None:
                best = max(best, (start, column), key=lambda run: run[1] - run[0])
                start = None
        if 0 < best[1] - best[0] < NARROW_COLUMNS and line[best[1] + 1] == number:
            best = best[0], best[1] + 1
        if best[1] - best[0] >= FRAMED_COLUMNS:
            best = best[0] + 1, best[1] - 1
        if best[1] > best[0]:
            yield row, best


def _boxes(runs: Mapping[int, tuple[int, int]]) -> Iterator[Box]:
    """Every stack of up to MOST_LABEL_ROWS rows with the columns that all of them have."""
    for row in runs:
        start, end = runs[row]
        for rows in range(1, MOST_LABEL_ROWS + 1):
            if row + rows - 1 not in runs:
                break
            start = max(start, runs[row + rows - 1][0])
            end = min(end, runs[row + rows - 1][1])
            if end <= start:
                break
            yield Box(start, row, end - start, rows)
