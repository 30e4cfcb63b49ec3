"""The cells of the map along the walls of a room."""

from collections.abc import Iterator, Sequence

from housemap.model.house import House, Room
from housemap.tui.render.grid import Grid, Port

Place = tuple[int, int]
"""Column and row of a cell."""

COMPASS_EDGES = {"s": 0, "e": 1, "n": 2, "w": 3}
"""Which edge of a room's outline each wall of a room with a size is."""

ACCENT_COLUMNS = 2
"""How far an accent wall reaches into a room on an upright wall."""


def accent_cells(
    house: House, rooms: Sequence[str], outlines: Sequence[Sequence[Place]], grid: Grid
) -> Iterator[tuple[Place, str]]:
    """Every cell that an accent wall colours, with the wall."""
    for number, room_id in enumerate(rooms):
        room = house.rooms[room_id]
        for wall in room.accents:
            edge = edge_of_wall(room, wall)
            if edge is not None and edge < len(outlines[number]):
                corner = outlines[number][edge]
                end = outlines[number][(edge + 1) % len(outlines[number])]
                for cell in cells_beside(corner, end, grid.port, ACCENT_COLUMNS):
                    if grid.at(*cell) == number:
                        yield cell, wall


def edge_of_wall(room: Room, wall: str) -> int | None:
    """Which edge of its outline a wall is."""
    if room.outline_m is None:
        return COMPASS_EDGES.get(wall)
    return int(wall) if wall.isdecimal() else None


def cells_beside(start: Place, end: Place, port: Port, depth: int = 1) -> Iterator[Place]:
    """The cells of the port along an edge, on its inner side: outlines run against the clock.

    `depth`: how many columns of them beside an upright edge.
    """
    (x0, y0), (x1, y1) = start, end
    if abs(x1 - x0) >= abs(y1 - y0):
        row = (y0 - 1 if x1 > x0 else y0) - port.row
        columns = range(min(x0, x1) - port.column, max(x0, x1) - port.column)
        cells = [(column, row) for column in columns]
    else:
        first = (x0 - depth if y1 < y0 else x0) - port.column
        rows = range(min(y0, y1) - port.row, max(y0, y1) - port.row)
        cells = [(first + k, row) for row in rows for k in range(depth)]
    for column, row in cells:
        if 0 <= column < port.columns and 0 <= row < port.rows:
            yield column, row
