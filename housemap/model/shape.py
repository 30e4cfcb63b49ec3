"""The floor of a measured room and its walls, in metres from the room's own origin.

The origin is the south-west corner of the room's box; an outline's points may be counted from
anywhere, and are moved so that their box starts there.
"""

from dataclasses import dataclass
from math import dist

from housemap.model.house import (
    DEFAULT_CASED_HEIGHT_M,
    DEFAULT_DOORWAY_HEIGHT_M,
    House,
    Opening,
    Point,
    Room,
)
from housemap.model.polygon import Polygon, box_of, edges, moved, signed_area_m2

COMPASS = ("n", "e", "s", "w")
"""The wall keys of a room with a size."""


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall; `along` is counted from `start_m` towards `end_m`."""

    key: str
    start_m: Point
    end_m: Point
    length_m: float

    def at(self, along_m: float) -> Point:
        """Return the point that lies `along_m` from the start."""
        part = along_m / self.length_m
        (x0, y0), (x1, y1) = self.start_m, self.end_m
        return (x0 + (x1 - x0) * part, y0 + (y1 - y0) * part)


def is_measured(room: Room) -> bool:
    return room.size_m is not None or room.outline_m is not None


def floor_outline_m(room: Room) -> Polygon | None:
    """Return the floor's corners, counter-clockwise from the room's origin; None if unmeasured."""
    if room.size_m is not None:
        x, y = room.size_m
        return ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))
    if room.outline_m is not None:
        west, south, _, _ = box_of(room.outline_m)
        return moved(room.outline_m, (-west, -south))
    return None


def walls(room: Room) -> tuple[Wall, ...]:
    """Return the walls: n, e, s, w of a size room, the edges in order of an outline room.

    North and south walls start at their west end, east and west walls at their south end, and an
    outline's edge i at point i. An unmeasured room has none.
    """
    if room.size_m is not None:
        x, y = room.size_m
        return (
            _wall("n", (0.0, y), (x, y)),
            _wall("e", (x, 0.0), (x, y)),
            _wall("s", (0.0, 0.0), (x, 0.0)),
            _wall("w", (0.0, 0.0), (0.0, y)),
        )
    outline = floor_outline_m(room) or ()
    return tuple(_wall(str(i), a, b) for i, (a, b) in enumerate(edges(outline)))


def wall_of(room: Room, key: str) -> Wall | None:
    return next((wall for wall in walls(room) if wall.key == key), None)


def floor_area_m2(room: Room) -> float | None:
    outline = floor_outline_m(room)
    return None if outline is None else signed_area_m2(outline)


def perimeter_m(room: Room) -> float | None:
    return sum(wall.length_m for wall in walls(room)) if is_measured(room) else None


def box_m(room: Room) -> Point | None:
    """Return the extent of the floor in x and y; None if unmeasured."""
    outline = floor_outline_m(room)
    return None if outline is None else box_of(outline)[2:]


def _wall(key: str, start: Point, end: Point) -> Wall:
    return Wall(key, start, end, dist(start, end))


def opening_height_m(house: House, opening: Opening) -> float | None:
    """As given, else by the kind; None where that needs a room height that is not known."""
    if opening.height_m is not None:
        return opening.height_m
    if opening.kind == "doorway":
        return DEFAULT_DOORWAY_HEIGHT_M
    if opening.kind == "cased":
        return DEFAULT_CASED_HEIGHT_M
    heights = [house.rooms[room].height_m for room in opening.between if room in house.rooms]
    return min((h for h in heights if h is not None), default=None)
