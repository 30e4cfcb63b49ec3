"""The free space of the measured rooms: convex parts, and the passages that lead between them.

Walls, shut doors and the outside are what is left out. Between two parts of one room the passage
is a gap without depth; an opening is as deep as its wall and so has four ends.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from housemap.model.house import House, Point
from housemap.model.polygon import Polygon, edges, moved
from housemap.plan.house_graph import is_seen_through
from housemap.plan.parts import Gap, Part, convex_parts, overlap
from housemap.plan.placed import PlacedRoom, Plan
from housemap.plan.vectors import Segment, cross, minus

_INSIDE_M2 = 1e-9
"""A point this close to an edge counts as inside (cross product, square metres)."""

PartKey = tuple[str, int]
"""A room's id and the place of the part in it."""


@dataclass(frozen=True, slots=True)
class Passage:
    """A way out of a part; left and right as met when walking through it."""

    to: PartKey
    opening: str | None
    """None for a gap between two parts of one room."""
    lefts: tuple[Point, ...]
    """In the near wall and in the far wall; one point for a gap."""
    rights: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class SpacePart:
    """A convex part of a room in plan coordinates."""

    points: Polygon
    """Counter-clockwise."""
    walls: tuple[int | None, ...]
    """The outline's edge that each edge lies on; None for a gap."""
    passages: tuple[Passage, ...]


@dataclass(frozen=True, slots=True)
class SpaceRoom:
    """A room of the free space; equal to another when nothing in it or at its doors differs."""

    outline_m: Polygon
    parts: tuple[SpacePart, ...]


@dataclass(frozen=True, slots=True)
class Space:
    """The rooms that have measures, by id, in file order."""

    rooms: Mapping[str, SpaceRoom]

    def part(self, key: PartKey) -> SpacePart:
        return self.rooms[key[0]].parts[key[1]]


def part_at(space: Space, room: str, at_m: Point) -> PartKey | None:
    """The part of a room in which a point lies; None outside, or without measures."""
    parts = space.rooms[room].parts if room in space.rooms else ()
    for i, part in enumerate(parts):
        if all(cross(minus(b, a), minus(at_m, a)) >= -_INSIDE_M2 for a, b in edges(part.points)):
            return room, i
    return None


def space_of(house: House, plan: Plan) -> Space:
    """The space of a placed house."""
    cut = {key: _parts_at(room) for key, room in plan.rooms.items() if room.sized}
    ways: dict[PartKey, list[Passage]] = {
        (key, i): [] for key, (parts, _) in cut.items() for i in range(len(parts))
    }
    for key, (_, gaps) in cut.items():
        for gap in gaps:
            _join_gap(ways, key, gap)
    for key, placed in plan.openings.items():
        opening = house.openings[key]
        if placed.measured and is_seen_through(opening):
            a, b = opening.between
            _join(ways, key, (a, cut[a][0], placed.near_m), (b, cut[b][0], placed.far_m))
    return Space(
        {
            key: SpaceRoom(
                plan.rooms[key].outline_m,
                tuple(
                    SpacePart(part.points, part.walls, tuple(ways[key, i]))
                    for i, part in enumerate(parts)
                ),
            )
            for key, (parts, _) in cut.items()
        }
    )


def _parts_at(room: PlacedRoom) -> tuple[tuple[Part, ...], tuple[Gap, ...]]:
    """Cut once a shape, then moved to its place."""
    x, y = room.at_m
    own = tuple((round(px - x, 9), round(py - y, 9)) for px, py in room.outline_m)
    parts, gaps = _cut(own)
    placed = tuple(Part(moved(part.points, room.at_m), part.walls) for part in parts)
    at_place = (moved(gap.segment_m, room.at_m) for gap in gaps)
    return placed, tuple(
        Gap(gap.a, gap.b, (start, end)) for gap, (start, end) in zip(gaps, at_place, strict=True)
    )


@lru_cache(maxsize=4096)
def _cut(outline: Polygon) -> tuple[tuple[Part, ...], tuple[Gap, ...]]:
    return convex_parts(outline)


def _join_gap(ways: Mapping[PartKey, list[Passage]], room: str, gap: Gap) -> None:
    """The gap runs as part a's edge does: whoever leaves a has its end on the left."""
    right, left = gap.segment_m
    ways[room, gap.a].append(Passage((room, gap.b), None, (left,), (right,)))
    ways[room, gap.b].append(Passage((room, gap.a), None, (right,), (left,)))


Mouth = tuple[str, Sequence[Part], Segment]
"""A room's id, its parts, and the opening's segment in one of its walls."""


def _join(ways: Mapping[PartKey, list[Passage]], opening: str, near: Mouth, far: Mouth) -> None:
    """Passages both ways between every part that the opening touches on either side."""
    for a, (right, left) in _pieces(near[1], near[2]):
        for b, (far_left, far_right) in _pieces(far[1], far[2]):
            here, there = (near[0], a), (far[0], b)
            lefts, rights = (left, far_left), (right, far_right)
            ways[here].append(Passage(there, opening, lefts, rights))
            ways[there].append(Passage(here, opening, rights[::-1], lefts[::-1]))


def _pieces(parts: Sequence[Part], segment: Segment) -> Iterator[tuple[int, Segment]]:
    """The parts whose walls hold some of the segment, and which; it runs as the part's edge."""
    for i, part in enumerate(parts):
        for wall, edge in zip(part.walls, edges(part.points), strict=True):
            shared = overlap(edge, segment) if wall is not None and _near(edge, segment) else None
            if shared:
                yield i, shared


def _near(edge: Segment, segment: Segment) -> bool:
    """Whether both ends of the segment are close to the line of the edge; a quick refusal."""
    run = minus(edge[1], edge[0])
    limit = 1e-5 * (abs(run[0]) + abs(run[1]))
    return all(abs(cross(run, minus(end, edge[0]))) < limit for end in segment)
