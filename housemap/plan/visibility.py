"""What one sees from where one stands: visibility polygons, and shares of the full circle; numpy.

From a point in a convex part, the bearings that pass a chain of passages are one wedge: it runs
from the leftmost of their right ends to the rightmost of their left ends. So a share is exact at
each point; only the standing points of the house file format are a sample.
"""

from collections.abc import Iterable, Iterator, Mapping
from math import atan2, degrees, floor, pi
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.model.geometry import (
    Polygon,
    box_of,
    cross,
    direction,
    edges,
    middle,
    minus,
    plus,
    scaled,
    signed_area_m2,
)
from housemap.model.house import House, Point
from housemap.plan.floor_plan import Plan
from housemap.plan.free_space import Part, PartKey, Passage, Space, SpaceRoom, part_at, space_of
from housemap.plan.house_graph import HouseGraph, Way, sorted_pair
from housemap.plan.sightings import DEPTH, in_order, ways_from

GRID_M = 0.25
CLEAR_M = 0.3
"""Points keep this far from the walls, and the grid starts so far in from the box."""
_SLACK_M = 1e-6

Floats = NDArray[np.float64]


def standing_points(room: SpaceRoom) -> Floats:
    """Points in the plan, (n, 2), row by row from the south-west; else the middle of the room."""
    west, south, east, north = box_of(room.outline_m)
    xs, ys = _grid(west, east), _grid(south, north)
    points = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    level = (a[0] == b[0] or a[1] == b[1] for a, b in edges(room.outline_m))
    if len(room.outline_m) != 4 or not all(level):  # noqa: PLR2004 - no box
        points = points[inside(room.outline_m, points) & _clear(room.outline_m, points)]
    return points if len(points) else np.array([middle_of(room)])


def middle_of(room: SpaceRoom) -> Point:
    """The centroid of the floor, or of its largest convex part where that lies outside."""
    centre = centroid(room.outline_m)
    if bool(inside(room.outline_m, np.array([centre]))[0]):
        return centre
    largest = max(room.parts, key=lambda part: signed_area_m2(part.points))
    return centroid(largest.points)


def centroid(polygon: Polygon) -> Point:
    """The centre of gravity of a polygon (Green's theorem), by its first corner's frame."""
    x0, y0 = polygon[0]
    own = tuple((x - x0, y - y0) for x, y in polygon)
    total: Point = (0.0, 0.0)
    for a, b in edges(own):
        total = plus(total, scaled(plus(a, b), cross(a, b)))
    return plus((x0, y0), scaled(total, 1 / (6 * signed_area_m2(own))))


def _grid(low: float, high: float) -> Floats:
    steps = floor((high - low - 2 * CLEAR_M + _SLACK_M) / GRID_M)
    return low + CLEAR_M + GRID_M * np.arange(steps + 1, dtype=np.float64)


def inside(outline: Polygon, points: Floats) -> NDArray[np.bool_]:
    """Whether a line to the east crosses the outline an odd number of times."""
    x, y = points[:, 0], points[:, 1]
    odd = np.zeros(len(points), dtype=np.bool_)
    for (ax, ay), (bx, by) in edges(outline):
        if ay != by:
            odd ^= ((ay > y) != (by > y)) & (x < ax + (y - ay) / (by - ay) * (bx - ax))
    return odd


def _clear(outline: Polygon, points: Floats) -> NDArray[np.bool_]:
    """Whether no wall is nearer than CLEAR_M."""
    clear = np.ones(len(points), dtype=np.bool_)
    for a, b in edges(outline):
        start, run = np.array(a), np.array(b) - np.array(a)
        along = np.clip((points - start) @ run / (run @ run), 0.0, 1.0)
        nearest = start + along[:, None] * run
        clear &= np.linalg.norm(points - nearest, axis=-1) >= CLEAR_M - _SLACK_M
    return clear


Wedge = tuple[Point, Point]
"""Directions of its right and its left side."""


def regions(space: Space, room: str, at_m: Point) -> tuple[Polygon, ...]:
    """The visibility polygon (isovist, Benedikt 1979) of a point in a room.

    In convex pieces, counter-clockwise; none where the point does not lie in the room.
    """
    start = part_at(space, room, at_m)
    if start is None:
        return ()
    eye = _Bundle((start,), (room,), np.array([0]), np.array([complex(*at_m)]))
    return tuple(_regions(space, eye))


def in_field(
    found: Iterable[Polygon], eye: Point, toward_deg: float, field_deg: float
) -> tuple[Polygon, ...]:
    """What of the regions lies in a field of view of less than half a turn."""
    right, left = (direction(toward_deg + side * field_deg / 2) for side in (1, -1))
    return tuple(filter(None, (clipped(each, eye, (right, left)) for each in found)))


def _regions(space: Space, eye: "_Bundle") -> Iterator[Polygon]:
    """The last part as far as the eye sees it, and what its passages show."""
    part = space.part(eye.parts[-1])
    if seen := eye.cut(part.points):
        yield seen
    for passage in filter(eye.may_take, part.passages):
        lefts, rights = passage.lefts, passage.rights
        mouth = eye.between(rights[:1], lefts[:1])
        if mouth is None:
            continue
        if passage.opening and (depth := mouth.cut((lefts[0], *rights, lefts[1]))):
            yield depth
        if beyond := mouth.between(rights[1:], lefts[1:]):
            yield from _regions(space, beyond.into(passage))


def clipped(polygon: Polygon, eye: Point, wedge: Wedge) -> Polygon:
    """A convex polygon within a wedge at the eye; empty where they do not meet."""
    right, left = wedge
    return left_half(left_half(polygon, eye, right), eye, scaled(left, -1))


def left_half(polygon: Polygon, start: Point, direction: Point) -> Polygon:
    """What lies to the left of a line (one step of Sutherland & Hodgman 1974)."""
    kept: list[Point] = []
    for a, b in edges(polygon) if polygon else ():
        side_a, side_b = cross(direction, minus(a, start)), cross(direction, minus(b, start))
        if side_a >= 0:
            kept.append(a)
        if (side_a > 0 > side_b) or (side_a < 0 < side_b):
            kept.append(plus(a, scaled(minus(b, a), side_a / (side_a - side_b))))
    return tuple(kept) if len(kept) > 2 else ()  # noqa: PLR2004 a polygon has three corners


_EDGE_M2 = 1e-9
"""A cross product below this counts as none."""

Vectors = NDArray[np.complex128]
"""Plane vectors as x + yi: conj(a) * b has their dot product and, as imaginary part, the cross."""
Indices = NDArray[np.intp]


class Stand(NamedTuple):
    """A standing point, the bearing to look in, and the share of the full circle seen there."""

    at_m: Point
    toward_deg: float
    """Clockwise from plan-north: 90 looks to plan-east."""
    share: float


class Views(NamedTuple):
    """What one sees from the standing points of one room."""

    shares: Mapping[str, float]
    """Mean over the points, by room seen."""
    best: Mapping[str, Stand]
    together: tuple[frozenset[str], ...]
    """The largest sets of other rooms seen at once; none lies within another."""


class _Wedges(NamedTuple):
    """The bearings between two directions at some of the points, all of which enter `room`."""

    room: str
    points: Indices
    right: Vectors
    """The direction of the wedge's right side, at each of the points."""
    share: Floats
    """Of the full circle."""


def views(space: Space, room: str) -> Views:
    points = standing_points(space.rooms[room])
    wedges: list[_Wedges] = []
    where = points[:, 0] + 1j * points[:, 1]
    waiting = np.ones(len(points), dtype=np.bool_)
    for i, part in enumerate(space.rooms[room].parts):
        here = np.flatnonzero(waiting & _within(part, where))
        waiting[here] = False
        if len(here):
            _follow(space, wedges, _Bundle(((room, i),), (room,), here, where[here]))
    seen = {each.room: np.zeros(len(points)) for each in wedges}
    for each in wedges:
        seen[each.room][each.points] += each.share
    return Views(
        shares={other: float(share.mean()) for other, share in seen.items()},
        best={other: _best(points, wedges, other, share) for other, share in seen.items()},
        together=_together(seen),
    )


def bearing_deg(x: float, y: float) -> float:
    """Clockwise from plan-north, 0 to 360."""
    return degrees(atan2(x, y)) % 360


def _best(points: Floats, wedges: Iterable[_Wedges], room: str, shares: Floats) -> Stand:
    """The point that sees most of a room, looking to the middle of its widest wedge."""
    best = int(np.argmax(np.round(shares, 9)))
    here = [
        (float(each.share[i]), complex(each.right[i]))
        for each in wedges
        if each.room == room
        for i in np.flatnonzero(each.points == best)
    ]
    share, right = max(here, key=lambda wedge: wedge[0])
    toward = right * np.exp(1j * pi * share)  # half-way from its right side to its left
    x, y = points[best]
    return Stand((float(x), float(y)), bearing_deg(toward.real, toward.imag), float(shares[best]))


def _together(seen: Mapping[str, Floats]) -> tuple[frozenset[str], ...]:
    rooms = sorted(seen)
    if not rooms:
        return ()
    table = np.stack([seen[room] > 0 for room in rooms], axis=-1)
    sets, first = np.unique(table, axis=0, return_index=True)
    found: list[frozenset[str]] = []
    for i in np.lexsort((first, -sets.sum(axis=1))):
        here = frozenset(rooms[at] for at in np.flatnonzero(sets[i]))
        if here and not any(here <= other for other in found):
            found.append(here)
    return tuple(found)


def _within(part: Part, where: Vectors) -> NDArray[np.bool_]:
    inside = np.ones(len(where), dtype=np.bool_)
    for (ax, ay), (bx, by) in edges(part.points):
        inside &= _cross(complex(bx - ax, by - ay), where - complex(ax, ay)) >= -_EDGE_M2
    return inside


def _cross(a: Vectors | complex, b: Vectors) -> Floats:
    return np.imag(np.conj(a) * b)


class _Bundle(NamedTuple):
    """What some points still see at the end of a chain of parts."""

    parts: tuple[PartKey, ...]
    rooms: tuple[str, ...]
    """The own one and those that openings led to."""
    points: Indices
    where: Vectors
    right: Vectors | None = None
    left: Vectors | None = None

    def may_take(self, passage: Passage) -> bool:
        """Whether it leads on to a part not met yet, through no more than DEPTH openings."""
        deep = passage.opening and len(self.rooms) > DEPTH
        return passage.to not in self.parts and not deep

    def between(self, rights: Iterable[Point], lefts: Iterable[Point]) -> "_Bundle | None":
        """The points that see between these ends, and what; None where none does."""
        right, left = self.right, self.left
        for end in rights:
            to_end = complex(*end) - self.where
            right = to_end if right is None else np.where(_cross(right, to_end) > 0, to_end, right)
        for end in lefts:
            to_end = complex(*end) - self.where
            left = to_end if left is None else np.where(_cross(left, to_end) < 0, to_end, left)
        assert right is not None
        assert left is not None
        across = np.conj(right) * left
        # Standing on the line of a gap one looks through it half a turn wide.
        wide = (np.abs(across.imag) <= _EDGE_M2) & (across.real < 0)
        keep = np.flatnonzero((across.imag > _EDGE_M2) | wide)
        if not len(keep):
            return None
        points, where = self.points[keep], self.where[keep]
        return self._replace(points=points, where=where, right=right[keep], left=left[keep])

    def into(self, passage: Passage) -> "_Bundle":
        """Behind a passage."""
        rooms = (*self.rooms, passage.to[0]) if passage.opening else self.rooms
        return self._replace(parts=(*self.parts, passage.to), rooms=rooms)

    def cut(self, polygon: Polygon) -> Polygon:
        """A convex polygon as far as the first point sees it; empty where it does not."""
        if self.right is None or self.left is None:
            return polygon
        eye, right, left = (complex(each[0]) for each in (self.where, self.right, self.left))
        wedge = (right.real, right.imag), (left.real, left.imag)
        return clipped(polygon, (eye.real, eye.imag), wedge)


def _follow(space: Space, found: list[_Wedges], bundle: _Bundle) -> None:
    """Depth first over the passages; adds to `found`."""
    for passage in filter(bundle.may_take, space.part(bundle.parts[-1]).passages):
        seen = bundle.between(passage.rights, passage.lefts)
        if seen is None or seen.right is None or seen.left is None:
            continue
        room = passage.to[0]
        if passage.opening and room not in bundle.rooms:
            share = np.abs(np.angle(np.conj(seen.right) * seen.left)) / (2 * pi)
            found.append(_Wedges(room, seen.points, seen.right, share))
        _follow(space, found, seen.into(passage))


# Who sees whom in the measured rooms, kept from edit to edit; and as a list of rows.


class RoomSight(NamedTuple):
    ways: Mapping[str, tuple[Way, ...]]
    """The openings on the way to each room seen, every way, the shortest first."""
    views: Views


class Sight(NamedTuple):
    """What is seen from each room that has measures."""

    space: Space
    rooms: Mapping[str, RoomSight]

    def pairs(self) -> dict[tuple[str, str], tuple[Way, ...]]:
        """Every pair that sees each other, by sorted pair, with the ways from first to second."""
        return {
            (room, other): several
            for room in sorted(self.rooms)
            for other, several in self.rooms[room].ways.items()
            if room < other
        }

    def shares(self) -> dict[tuple[str, str], float]:
        """Of the full circle, by sorted pair: from the room that sees more of the other."""
        found: dict[tuple[str, str], float] = {}
        for room, seen in self.rooms.items():
            for other, share in seen.views.shares.items():
                pair = sorted_pair(room, other)
                found[pair] = max(found.get(pair, 0.0), share)
        return found


def sight_of(house: House, plan: Plan, previous: Sight | None = None) -> Sight:
    """The sight of a placed house; equal to one from scratch whatever `previous` was.

    A room's sight is made anew only if the room, one that it sees, or a door of these changed.
    """
    space = space_of(house, plan)
    before, known = (previous.space.rooms, previous.rooms) if previous else ({}, {})
    if previous and space == previous.space and list(space.rooms) == list(known):
        return previous
    same = {room for room, built in space.rooms.items() if before.get(room) == built}
    rooms: dict[str, RoomSight] = {}
    for room in space.rooms:
        if room in same and known[room].ways.keys() <= same:
            rooms[room] = known[room]
        else:
            found = ways_from(space, room)
            ways = {other: in_order(found[other]) for other in sorted(found)}
            rooms[room] = RoomSight(ways, views(space, room))
    return Sight(space, rooms)


class SightRow(NamedTuple):
    """One room seen from another."""

    from_room: str
    to_room: str
    through: tuple[tuple[str, ...], ...]
    """The rooms in between, every way, the shortest first; an empty way is a shared opening."""
    share: float | None
    """Mean over the standing points of the part of the full circle; None where not known."""
    best: Stand | None
    """Where one sees most of it; None where measures are missing."""


def sight_rows(graph: HouseGraph, sight: Sight) -> tuple[SightRow, ...]:
    """Both directions of every pair found by measures or declared, or likely without measures.

    Rooms with measures that only stairs join are left out: no line at eye height joins them.
    """
    declared = {sorted_pair(*line.between) for line in graph.sightlines.values()}
    rows: list[SightRow] = []
    for pair, sighting in graph.sightings.items():
        likely = pair in declared or not sight.rooms.keys() >= {*pair}
        for (one, other), way in ((pair, sighting.through), (pair[::-1], sighting.through[::-1])):
            seen = sight.rooms.get(one)
            if seen and other in seen.ways:
                ways = dict.fromkeys(graph.rooms_along(one, way)[:-1] for way in seen.ways[other])
                share, best = seen.views.shares.get(other, 0.0), seen.views.best.get(other)
                best = best or _nearest_stand(sight.space, one, seen.ways[other][0])
                rows.append(SightRow(one, other, tuple(ways), share, best))
            elif likely:
                through = (graph.rooms_along(one, way)[:-1],) if way else ()
                rows.append(SightRow(one, other, through, sighting.share, None))
    return tuple(sorted(rows, key=lambda row: (row.from_room, row.to_room)))


def _nearest_stand(space: Space, room: str, way: Way) -> Stand:
    """The standing point nearest to the first opening, where no point sees through them all."""
    mouth = next(
        passage
        for part in space.rooms[room].parts
        for passage in part.passages
        if passage.opening == way[0]
    )
    target = np.array(middle(mouth.lefts[0], mouth.rights[0]))
    points = standing_points(space.rooms[room])
    x, y = points[np.argmin(np.linalg.norm(points - target, axis=-1))]
    toward = bearing_deg(float(target[0] - x), float(target[1] - y))
    return Stand((float(x), float(y)), toward, 0.0)
