"""The map in true pixels: hairlines for walls, every colour as it is; numpy.

It lies over the map in cells and leaves the cells free in which something is written, so that names
are the terminal's own letters. What lies where follows the cells, so that a click finds the same.
"""

import asyncio
from collections.abc import Callable, Iterator
from itertools import pairwise
from math import cos, hypot, pi, sin

import numpy as np
from numpy.typing import NDArray
from textual.widget import Widget

from housemap.model.geometry import Segment, dot, edges, middle, minus, plus, scaled, unit
from housemap.model.house import Opening, Point
from housemap.plan.pixels import Pixels, rgb_of
from housemap.tui.map.drawing import View, paths_of
from housemap.tui.map.layout import GROUND, ends_of_wall, ends_of_window
from housemap.tui.map.picture import RoomInks, Selected, accent_inks
from housemap.tui.pixel_layer import MAP, PixelLayer, cell_px
from housemap.tui.render.cells import Hex
from housemap.tui.render.other_eyes import rgb_seen_with
from housemap.tui.terminal import Drawing

Corners = tuple[Point, ...]
"""In pixels from the left and the top."""

WALL_PX, TRIM_PX, ACCENT_PX, FRAME_PX, LEAF_PX = 1.0, 3.0, 7.0, 2.0, 2.0
"""On each side of the line of a wall, and of an accent wall; of a selected room's frame; of a leaf
(our choice)."""
WITHIN_PX = 4.0
"""From the trim to the frame of the selected room."""
DASH_PX, STEP_PX, HATCH_PX, DOT_PX = 5.0, 20.0, 9, 4
ARC_STEPS = 10


def layer_over(
    widget: Widget, drawing: Drawing, drawn: Callable[[], tuple[Selected, View] | None]
) -> PixelLayer:
    """Draws a map over the widget that draws it in cells; `drawn` is what it shows."""

    async def draw(_: tuple[int, int]) -> Pixels | None:
        now = drawn()
        if now is None:
            return None
        return await asyncio.to_thread(MapInPixels(*now, cell_px(drawing)).pixels)

    return PixelLayer(widget, drawing, draw, MAP)


class MapInPixels:
    """One level of a house as drawn, in cells of so many pixels."""

    def __init__(self, drawn: Selected, view: View, cell_px: tuple[int, int]) -> None:
        self._drawn, self._view, self._scene = drawn, view, view.scene
        self._geometry, self._cell = drawn.picture.geometry, cell_px
        self._house, self._plan = view.scene.house, view.scene.plan
        columns, rows = self._geometry.port.columns, self._geometry.port.rows
        self._size = rows * cell_px[1], columns * cell_px[0]
        self._owner = np.full(self._size, GROUND, dtype=np.int16)
        self._rgb = np.zeros((*self._size, 3), dtype=np.uint8)

    def pixels(self) -> Pixels:
        """With a fourth channel, which is 0 where the cells are to be seen."""
        self._rooms()
        self._walls()
        self._openings()
        self._windows()
        self._sights()
        self._frame()
        return np.dstack([self._rgb, self._free_of_words()])

    # Where things are

    def _at(self, point: Point) -> Point:
        column, row = self._geometry.frame.at(point)
        port = self._geometry.port
        return (column - port.column) * self._cell[0], (row - port.row) * self._cell[1]

    def _outline(self, room: str) -> Corners:
        """As the cells are: along their edges, so that rooms that touch share a line."""
        port, (wide, high) = self._geometry.port, self._cell
        corners = self._geometry.frame.snapped(self._plan.rooms[room].outline_m)
        return tuple(((x - port.column) * wide, (y - port.row) * high) for x, y in corners)

    def _colour(self, colour: Hex | None) -> tuple[int, int, int]:
        rgb = rgb_of(colour or "#808080")
        return rgb_seen_with(self._scene.look.eyes, rgb) if self._scene.look.eyes else rgb

    def _fill(self, corners: Corners, colour: Hex | None, room: int | None = None) -> None:
        """Within a room alone where one is given by its number."""
        place, inside = filled(corners, self._size)
        if room is not None:
            inside &= self._owner[place] == room
        self._rgb[place][inside] = self._colour(colour)

    def _line(self, a: Point, b: Point, width: float, colour: Hex | None) -> None:
        self._fill(stroke(a, b, width), colour)

    # What is drawn

    def _rooms(self) -> None:
        picture = self._drawn.picture
        bodies = [self._colour(inks.body) for inks in picture.inks]
        for number, room in enumerate(self._geometry.rooms):
            place, inside = filled(self._outline(room), self._size)
            self._owner[place][inside] = number
        grounds = np.array([*bodies, self._colour(self._scene.look.greys.ground)], dtype=np.uint8)
        self._rgb[:] = grounds[self._owner]
        down, right = np.indices(self._size, sparse=True)
        for number, inks in enumerate(picture.inks):
            if inks.filler.strip():
                hatch = (down + right) % HATCH_PX == 0
                self._rgb[hatch & (self._owner == number)] = self._colour(
                    self._scene.look.greys.quiet
                )

    def _walls(self) -> None:
        look, picture = self._scene.look, self._drawn.picture
        for number, room in enumerate(self._geometry.rooms):
            corners = self._outline(room)
            for a, b in edges(corners):
                self._fill(stroke(a, b, 2 * TRIM_PX), picture.inks[number].trim, number)
            for wall, coat in self._accents(room, corners):
                self._fill(stroke(*wall, 2 * ACCENT_PX), coat.body, number)
        for room in self._geometry.rooms:
            for a, b in edges(self._outline(room)):
                self._line(a, b, 2 * WALL_PX, look.greys.ground)

    def _accents(
        self, room: str, corners: Corners
    ) -> Iterator[tuple[tuple[Point, Point], RoomInks]]:
        block = self._scene.blocks.get(room)
        for wall in block.accents if block else ():
            ends = ends_of_wall(self._house.rooms[room], wall, corners)
            if block and ends:
                yield ends, accent_inks(block, wall, self._scene.look)

    def _openings(self) -> None:
        """The floor of both rooms up to the middle of the wall, and the sign of the opening."""
        for key, gap in self._geometry.gaps.items():
            placed = self._plan.openings[key]
            sides = [self._in_wall(segment) for segment in (placed.near_m, placed.far_m)]
            line = middle(sides[0][0], sides[1][0]), middle(sides[0][1], sides[1][1])
            for room, (a, b) in zip(gap.opening.between, sides, strict=True):
                number = self._drawn.picture.numbers[room]
                body = self._drawn.picture.inks[number].body
                self._fill((a, b, line[1], line[0]), body, GROUND)
                self._fill(stroke(a, b, 2 * TRIM_PX + 1), body, number)
            self._sign(gap.opening, (sides[0], sides[1]), line)

    def _in_wall(self, segment: Segment) -> Segment:
        """Where an opening is drawn, on the line of its wall."""
        (x0, y0), (x1, y1) = map(self._at, segment)
        wide, high = self._cell
        if abs(x1 - x0) < 1:
            x0 = x1 = round(x0 / wide) * wide
        if abs(y1 - y0) < 1:
            y0 = y1 = round(y0 / high) * high
        return (x0, y0), (x1, y1)

    def _sign(self, opening: Opening, sides: tuple[Segment, Segment], line: Segment) -> None:
        """As on the map in cells: the kinds differ by their signs, not by colour."""
        a, b = line
        ink = self._ink_at(middle(*sides[0]))
        match opening.kind:
            case "doorway":
                blocks = filter(None, map(self._scene.blocks.get, opening.between))
                doors = (block.coat("doors").colour for block in blocks)
                colour = next(filter(None, doors), ink)
                if opening.door == "shut":
                    self._line(a, b, 2 * LEAF_PX, colour)
                else:
                    self._leaf(opening, sides, colour)
            case "open":
                for start, end in dashes(a, b):
                    self._line(start, end, WALL_PX, ink)
            case "glazed":
                for aside in (-2.0, 2.0):
                    self._line(*shifted(a, b, aside), WALL_PX, ink)
            case "stairs":
                for start, _ in dashes(a, b):
                    tread = stroke(start, plus(start, unit(minus(b, a))), STEP_PX)
                    self._fill(tread, ink)
            case "cased":
                return

    def _leaf(self, opening: Opening, sides: tuple[Segment, Segment], colour: Hex | None) -> None:
        """Open at a right angle, with the arc in which it swings; hinged as seen from the first
        room.
        """  # noqa: D205 - one sentence
        second = opening.between[1]
        run = unit(minus(sides[1][1], sides[1][0]))
        on = -run[1], run[0]
        beyond = plus(middle(*sides[1]), scaled(on, 2 * TRIM_PX))
        if self._owner_at(beyond) != self._drawn.picture.numbers[second]:
            on = run[1], -run[0]
        left_first = dot(run, (on[1], -on[0])) < 0
        goes_on = (opening.into or second) == second
        ends = sides[goes_on]
        hinge, other = ends if left_first == (opening.hinge != "right") else ends[::-1]
        away, along = on if goes_on else scaled(on, -1.0), minus(other, hinge)
        width = hypot(*along)
        turns = [pi / 2 * step / ARC_STEPS for step in range(ARC_STEPS + 1)]
        arc = [
            plus(hinge, plus(scaled(along, cos(t)), scaled(away, width * sin(t)))) for t in turns
        ]
        ink = self._ink_at(plus(hinge, scaled(away, width / 2)))
        for start, end in pairwise(arc):
            self._line(start, end, WALL_PX, ink)
        self._line(hinge, arc[-1], LEAF_PX, colour)

    def _windows(self) -> None:
        """A double line over the wall."""
        for room in self._geometry.rooms:
            corners = self._outline(room)
            for window in self._house.rooms[room].windows.values():
                if ends := ends_of_window(self._house.rooms[room], window, corners):
                    self._line(*ends, 2 * TRIM_PX, self._scene.look.greys.strong)
                    self._line(*ends, WALL_PX, self._scene.look.greys.ground)

    def _sights(self) -> None:
        """Dotted lines to the rooms that are seen; over what is seen of a floor, dots."""
        looking = self._view.looking
        for path in paths_of(self._geometry, self._plan, looking.room, looking.sights):
            points = [(x * self._cell[0], y * self._cell[1]) for x, y in path]
            for a, b in pairwise(points):
                for start, end in dashes(a, b):
                    x, y = middle(start, end)
                    cell = int(x // self._cell[0]), int(y // self._cell[1])
                    if cell not in self._drawn.picture.written:
                        self._line(start, end, WALL_PX, self._ink_at(start))
        if looking.standing and looking.standing.room in self._geometry.rooms:
            for outline in looking.standing.seen_m:
                place, inside = filled(tuple(map(self._at, outline)), self._size)
                down, right = (np.arange(each.start, each.stop) % DOT_PX == 0 for each in place)
                dots = inside & down[:, None] & right
                for number in np.unique(self._owner[place][dots]):
                    ink = self._drawn.picture.inks[number].text
                    self._rgb[place][dots & (self._owner[place] == number)] = self._colour(ink)

    def _frame(self) -> None:
        """Round the selected room, inside its trim."""
        room = self._drawn.room
        if room not in self._geometry.rooms:
            return
        number = self._drawn.picture.numbers[room]
        inner, outer = WITHIN_PX + TRIM_PX + FRAME_PX, WITHIN_PX + TRIM_PX
        mask = np.zeros(self._size, dtype=np.int8)
        for a, b in edges(self._outline(room)):
            for width, value in ((2 * inner, 1), (2 * outer, 2)):
                place, inside = filled(stroke(a, b, width), self._size)
                mask[place][inside] = np.maximum(mask[place][inside], value)
        ink = self._colour(self._drawn.picture.inks[number].text)
        self._rgb[(mask == 1) & (self._owner == number)] = ink

    def _free_of_words(self) -> NDArray[np.uint8]:
        """0 over the cells of every word, 255 elsewhere."""
        port = self._geometry.port
        shown = np.full((port.rows, port.columns), 255, dtype=np.uint8)
        for stamp in self._drawn.words():
            row = shown[stamp.row] if 0 <= stamp.row < port.rows else shown[:0]
            row[max(stamp.column, 0) : max(stamp.column + stamp.width, 0)] = 0
        return shown.repeat(self._cell[1], axis=0).repeat(self._cell[0], axis=1)

    def _owner_at(self, at: Point) -> int:
        x, y = int(at[0]), int(at[1])
        inside = 0 <= y < self._size[0] and 0 <= x < self._size[1]
        return int(self._owner[y, x]) if inside else GROUND

    def _ink_at(self, at: Point) -> Hex | None:
        """What stands out from the room at a place."""
        number = self._owner_at(at)
        look = self._scene.look
        return self._drawn.picture.inks[number].text if number != GROUND else look.greys.text


# Plane figures in pixels.


def filled(
    corners: Corners, size: tuple[int, int]
) -> tuple[tuple[slice, slice], NDArray[np.bool_]]:
    """The pixels whose centres lie in a polygon: rows and columns round it, and which of them."""
    x, y = np.array(corners).T
    low_x, high_x = (int(np.clip(np.floor(v), 0, size[1])) for v in (x.min(), x.max() + 1))
    low_y, high_y = (int(np.clip(np.floor(v), 0, size[0])) for v in (y.min(), y.max() + 1))
    rows = np.arange(low_y, high_y) + 0.5
    turns = np.zeros((len(rows), high_x - low_x + 1), dtype=np.int16)
    for (x0, y0), (x1, y1) in edges(corners):
        met = np.flatnonzero((y0 < rows) != (y1 < rows))
        if len(met):
            at = x0 + (rows[met] - y0) * (x1 - x0) / (y1 - y0)
            first = np.clip(np.ceil(at - 0.5) - low_x, 0, high_x - low_x).astype(np.intp)
            turns[met, first] += 1
    inside = np.cumsum(turns, axis=1)[:, :-1] % 2 == 1
    return (slice(low_y, high_y), slice(low_x, high_x)), inside


def stroke(a: Point, b: Point, width: float) -> Corners:
    """A line so many pixels wide."""
    aside = scaled((-(b[1] - a[1]), b[0] - a[0]), width / 2 / max(hypot(*minus(b, a)), 1e-9))
    return plus(a, aside), plus(b, aside), minus(b, aside), minus(a, aside)


def shifted(a: Point, b: Point, aside: float) -> tuple[Point, Point]:
    """A line so many pixels to its right."""
    run = unit(minus(b, a))
    by = scaled((-run[1], run[0]), aside)
    return plus(a, by), plus(b, by)


def dashes(a: Point, b: Point) -> Iterator[tuple[Point, Point]]:
    """Along a line, every second stretch."""
    count = max(int(hypot(*minus(b, a)) / DASH_PX), 1)
    step = scaled(minus(b, a), 1 / count)
    for k in range(0, count, 2):
        start = plus(a, scaled(step, k))
        yield start, plus(start, step)
