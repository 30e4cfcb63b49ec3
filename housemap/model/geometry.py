"""Plane shapes: vectors, polygons, the floor of a measured room and its walls.

All in metres, as tuples of points, exact for straight edges; x to plan-east, y to plan-north. A
room's own origin is the south-west corner of its box; an outline's points may be counted from
anywhere, and are moved so that their box starts there.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, degrees, dist, hypot, inf, radians, sin
from typing import NamedTuple

from housemap.model.grouping import grouped
from housemap.model.house import (
    DEFAULT_CASED_HEIGHT_M,
    DEFAULT_DOORWAY_HEIGHT_M,
    House,
    Opening,
    Point,
    Room,
    Window,
)

Polygon = tuple[Point, ...]
Box = tuple[float, float, float, float]
"""West, south, east, north."""
Segment = tuple[Point, Point]


# Vectors


def plus(a: Point, b: Point) -> Point:
    return a[0] + b[0], a[1] + b[1]


def minus(a: Point, b: Point) -> Point:
    return a[0] - b[0], a[1] - b[1]


def scaled(a: Point, by: float) -> Point:
    return a[0] * by, a[1] * by


def dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Point, b: Point) -> float:
    """Above 0 where `b` lies to the left of `a`."""
    return a[0] * b[1] - a[1] * b[0]


def unit(a: Point) -> Point:
    """`a` at length 1; (0, 0) stays."""
    length = hypot(*a)
    return scaled(a, 1 / length) if length else a


def middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def moved_segment(segment: Segment, by: Point) -> Segment:
    return plus(segment[0], by), plus(segment[1], by)


def box_points(box: Box) -> Polygon:
    """Its corners, counter-clockwise from the south-west."""
    west, south, east, north = box
    return (west, south), (east, south), (east, north), (west, north)


def direction(toward_deg: float) -> Point:
    """The unit vector of a bearing clockwise from plan-north."""
    return sin(radians(toward_deg)), cos(radians(toward_deg))


# Polygons


def edges(polygon: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Yield each edge from point i to point i + 1; the last one closes the polygon."""
    return zip(polygon, (*polygon[1:], *polygon[:1]), strict=True)


def signed_area_m2(polygon: Polygon) -> float:
    """Return the area, positive when the points run counter-clockwise (shoelace formula)."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in edges(polygon)) / 2


def box_of(polygon: Polygon) -> Box:
    xs, ys = zip(*polygon, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def moved(polygon: Polygon, by: Point) -> Polygon:
    return tuple((x + by[0], y + by[1]) for x, y in polygon)


def is_simple(polygon: Polygon) -> bool:
    """Whether no edge has length 0 and no two edges touch but neighbours at their common point."""
    sides = tuple(edges(polygon))
    if any(a == b for a, b in sides):
        return False
    last = len(sides) - 1
    for i, (a, b) in enumerate(sides):
        for j in range(i + 1, len(sides)):
            c, d = sides[j]
            if j == i + 1 or (i == 0 and j == last):
                x, y, z = (a, b, d) if j == i + 1 else (c, d, b)
                if _turn(x, y, z) == 0 and dot(minus(y, x), minus(z, y)) < 0:  # it folds back
                    return False
            elif _touch(a, b, c, d):
                return False
    return True


def overlap_area_m2(one: Polygon, other: Polygon) -> float:
    """Return the area that two simple polygons share.

    Between two neighbouring heights at which an edge starts, ends or crosses another, the shared
    width is linear in y, so that its value half-way times the height is the area there.
    """
    heights = sorted({y for _, y in (*one, *other)} | set(_crossing_heights(one, other)))
    return sum(
        (high - low) * _shared(stretches(one, (low + high) / 2), stretches(other, (low + high) / 2))
        for low, high in pairwise(heights)
    )


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return twice the signed area of a, b, c: positive for a left turn at b."""
    return cross(minus(b, a), minus(c, a))


def _touch(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether segments ab and cd share a point."""
    ab_c, ab_d, cd_a, cd_b = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if ab_c * ab_d < 0 and cd_a * cd_b < 0:
        return True
    return (
        (ab_c == 0 and _within(c, a, b))
        or (ab_d == 0 and _within(d, a, b))
        or (cd_a == 0 and _within(a, c, d))
        or (cd_b == 0 and _within(b, c, d))
    )


def _within(p: Point, a: Point, b: Point) -> bool:
    """Whether p, known to lie on the line ab, lies between a and b."""
    return min(a[0], b[0]) <= p[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= p[1] <= max(a[1], b[1])


def _crossing_heights(one: Polygon, other: Polygon) -> Iterator[float]:
    for a, b in edges(one):
        for c, d in edges(other):
            slope = cross(minus(b, a), minus(d, c))
            if slope:
                t = cross(minus(c, a), minus(d, c)) / slope
                if 0 < t < 1:
                    yield a[1] + t * (b[1] - a[1])


def stretches(polygon: Sequence[Point], y: float) -> list[tuple[float, float]]:
    """Return the stretches of the horizontal line at y that lie inside."""
    xs = sorted(
        a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        for a, b in edges(polygon)
        if (a[1] > y) != (b[1] > y)
    )
    return list(zip(xs[::2], xs[1::2], strict=True))


def _shared(one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]]) -> float:
    return sum(max(0.0, min(b, d) - max(a, c)) for a, b in one for c, d in other)


SAME_PLACE = 0.1
"""The part of the smaller room above which two pinned rooms are in one place. Below it the
measures merely do not close, which is a finding and no error."""
MOST_WORK = 5_000_000
"""Comparisons of two boxes or two corners, some seconds' worth; a real house takes a thousandth."""

Placed = tuple[Box, str, Polygon]


class TooIntricateError(Exception):
    """Comparing these outlines would take MOST_WORK and more."""


def same_place(pinned: Iterable[tuple[int, str, Polygon]]) -> Iterator[tuple[str, str, float]]:
    """Overlapping pairs of a level and the share of the smaller. Raises TooIntricateError."""
    work = 0
    for (_, key, one), (_, other, two) in box_pairs(pinned, MOST_WORK):
        work += 1 + (len(one) + len(two)) ** 2
        if work > MOST_WORK:
            raise TooIntricateError
        smaller = min(signed_area_m2(one), signed_area_m2(two))
        share = overlap_area_m2(one, two) / smaller
        if share > SAME_PLACE:
            yield key, other, share


def box_pairs(
    outlines: Iterable[tuple[int, str, Polygon]], most: float = inf
) -> Iterator[tuple[Placed, Placed]]:
    """Pairs of one level whose boxes overlap. Raises TooIntricateError beyond `most`."""
    levels = grouped((level, (box_of(outline), key, outline)) for level, key, outline in outlines)
    work = 0
    for rooms in levels.values():
        rooms.sort()
        for i, one in enumerate(rooms):
            (_, south, east, north) = one[0]
            for other in rooms[i + 1 :]:
                work += 1
                if other[0][0] >= east:
                    break
                if south < other[0][3] and other[0][1] < north:
                    yield one, other
            if work > most:
                raise TooIntricateError


COMPASS = ("n", "e", "s", "w")
"""The wall keys of a room with a size."""


class Wall(NamedTuple):
    """One wall; `along` is counted from `start_m` towards `end_m`."""

    key: str
    start_m: Point
    end_m: Point
    length_m: float

    def at(self, along_m: float) -> Point:
        run = minus(self.end_m, self.start_m)
        return plus(self.start_m, scaled(run, along_m / self.length_m))


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
        size = room.size_m
        return tuple(_wall_of_box(size, key) for key in COMPASS)
    outline = floor_outline_m(room) or ()
    return tuple(_wall(str(i), a, b) for i, (a, b) in enumerate(edges(outline)))


def wall_of(room: Room, key: str) -> Wall | None:
    if room.size_m is not None:
        return _wall_of_box(room.size_m, key) if key in COMPASS else None
    return next((wall for wall in walls(room) if wall.key == key), None)


def wall_in(opening: Opening, room: str) -> str | None:
    """The key of the wall of one of its two rooms that an opening is in."""
    return opening.wall if room == opening.between[0] else opening.to_wall


LEAST_END_M = 0.05
"""Less wall than that beside an opening is no corner to paint to (our assumption)."""


def wall_ends_m(house: House, opening: Opening) -> tuple[float, float]:
    """The wall before and behind an opening, in that of its rooms where the lesser end is larger.

    None of it where that is not measured.
    """
    found = [(0.0, 0.0)]
    for room, along in zip(opening.between, (opening.along_m, opening.to_along_m), strict=True):
        wall = wall_of(house.rooms[room], wall_in(opening, room) or "")
        if wall is not None and along is not None and opening.width_m is not None:
            found.append((along, wall.length_m - along - opening.width_m))
    return max(found, key=min)


_OUTWARD: dict[str, Point] = {"n": (0.0, 1.0), "e": (1.0, 0.0), "s": (0.0, -1.0), "w": (-1.0, 0.0)}


def outward(wall: Wall) -> Point:
    """The unit normal of a wall, out of its room: an outline has its outside on the right."""
    if wall.key in _OUTWARD:
        return _OUTWARD[wall.key]
    along = unit(minus(wall.end_m, wall.start_m))
    return along[1], -along[0]


def azimuth_deg(wall: Wall, north_deg: float) -> float:
    """The true bearing that a wall's outside faces, clockwise from north, 0 to 360."""
    return _bearing_deg(outward(wall), north_deg)


def facing_deg(room: Room, key: str, north_deg: float) -> float | None:
    """As `azimuth_deg`; n, e, s and w face their way in a room without measures too."""
    wall = wall_of(room, key)
    away = outward(wall) if wall else _OUTWARD.get(key)
    return None if away is None else _bearing_deg(away, north_deg)


def _bearing_deg(away: Point, north_deg: float) -> float:
    x, y = away
    return (degrees(atan2(x, y)) - north_deg) % 360.0


CARDINALS = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip


def cardinal(bearing_deg: float) -> str:
    """The nearest of the eight points of the compass, in words."""
    return CARDINALS[round(bearing_deg / 45.0) % 8]


def _wall_of_box(size: Point, key: str) -> Wall:
    x, y = size
    start = (x if key == "e" else 0.0, y if key == "n" else 0.0)
    end = (0.0 if key == "w" else x, 0.0 if key == "s" else y)
    return Wall(key, start, end, x if key in "ns" else y)


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


def window_area_m2(window: Window) -> float:
    return window.width_m * window.height_m


def opening_area_m2(house: House, opening: Opening) -> float:
    """Width times height; 0 where either is unknown."""
    return (opening.width_m or 0.0) * (opening_height_m(house, opening) or 0.0)
