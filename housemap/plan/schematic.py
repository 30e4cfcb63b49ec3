"""Schematic places: blocks set beside what they open into, so that every room is on the map."""

from collections import defaultdict, deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from housemap.model.house import House, Opening, Point, Room
from housemap.model.polygon import Box, Polygon, box_of, moved
from housemap.model.shape import floor_outline_m, wall_of
from housemap.plan.joints import outward, sides
from housemap.plan.spots import Floor
from housemap.plan.vectors import box_points, middle, minus, plus

BLOCK_M: Point = (3.2, 2.6)
"""A room without measures is drawn this big (our choice)."""
ROUND_A_BLOCK = 4
"""A block with more neighbours is drawn as long as a hall, so that all can lie along it."""
GAP_M = 0.1
_OPPOSITE = {"n": "s", "s": "n", "e": "w", "w": "e"}

Links = Mapping[str, Mapping[str, Opening | None]]


@dataclass(frozen=True, slots=True)
class Block:
    """Rooms that move together: where each one's origin lies from the block's."""

    level: int
    origins: Mapping[str, Point]


def links_of(house: House) -> Links:
    """What each room opens into, or sees by a declared sightline (None), in file order."""
    links: dict[str, dict[str, Opening | None]] = {room: {} for room in house.rooms}
    for opening in house.openings.values():
        a, b = opening.between
        links[a].setdefault(b, opening)
        links[b].setdefault(a, opening)
    for line in house.sightlines.values():
        a, b = line.between
        links[a].setdefault(b, None)
        links[b].setdefault(a, None)
    return links


def floors(house: House, links: Links) -> dict[str, Polygon]:
    """The outline of each room from its own origin: its own, or a block of ours."""
    return {
        key: floor_outline_m(room) or _block(len(links[key])) for key, room in house.rooms.items()
    }


def _block(neighbours: int) -> Polygon:
    width, depth = BLOCK_M
    if neighbours > ROUND_A_BLOCK:
        width, depth = (width + GAP_M) * ceil((neighbours - 2) / 2), depth / 2
    return box_points((0.0, 0.0, width, depth))


class Settler:
    """Finds a place for every block, the ones beside placed rooms first."""

    def __init__(
        self, house: House, links: Links, outlines: Mapping[str, Polygon], placed: dict[str, Point]
    ) -> None:
        self._house = house
        self._links = links
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
            for there, opening in self._links[here].items():
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
        order = "nsew" if east - west >= north - south else "ewns"
        first = opening and self._way_out(opening, anchor, room)
        door = self._door(opening, anchor) if opening else None
        self._put(block, box, first + order if first else order, door)

    def _door(self, opening: Opening, anchor: str) -> Point | None:
        """The middle of an opening whose place in the wall of `anchor` is measured."""
        own = sides(self._house, opening)[opening.between.index(anchor)]
        return plus(middle(*own.segment_m), self.placed[anchor]) if own else None

    def _way_out(self, opening: Opening, anchor: str, room: str) -> str | None:
        """The side of `anchor` that its wall, or the other room's, says the opening is on."""
        walls = dict(zip(opening.between, (opening.wall, opening.to_wall), strict=True))
        rooms = self._house.rooms
        if out := compass_side(rooms[anchor], walls[anchor]):
            return out
        back = compass_side(rooms[room], walls[room])
        return _OPPOSITE[back] if back else None

    def _put(self, block: Block, beside: Box, order: str, door: Point | None = None) -> None:
        """Places the block; on another level or alone, over `beside` if it is free there."""
        corners = [
            point
            for key, origin in block.origins.items()
            for point in moved(self._outlines[key], origin)
        ]
        west, south, east, north = box_of(tuple(corners))
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


def compass_side(room: Room, wall_key: str | None) -> str | None:
    """The letter of the compass that a wall faces most; None where it is not known."""
    if wall_key is None or wall_key in _OPPOSITE:
        return wall_key
    wall = wall_of(room, wall_key)
    if wall is None:
        return None
    x, y = outward(wall)
    if abs(x) > abs(y):
        return "e" if x > 0 else "w"
    return "n" if y > 0 else "s"
