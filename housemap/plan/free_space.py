"""The free space of the measured rooms: convex parts, and the passages that lead between them.

A straight line crosses a convex part once at most. At every inward corner the outline is cut along
the shorter continuation of the two walls that meet there; what joins two parts is then a
full-width gap (the method of Chazelle & Dobkin's naive decomposition, 1985: at most one part more
than there are inward corners). Walls, shut doors and the outside are left out. A gap has no depth;
an opening is as deep as its wall and so has four ends.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from housemap.model.geometry import (
    Polygon,
    Segment,
    cross,
    dot,
    edges,
    minus,
    moved,
    moved_segment,
    plus,
    scaled,
    unit,
)
from housemap.model.house import House, Point
from housemap.plan.floor_plan import PlacedRoom, Plan
from housemap.plan.house_graph import is_seen_through

TOUCH_M = 1e-7
"""Closer than this, points are one."""

Ring = list[tuple[Point, int]]
"""Corners with the tag of the edge that starts there: the outline's edge, or -1 - cut."""

PartKey = tuple[str, int]
"""A room's id and the place of the part in it."""


class Passage(NamedTuple):
    """A way out of a part; left and right as met when walking through it."""

    to: PartKey
    opening: str | None
    """None for a gap between two parts of one room."""
    lefts: tuple[Point, ...]
    """In the near wall and in the far wall; one point for a gap."""
    rights: tuple[Point, ...]


class Part(NamedTuple):
    points: Polygon
    """Counter-clockwise."""
    walls: tuple[int | None, ...]
    """The outline's edge that each edge lies on; None where it is a gap to another part."""
    passages: tuple[Passage, ...] = ()


class Gap(NamedTuple):
    """What joins two parts of one floor, by their places in the list of parts."""

    a: int
    b: int
    segment_m: Segment


def convex_parts(outline: Sequence[Point]) -> tuple[tuple[Part, ...], tuple[Gap, ...]]:
    """The parts of a counter-clockwise outline that does not cross itself, and their gaps."""
    rings = list(_cut([(point, tag) for tag, point in enumerate(outline)], [0]))
    parts = tuple(
        Part(tuple(p for p, _ in ring), tuple(tag if tag >= 0 else None for _, tag in ring))
        for ring in rings
    )
    return parts, tuple(_gaps(rings))


def _cut(ring: Ring, cuts: list[int]) -> Iterator[Ring]:
    """Cuts until no corner points inward; `cuts` holds the number of cuts made so far."""
    corner = next((i for i in range(len(ring)) if _points_inward(ring, i)), None)
    ends = [] if corner is None else [*_cut_ends(ring, corner)]
    if corner is None or not ends:
        yield ring
        return
    cuts[0] += 1
    tag = -cuts[0]
    _, edge, end = min(ends)
    (here, here_tag), (_, edge_tag) = ring[corner], ring[edge]
    rest = _between(ring, corner + 1, edge)
    other = _between(ring, edge + 1, corner - 1)
    yield from _cut(_tidy([(here, here_tag), *rest, (end, tag)]), cuts)
    yield from _cut(_tidy([(here, tag), (end, edge_tag), *other]), cuts)


def _points_inward(ring: Ring, i: int) -> bool:
    before, here, after = ring[i - 1][0], ring[i][0], ring[(i + 1) % len(ring)][0]
    return cross(unit(minus(here, before)), unit(minus(after, here))) < -TOUCH_M


def _cut_ends(ring: Ring, i: int) -> Iterator[tuple[float, int, Point]]:
    """Length of the cut, the edge it ends on and the point there, for both walls continued."""
    here = ring[i][0]
    for neighbour in (ring[i - 1][0], ring[(i + 1) % len(ring)][0]):
        direction = unit(minus(here, neighbour))
        hits = [
            (hit, edge)
            for edge in range(len(ring))
            if edge not in (i, (i - 1) % len(ring))
            and (hit := _hit(here, direction, (ring[edge][0], ring[(edge + 1) % len(ring)][0])))
        ]
        if hits:
            length, edge = min(hits)
            yield length, edge, plus(here, scaled(direction, length))


def _hit(start: Point, direction: Point, edge: Segment) -> float | None:
    """How far along `direction` the edge is met; None where it is not, or runs the same way."""
    run = minus(edge[1], edge[0])
    slant = cross(direction, run)
    if abs(slant) < TOUCH_M:
        return None
    to_edge = minus(edge[0], start)
    length, share = cross(to_edge, run) / slant, cross(to_edge, direction) / slant
    slack = TOUCH_M / max(abs(run[0]), abs(run[1]), TOUCH_M)
    return length if length > TOUCH_M and -slack <= share <= 1 + slack else None


def _between(ring: Ring, first: int, last: int) -> Ring:
    """The corners from `first` to `last` (both included), counted round the ring."""
    return [ring[(first + k) % len(ring)] for k in range((last - first) % len(ring) + 1)]


def _tidy(ring: Ring) -> Ring:
    """Without edges of no length."""
    after = [*ring[1:], *ring[:1]]
    return [
        ((x, y), tag)
        for ((x, y), tag), (other, _) in zip(ring, after, strict=True)
        if max(abs(x - other[0]), abs(y - other[1])) >= TOUCH_M
    ]


def _gaps(rings: Sequence[Ring]) -> Iterator[Gap]:
    """Where two parts share some of a cut."""
    by_cut: dict[int, list[tuple[int, Segment]]] = defaultdict(list)
    for part, ring in enumerate(rings):
        for (_, tag), edge in zip(ring, edges(tuple(point for point, _ in ring)), strict=True):
            if tag < 0:
                by_cut[tag].append((part, edge))
    for sides in by_cut.values():
        for k, (a, edge) in enumerate(sides):
            for b, other in sides[k + 1 :]:
                shared = overlap(edge, other)
                if a != b and shared and dot(_run(edge), _run(other)) < 0:
                    yield Gap(a, b, shared)


def _run(segment: Segment) -> Point:
    return minus(segment[1], segment[0])


def overlap(a: Segment, b: Segment) -> Segment | None:
    """What two segments on one line share, running as `a` does; None where that has no length."""
    along = unit(_run(a))
    if any(abs(cross(along, minus(end, a[0]))) > TOUCH_M * 10 for end in b):
        return None
    low, high = sorted(dot(along, minus(end, a[0])) for end in b)
    start, stop = max(0.0, low), min(dot(along, _run(a)), high)
    if stop - start <= TOUCH_M:
        return None
    return plus(a[0], scaled(along, start)), plus(a[0], scaled(along, stop))


_INSIDE_M2 = 1e-9
"""A point this close to an edge counts as inside (cross product, square metres)."""


class SpaceRoom(NamedTuple):
    """A room of the free space; equal to another when nothing in it or at its doors differs."""

    outline_m: Polygon
    parts: tuple[Part, ...]


class Space(NamedTuple):
    """The rooms that have measures, by id, in file order."""

    rooms: Mapping[str, SpaceRoom]

    def part(self, key: PartKey) -> Part:
        return self.rooms[key[0]].parts[key[1]]


def part_at(space: Space, room: str, at_m: Point) -> PartKey | None:
    """The part of a room in which a point lies; None outside, or without measures."""
    parts = space.rooms[room].parts if room in space.rooms else ()
    for i, part in enumerate(parts):
        if all(cross(minus(b, a), minus(at_m, a)) >= -_INSIDE_M2 for a, b in edges(part.points)):
            return room, i
    return None


def space_of(house: House, plan: Plan) -> Space:
    cut = {key: _parts_at(room) for key, room in plan.rooms.items() if room.sized}
    ways: dict[PartKey, list[Passage]] = {
        (key, i): [] for key, (parts, _) in cut.items() for i in range(len(parts))
    }
    for key, (_, gaps) in cut.items():
        for a, b, (right, left) in gaps:  # it runs as part a's edge does: its end is at the left
            ways[key, a].append(Passage((key, b), None, (left,), (right,)))
            ways[key, b].append(Passage((key, a), None, (right,), (left,)))
    for key, placed in plan.openings.items():
        opening = house.openings[key]
        if placed.measured and is_seen_through(opening):
            one, other = opening.between
            for a, (right, left) in _pieces(cut[one][0], placed.near_m):
                for b, (far_left, far_right) in _pieces(cut[other][0], placed.far_m):
                    lefts, rights = (left, far_left), (right, far_right)
                    ways[one, a].append(Passage((other, b), key, lefts, rights))
                    ways[other, b].append(Passage((one, a), key, rights[::-1], lefts[::-1]))
    rooms = {}
    for key, (parts, _) in cut.items():
        made = (part._replace(passages=tuple(ways[key, i])) for i, part in enumerate(parts))
        rooms[key] = SpaceRoom(plan.rooms[key].outline_m, tuple(made))
    return Space(rooms)


def _parts_at(room: PlacedRoom) -> tuple[tuple[Part, ...], tuple[Gap, ...]]:
    """Cut once a shape, then moved to its place."""
    x, y = room.at_m
    own = tuple((round(px - x, 9), round(py - y, 9)) for px, py in room.outline_m)
    parts, gaps = _cut_once(own)
    placed = tuple(Part(moved(part.points, room.at_m), part.walls) for part in parts)
    return placed, tuple(Gap(gap.a, gap.b, moved_segment(gap.segment_m, room.at_m)) for gap in gaps)


_cut_once = lru_cache(maxsize=4096)(convex_parts)


def _pieces(parts: Sequence[Part], segment: Segment) -> Iterator[tuple[int, Segment]]:
    """The parts whose walls hold some of the segment, and which; it runs as the part's edge."""
    for i, part in enumerate(parts):
        for wall, edge in zip(part.walls, edges(part.points), strict=True):
            run = _run(edge)
            limit = 1e-5 * (abs(run[0]) + abs(run[1]))  # a quick refusal
            near = all(abs(cross(run, minus(end, edge[0]))) < limit for end in segment)
            if wall is not None and near and (shared := overlap(edge, segment)):
                yield i, shared
