"""Which cell of the map belongs to which room, and on which sides of it a wall stands."""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from itertools import chain, groupby, pairwise
from math import ceil
from typing import NamedTuple, TypeVar

from housemap.model.frozen import frozen
from housemap.model.geometry import minus, plus, scaled, stretches, wall_of
from housemap.model.house import House, Opening, Point, Room, Window
from housemap.plan.floor_plan import PlacedOpening, Plan

Place = tuple[int, int]
"""Column and row of a cell."""
P = TypeVar("P")

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
    columns, rows = port.columns + 2, port.rows + 2
    owner = tuple([GROUND] * columns for _ in range(rows))
    for number, outline in enumerate(outlines):
        placed = [(x - port.column + 1, y - port.row + 1) for x, y in outline]
        for row, start, end in spans(placed, columns, rows):
            owner[row][start:end] = [number] * (end - start)
    return Grid(port, owner)


def spans(
    outline: Sequence[tuple[float, float]], columns: int, rows: int
) -> Iterator[tuple[int, int, int]]:
    """Of so many columns and rows, those with their middles in an outline: row, first, end."""
    low = max(ceil(min(y for _, y in outline) - 0.5), 0)
    high = min(ceil(max(y for _, y in outline) - 0.5), rows)
    for row in range(low, high):
        for start, end in stretches(outline, row + 0.5):
            first, last = max(ceil(start - 0.5), 0), min(ceil(end - 0.5), columns)
            if first < last:
                yield row, first, last


def walls_of(grid: Grid, gaps: Iterable[tuple[Place, int]]) -> list[list[int]]:
    """For each cell of the port, the sides with a wall; 0 on the ground and inside a room.

    `gaps`: cells, and the sides on which an opening leaves no wall, with the corners there.
    """
    rows = []
    for row in range(grid.port.rows):
        above, line, below = grid.owner[row : row + 3]
        rows.append([_sides(above, line, below, i) for i in range(1, grid.port.columns + 1)])
    touching = ((N, NE | NW), (E, NE | SE), (S, SE | SW), (W, NW | SW))
    for (column, row), sides in gaps:
        for side, corners in touching:
            if sides & side:
                rows[row][column] &= ~(side | corners)
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
    return sides or (
        (NE if above[i + 1] != own else 0)
        | (SE if below[i + 1] != own else 0)
        | (SW if below[i - 1] != own else 0)
        | (NW if above[i - 1] != own else 0)
    )


# From plan metres to cells: lines of walls snapped to the grid, a cell twice as high as wide.

CELL_ASPECT = 2.0
"""Height of a cell over its width, in the usual fonts."""

LEAST_COLUMNS, LEAST_ROWS = 3, 1
"""No room is drawn smaller than this, however small the map."""


class Axis(NamedTuple):
    """One axis of the plan: wall lines in metres, ascending, and the cell where each is drawn."""

    lines_m: tuple[float, ...]
    cells: tuple[int, ...]

    @property
    def length(self) -> int:
        return self.cells[-1]

    def at(self, value_m: float) -> float:
        """Where a place between lines is drawn, in cells."""
        i = min(max(bisect_right(self.lines_m, value_m), 1), len(self.lines_m) - 1)
        low_m, high_m = self.lines_m[i - 1], self.lines_m[i]
        low, high = self.cells[i - 1], self.cells[i]
        part = min(max((value_m - low_m) / (high_m - low_m), 0.0), 1.0)
        return low + part * (high - low)


class Frame(NamedTuple):
    """How one level is drawn; rows run from north (0) to south."""

    x: Axis
    y: Axis
    """Of northings turned round: metres to the south."""
    scale: float
    """Rows a metre."""

    @property
    def columns(self) -> int:
        return self.x.length

    @property
    def rows(self) -> int:
        return self.y.length

    def at(self, point: Point) -> tuple[float, float]:
        """Column and row of a point of the plan."""
        return self.x.at(point[0]), self.y.at(-point[1])

    def snapped(self, outline_m: Sequence[Point]) -> list[tuple[int, int]]:
        """Draw an outline with its corners at corners of cells."""
        return [(round(x), round(y)) for x, y in map(self.at, outline_m)]


def frame_of(outlines_m: Sequence[Sequence[Point]], scale: float, thickness_m: float) -> Frame:
    """Frame the rooms of a level at `scale` rows a metre; there must be at least one."""
    xs = [[x for x, _ in outline] for outline in outlines_m]
    ys = [[-y for _, y in outline] for outline in outlines_m]
    x = _axis(xs, scale * CELL_ASPECT, LEAST_COLUMNS, thickness_m)
    return Frame(x, _axis(ys, scale, LEAST_ROWS, thickness_m), scale)


def fitting_frame(
    outlines_m: Sequence[Sequence[Point]], columns: int, rows: int, thickness_m: float
) -> Frame:
    """The largest frame within `columns` x `rows`; where none fits, one that reaches beyond."""
    width_m = _extent(x for outline in outlines_m for x, _ in outline)
    height_m = _extent(y for outline in outlines_m for _, y in outline)
    largest = max(min(columns / CELL_ASPECT / width_m, rows / height_m), 0.01)
    for step in range(12):
        frame = frame_of(outlines_m, largest * 0.93**step, thickness_m)
        if frame.columns <= columns and frame.rows <= rows:
            return frame
    return frame_of(outlines_m, largest, thickness_m)


def enlarged_frame(
    outlines_m: Sequence[Sequence[Point]], fitting: Frame, factor: float, thickness_m: float
) -> Frame:
    """The frame of a level so many times as large as the fitting one.

    Counted from the scale at which half of the rooms are wider than the least, where that is more.
    """
    widths_m = sorted(_extent(x for x, _ in outline) for outline in outlines_m)
    least = LEAST_COLUMNS / CELL_ASPECT / widths_m[len(widths_m) // 2]
    return frame_of(outlines_m, max(fitting.scale, least) * factor, thickness_m)


def _extent(values: Iterable[float]) -> float:
    found = [*values]
    return max(max(found) - min(found), 0.1)


def _axis(rooms_m: Sequence[Sequence[float]], scale: float, least: int, thickness_m: float) -> Axis:
    """From the corners of each room."""
    clusters = _clusters(chain.from_iterable(rooms_m), thickness_m)
    line_of = {value: i for i, cluster in enumerate(clusters) for value in cluster}
    lines = [(cluster[0] + cluster[-1]) / 2 for cluster in clusters]
    starts: dict[int, set[int]] = {}
    for corners in rooms_m:
        starts.setdefault(line_of[max(corners)], set()).add(line_of[min(corners)])
    cells = [0]
    for i, line in enumerate(lines[1:], 1):
        ideal = round(scale * (line - lines[0]))
        needed = (cells[start] + least for start in starts.get(i, ()) if start < i)
        cells.append(max(ideal, cells[-1], *needed))
    if len(lines) == 1:
        lines, cells = [lines[0], lines[0] + 1.0], [0, least]
    return Axis(tuple(lines), tuple(cells))


def _clusters(corners_m: Iterable[float], thickness_m: float) -> list[list[float]]:
    """Corners not further apart than a wall is thick: they are drawn on one line."""
    values = sorted(set(corners_m))
    clusters = [values[:1]]
    for before, value in pairwise(values):
        near = value - before <= thickness_m * 1.05 + 1e-9
        if near and value - clusters[-1][0] <= thickness_m * 1.6 + 1e-9:
            clusters[-1].append(value)
        else:
            clusters.append([value])
    return clusters


# The cells of the map along the walls of a room.

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
            if ends := ends_of_wall(room, wall, outlines[number]):
                for cell in cells_beside(*ends, grid.port, ACCENT_COLUMNS):
                    if grid.at(*cell) == number:
                        yield cell, wall


def ends_of_wall(room: Room, wall: str, corners: Sequence[P]) -> tuple[P, P] | None:
    """Where a wall starts and ends, of an outline as it is drawn; None where it has no such wall.

    Against the clock, as the outline runs.
    """
    edge = int(wall) if wall.isdecimal() else COMPASS_EDGES.get(wall)
    if edge is None or edge >= len(corners) or (room.outline_m is None) == wall.isdecimal():
        return None
    return corners[edge], corners[(edge + 1) % len(corners)]


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


# Which part of an enlarged map is on the screen.

MARGIN = 3
"""Cells kept free round the selected room where there is place."""


def follow(
    frame: Frame, outline_m: Sequence[Point] | None, before: Port | None, columns: int, rows: int
) -> Port:
    """The port of that size which shows the selected room, a little move from `before`.

    A frame that fits stands in the middle.
    """
    corners = frame.snapped(outline_m) if outline_m else [(0, 0), (frame.columns, frame.rows)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    column = _start(frame.columns, columns, min(xs), max(xs), before.column if before else None)
    row = _start(frame.rows, rows, min(ys), max(ys), before.row if before else None)
    return Port(column, row, columns, rows)


def _start(whole: int, visible: int, low: int, high: int, before: int | None) -> int:
    """Where the port begins on one axis, to show `low` to `high` of a frame of `whole` cells."""
    if whole <= visible:
        return -((visible - whole) // 2)
    if before is None:
        ideal = (low + high - visible) // 2
    else:
        last = low - MARGIN
        first = high + MARGIN - visible
        ideal = min(max(before, min(first, last)), last) if first <= last else last
    return min(max(ideal, -1), whole - visible + 1)


# Where openings leave gaps in the walls of the map, and the sign of each kind.
#
# The kinds differ by sign, not by colour: a doorway has its leaf (across the gap when it stands
# shut), glass a double line, open plan a dotted line, stairs treads; a cased opening is a bare gap.

REACH = 2
"""How many cells from its line an opening looks for the edge of its room."""


@frozen()
class Gap:
    """An opening on the map: the cells beside it on either side, in pairs along the wall."""

    opening: Opening
    across: bool
    """Whether its wall runs across (west to east) rather than up."""
    near: tuple[Place, ...]
    """Cells of the first room, in the port."""
    far: tuple[Place, ...]
    sides: Mapping[Place, int]
    """By cell: those that are open."""

    @property
    def cells(self) -> tuple[Place, ...]:
        return *self.near, *self.far


def _gaps(
    house: House, plan: Plan, numbers: Mapping[str, int], frame: Frame, grid: Grid
) -> Iterator[tuple[str, Gap]]:
    """Of each opening between two rooms of this level, as far as it can be seen."""
    for key, opening in house.openings.items():
        placed, rooms = plan.openings.get(key), [numbers.get(room) for room in opening.between]
        if placed is None or None in rooms:
            continue
        (x0, y0), (x1, y1) = placed.near_m
        across = abs(x1 - x0) >= abs(y1 - y0)
        line, cells = _cells(placed, frame, grid, across=across)
        near: list[Place] = []
        far: list[Place] = []
        sides: dict[Place, int] = {}
        for along in cells:
            for number, cell, side in _pair(grid, rooms, along, line, across=across):
                (near if number == rooms[0] else far).append(cell)
                sides[cell] = sides.get(cell, 0) | side
        if sides:
            yield key, Gap(opening, across, tuple(near), tuple(far), sides)


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
    grid: Grid, numbers: Sequence[int | None], along: int, line: int, *, across: bool
) -> Iterator[tuple[int, Place, int]]:
    """The edge cells of both rooms at one place along the wall, and the side that is open."""
    before, after = (S, N) if across else (E, W)
    for step, side in ((-1, before), (1, after)):
        first = line - 1 if step < 0 else line
        for k in range(REACH):
            cell = (along, first + k * step) if across else (first + k * step, along)
            if not (0 <= cell[0] < grid.port.columns and 0 <= cell[1] < grid.port.rows):
                break
            if (number := grid.at(*cell)) in numbers:
                yield number, cell, side
                break


# Where windows stand on the map: the cells of their walls.

AGAINST = ("n", "w")
"""Walls whose start is the end of their edge: outlines run against the clock."""


class Pane(NamedTuple):
    """A window on the map."""

    across: bool
    """Whether its wall runs across (west to east) rather than up."""
    cells: tuple[Place, ...]
    """In the port, of its own room."""


def ends_of_window(
    room: Room, window: Window, corners: Sequence[Point]
) -> tuple[Point, Point] | None:
    """Where it starts and ends, of an outline as it is drawn; None of a room without measures."""
    ends, wall = ends_of_wall(room, window.wall, corners), wall_of(room, window.wall)
    if ends is None or wall is None:
        return None
    start, end = ends[::-1] if window.wall in AGAINST else ends
    run = scaled(minus(end, start), 1 / wall.length_m)
    first = plus(start, scaled(run, window.along_m))
    return first, plus(first, scaled(run, window.width_m))


def _panes(room: Room, corners: Sequence[Place], number: int, grid: Grid) -> Iterator[Pane]:
    """The windows of a room on the map, none of them in a corner."""
    for window in room.windows.values():
        ends = ends_of_wall(room, window.wall, corners)
        drawn = ends_of_window(room, window, corners)
        if ends is None or drawn is None:
            continue
        start, end = ends
        across = abs(end[0] - start[0]) >= abs(end[1] - start[1])
        axis, offset = (0, grid.port.column) if across else (1, grid.port.row)
        first, last = sorted(each[axis] for each in ends)
        low, high = sorted(round(each[axis]) for each in drawn)
        begin = min(max(low, first + 1), last - 2)
        stop = min(max(high, begin + 1), last - 1)
        cells = tuple(
            cell
            for cell in cells_beside(start, end, grid.port)
            if begin <= cell[axis] + offset < stop and grid.at(*cell) == number
        )
        if cells:
            yield Pane(across, cells)


# The map of one level without its colours: kept while only paints or names change.


class Box(NamedTuple):
    """Cells of a room that are free for its label."""

    column: int
    row: int
    columns: int
    rows: int


@frozen()
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
    walls = walls_of(grid, (each for gap in gaps.values() for each in gap.sides.items()))
    signs = {cell for gap in gaps.values() for cell in gap.cells}
    boxes = {
        room: _free_box(grid, walls, number, signs) or _box_on_wall(grid, walls, number)
        for room, number in numbers.items()
    }
    panes = {
        room: tuple(_panes(house.rooms[room], outlines[number], number, grid))
        for room, number in numbers.items()
    }
    return Geometry(
        rooms,
        frame,
        grid,
        walls,
        gaps,
        {room: box for room, box in boxes.items() if box},
        dict(accent_cells(house, rooms, outlines, grid)),
        _cells_by_room(grid, rooms),
        {room: found for room, found in panes.items() if found},
    )


def _cells_by_room(grid: Grid, rooms: Sequence[str]) -> Mapping[str, frozenset[Place]]:
    cells: dict[int, list[Place]] = {}
    for row in range(grid.port.rows):
        for column, number in enumerate(grid.owner[row + 1][1:-1]):
            if number != GROUND:
                cells.setdefault(number, []).append((column, row))
    return {rooms[number]: frozenset(own) for number, own in cells.items()}


# Where a label goes

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
    middle = (min(runs) + max(runs)) / 2 if runs else 0.0

    def worth(box: Box) -> tuple[float, float]:
        wide = min(box.columns, WIDE_ENOUGH) * 3
        return wide + box.rows * 2, -abs(box.row + (box.rows - 1) / 2 - middle)

    return max(_boxes(runs), key=worth, default=None)


def _free_runs(
    grid: Grid, walls: Sequence[Sequence[int]], number: int, signs: set[Place]
) -> Iterator[tuple[int, tuple[int, int]]]:
    """By row, the longest run of cells of a room that stand clear of walls and signs."""
    for row in range(grid.port.rows):
        line = grid.owner[row + 1]
        if number not in line:
            continue
        best = _longest_run(
            own == number and not sides and (column, row) not in signs
            for column, (own, sides) in enumerate(zip(line[1:-1], walls[row], strict=True))
        )
        if 0 < best[1] - best[0] < NARROW_COLUMNS and line[best[1] + 1] == number:
            best = best[0], best[1] + 1
        if best[1] - best[0] >= FRAMED_COLUMNS:
            best = best[0] + 1, best[1] - 1
        if best[1] > best[0]:
            yield row, best


def _longest_run(free: Iterable[bool]) -> tuple[int, int]:
    """Where the longest run of what is free begins, and where it ends."""
    best, start = (0, 0), 0
    for is_free, run in groupby(free):
        end = start + sum(1 for _ in run)
        if is_free and end - start > best[1] - best[0]:
            best = start, end
        start = end
    return best


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


NUMBER_COLUMNS = 3
"""What a number and a mark take, in the place of a name."""


def _box_on_wall(grid: Grid, walls: Sequence[Sequence[int]], number: int) -> Box | None:
    """Of a room that has walls in all its cells: the middle of the wall along its top."""
    for row, sides in enumerate(walls):
        line = zip(grid.owner[row + 1][1:-1], sides, strict=True)
        start, end = _longest_run(own == number and not each & (E | W) for own, each in line)
        if start < end:
            columns = min(end - start, NUMBER_COLUMNS)
            return Box(start + (end - start - columns) // 2, row, columns, 1)
    return None
