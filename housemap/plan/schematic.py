"""Schematic places: blocks set beside what they open into, so that every room is on the map.

Free places are found among the boxes on a level by a coarse grid.
"""

from collections import defaultdict, deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain, count
from math import ceil
from typing import NamedTuple

from housemap.model.geometry import (
    Box,
    Polygon,
    box_of,
    box_points,
    floor_outline_m,
    middle,
    minus,
    moved,
    plus,
    wall_in,
)
from housemap.model.house import House, Opening, Point
from housemap.plan.floor_plan import OPPOSITE, compass_side, sides
from housemap.plan.house_graph import HouseGraph

CELL_M = 4.0
_SLACK_M = 1e-6


class Floor:
    """The boxes taken on one level, by the cells of a coarse grid."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[Box]] = defaultdict(list)

    def take(self, box: Box) -> None:
        for cell in cells(box):
            self._cells[cell].append(box)

    def is_free(self, box: Box) -> bool:
        return not any(
            meet(box, other) for cell in cells(box) for other in self._cells.get(cell, ())
        )

    def free_spot(
        self, size: Point, beside: Box, sides: str, gap_m: float, door: Point | None = None
    ) -> Point:
        """The south-west corner for a block.

        It lies before a door in the first of `sides` (such as "nsew"), or touches the first of them
        that has room for it, or else lies as near round `beside` as there is room.
        """
        before = _before(size, beside, sides[0], gap_m, door) if door and sides else ()
        touching = (before, *(_at_side(size, beside, side, gap_m) for side in sides))
        around = _round(size, beside, gap_m)
        pad = gap_m - _SLACK_M

        def padded(x: float, y: float) -> Box:
            return x - pad, y - pad, x + size[0] + pad, y + size[1] + pad

        return next(spot for spot in chain(*touching, around) if self.is_free(padded(*spot)))


def cells(box: Box) -> Iterator[tuple[int, int]]:
    west, south, east, north = (int(edge // CELL_M) for edge in box)
    for column in range(west, east + 1):
        for row in range(south, north + 1):
            yield column, row


def meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _before(size: Point, beside: Box, side: str, gap_m: float, door: Point) -> Iterator[Point]:
    """Corners of blocks with a door of `beside` amid their side, or near either end of it."""
    for share in (0.5, 0.2, 0.8):
        west, south = door[0] - share * size[0], door[1] - share * size[1]
        yield _touching(size, beside, side, gap_m, (west, south))


def _at_side(size: Point, beside: Box, side: str, gap_m: float) -> Iterator[Point]:
    """Corners of blocks that touch one side, from its start in steps of the block."""
    axis = 0 if side in "ns" else 1
    for along in _steps(beside[axis], beside[axis + 2], size[axis], gap_m):
        yield _touching(size, beside, side, gap_m, (along, along))


def _touching(size: Point, beside: Box, side: str, gap_m: float, start: Point) -> Point:
    """The corner of a block that is moved across a side until it touches it."""
    west, south, east, north = beside
    return {
        "n": (start[0], north + gap_m),
        "s": (start[0], south - gap_m - size[1]),
        "e": (east + gap_m, start[1]),
        "w": (west - gap_m - size[0], start[1]),
    }[side]


def _steps(start: float, end: float, length: float, gap_m: float) -> Iterator[float]:
    """Where blocks of a length begin along a side; the last one may reach half over its end."""
    yield start
    for k in count(1):
        at = start + k * (length + gap_m)
        if at + length / 2 > end:
            return
        yield at


def _round(size: Point, beside: Box, gap_m: float) -> Iterator[Point]:
    """Corners on the block itself, then on ever wider rings round it, without end."""
    step = size[0] + gap_m, size[1] + gap_m
    for ring in count():
        reach = range(-ring, ring + 1)
        rim = ((i, j) for i in reach for j in reach if max(abs(i), abs(j)) == ring)
        for i, j in sorted(rim, key=lambda at: (abs(at[0]) + abs(at[1]), at)):
            yield beside[0] + i * step[0], beside[1] + j * step[1]


BLOCK_M: Point = (3.2, 2.6)
"""A room without measures is drawn this big (our choice)."""
ROUND_A_BLOCK = 4
"""A block with more neighbours is drawn as long as a hall, so that all can lie along it."""
GAP_M = 0.1


class Block(NamedTuple):
    """Rooms that move together: where each one's origin lies from the block's."""

    level: int
    origins: Mapping[str, Point]


def floors(house: House, graph: HouseGraph) -> dict[str, Polygon]:
    """The outline of each room from its own origin: its own, or a block of ours."""

    def block(neighbours: int) -> Polygon:
        width, depth = BLOCK_M
        if neighbours > ROUND_A_BLOCK:
            width, depth = (width + GAP_M) * ceil((neighbours - 2) / 2), depth / 2
        return box_points((0.0, 0.0, width, depth))

    rooms = house.rooms.items()
    return {key: floor_outline_m(room) or block(len(graph.linked(key))) for key, room in rooms}


class Settler:
    """Finds a place for every block, the ones beside placed rooms first."""

    def __init__(
        self, house: House, graph: HouseGraph, outlines: Mapping[str, Polygon],
        placed: dict[str, Point],
    ) -> None:  # fmt: skip
        self._house = house
        self._graph = graph
        self._outlines = outlines
        self.placed = placed
        self._levels: dict[int, Floor] = defaultdict(Floor)
        self._first: dict[int, Box] = {}
        for room in placed:
            self._take(room)

    def settle(self, blocks: Sequence[Block]) -> None:
        block_of = {room: block for block in blocks for room in block.origins}
        self._spread(self.placed, block_of)
        for block in blocks:
            room = next(iter(block.origins))
            if room not in self.placed:
                beside = self._first.get(block.level, (0.0, 0.0, 0.0, 0.0))
                self._put(block, beside, "")
                self._spread(block.origins, block_of)

    def _spread(self, rooms: Iterable[str], block_of: Mapping[str, Block]) -> None:
        queue = deque(rooms)
        while queue:
            here = queue.popleft()
            for there, opening in self._graph.linked(here).items():
                if there not in self.placed:
                    block = block_of[there]
                    self._put_beside(block, there, here, opening)
                    queue.extend(block.origins)

    def _put_beside(self, block: Block, room: str, anchor: str, opening: Opening | None) -> None:
        box = self._box(anchor)
        if block.level != self._house.rooms[anchor].level:
            self._put(block, box, "")
            return
        west, south, east, north = box
        order, door, rooms = (
            "nsew" if east - west >= north - south else "ewns",
            None,
            self._house.rooms,
        )
        if opening:
            own = sides(self._house, opening)[opening.between.index(anchor)]
            door = plus(middle(*own.segment_m), self.placed[anchor]) if own else None
            back = compass_side(rooms[room], wall_in(opening, room))
            out = compass_side(rooms[anchor], wall_in(opening, anchor))
            order = (out or (OPPOSITE[back] if back else "")) + order
        self._put(block, box, order, door)

    def _put(self, block: Block, beside: Box, order: str, door: Point | None = None) -> None:
        """Places the block; on another level or alone, over `beside` if it is free there."""
        floors = (moved(self._outlines[key], origin) for key, origin in block.origins.items())
        west, south, east, north = box_of(tuple(chain.from_iterable(floors)))
        floor = self._levels[block.level]
        spot = floor.free_spot((east - west, north - south), beside, order, GAP_M, door)
        shift = minus(spot, (west, south))
        for key, origin in block.origins.items():
            self.placed[key] = plus(origin, shift)
            self._take(key)

    def _take(self, room: str) -> None:
        box = self._box(room)
        level = self._house.rooms[room].level
        self._levels[level].take(box)
        self._first.setdefault(level, box)

    def _box(self, room: str) -> Box:
        return box_of(moved(self._outlines[room], self.placed[room]))
