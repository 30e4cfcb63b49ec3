"""Where windows stand on the map: the cells of their walls."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from housemap.model.house import House, Point, Room, Window
from housemap.model.shape import wall_of
from housemap.plan.floor_plan import Plan
from housemap.tui.render.edges import Place, cells_beside, edge_of_wall
from housemap.tui.render.frame import Frame
from housemap.tui.render.grid import Grid

AGAINST = ("n", "w")
"""Walls whose start is the end of their edge: outlines run against the clock."""


class Pane(NamedTuple):
    """A window on the map."""

    across: bool
    """Whether its wall runs across (west to east) rather than up."""
    cells: tuple[Place, ...]
    """In the port, of its own room."""


def panes_of(
    house: House, plan: Plan, rooms: Sequence[str], frame: Frame, grid: Grid
) -> Mapping[str, tuple[Pane, ...]]:
    """The windows of each room that has some on the map; a room without measures shows none."""
    found = {
        room: tuple(_panes(house.rooms[room], plan.rooms[room].outline_m, number, frame, grid))
        for number, room in enumerate(rooms)
        if house.rooms[room].windows
    }
    return {room: panes for room, panes in found.items() if panes}


def _panes(
    room: Room, outline_m: Sequence[Point], number: int, frame: Frame, grid: Grid
) -> Iterator[Pane]:
    corners = frame.snapped(outline_m)
    for window in room.windows.values():
        edge, wall = edge_of_wall(room, window.wall), wall_of(room, window.wall)
        if edge is None or wall is None:
            continue
        start, end = corners[edge], corners[(edge + 1) % len(corners)]
        across = abs(end[0] - start[0]) >= abs(end[1] - start[1])
        axis, offset = (0, grid.port.column) if across else (1, grid.port.row)
        ends = (end, start) if window.wall in AGAINST else (start, end)
        low, high = _stretch(window, wall.length_m, ends[0][axis], ends[1][axis])
        cells = tuple(
            cell
            for cell in cells_beside(start, end, grid.port)
            if low <= cell[axis] + offset < high and grid.at(*cell) == number
        )
        if cells:
            yield Pane(across, cells)


def _stretch(window: Window, length_m: float, start: int, end: int) -> tuple[int, int]:
    """A window's first cell along its wall, and the cell after its last; never a corner.

    `start`, `end`: of the wall, in cells.
    """
    low, high = sorted(
        start + (end - start) * along_m / length_m
        for along_m in (window.along_m, window.along_m + window.width_m)
    )
    first, last = min(start, end) + 1, max(start, end) - 1
    begin = min(max(round(low), first), last - 1)
    return begin, min(max(round(high), begin + 1), last)
