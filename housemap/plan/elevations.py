"""Each wall as one stands before it: what is where along it and above the floor.

A wall is split along its length into zones; a zone is a stack of bands from ceiling to floor.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby, pairwise
from math import ceil, inf
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.model.geometry import (
    Segment,
    cross,
    dot,
    edges,
    minus,
    moved_segment,
    opening_height_m,
    plus,
    scaled,
    unit,
    wall_of,
)
from housemap.model.grouping import grouped
from housemap.model.house import House, Point
from housemap.plan.floor_plan import Plan, sides
from housemap.plan.free_space import PartKey, Passage, Space
from housemap.plan.house_graph import graph_of

SKIRTING_M = 0.1
CASING_M = 0.07
"""Trim round doors and windows is drawn this wide; both are common practice, no source."""
ON_WALL_M = 1e-5
"""An opening lies in a wall when its ends are no further than this from it."""
CEILING_M = 2.4
"""Where a room's height is not known (our assumption)."""
RISE_M, GOING_M = 0.18, 0.25
"""From step to step of a flight, up and along (our assumption)."""
RECESS_M, SASH_M, PANE_M = 0.1, 0.05, 1.0
"""Glass lies so far back in its wall (or as the wall is thick); a sash is so wide; no pane is wider
than the last (our assumption)."""
STOREY_M = 2.5
"""So far down one sees on stairs that lead down (our choice)."""

ALL = -inf, inf, -inf, inf
OPENING, SKY, WINDOW = "opening", "sky", "window"
"""Surfaces without paint: a hole that leads out of the measures, the open air, and glass."""
LAMP, STEM = "lamp", "stem"
"""What of a lamp shines, and what it hangs from or stands on."""
RISER, TREAD = "riser", "tread"
"""The steps of stairs: their fronts, and what one walks on."""


class Recess(NamedTuple):
    """What one looks into and not through; left and right as of a passage."""

    lefts: tuple[Point, Point]
    rights: tuple[Point, Point]
    back: "Side"
    low_m: float
    """Of what it has for a floor, which may be lower than the hole."""
    floor: str


class Band(NamedTuple):
    """A stretch of a wall from top to bottom; with ways it is a hole one sees into."""

    low_m: float
    high_m: float
    surface: str
    """As in `Face`; of a hole's reveals."""
    ways: tuple[Passage, ...] | tuple[Recess] = ()


class Zone(NamedTuple):
    """A stretch of a part's edge, in metres from the edge's start."""

    start_m: float
    end_m: float
    bands: tuple[Band, ...]
    """From the ceiling down; none for a gap."""
    gap: Passage | None = None


class Side(NamedTuple):
    """One edge of a part: where it lies, and its zones in order."""

    segment_m: Segment
    wall: str | None
    zones: tuple[Zone, ...]


class _Feature(NamedTuple):
    """A rectangle on a wall; later ones lie over earlier ones."""

    start_m: float
    end_m: float
    low_m: float
    high_m: float
    surface: str
    ways: tuple[Passage, ...] | tuple[Recess] = ()


class Elevations:
    """The walls of a placed house, worked out part by part when first looked at."""

    def __init__(self, house: House, plan: Plan, space: Space) -> None:
        self.house = house
        self.plan = plan
        self.space = space
        self.graph = graph_of(house)
        self._sides: dict[PartKey, tuple[Side, ...]] = {}
        self._uprights: dict[PartKey, NDArray[np.complex128]] = {}

    def of(self, key: PartKey) -> tuple[Side, ...]:
        """The edges of a part, in the order of its corners."""
        if key not in self._sides:
            part = self.space.part(key)
            self._sides[key] = tuple(
                self._side(key, edge, wall)
                for edge, wall in zip(edges(part.points), part.walls, strict=True)
            )
        return self._sides[key]

    def uprights(self, key: PartKey) -> NDArray[np.complex128]:
        """Where in the plan upright lines stand: ends of zones, and corners of openings."""
        if key not in self._uprights:
            points = {p for side in self.of(key) for zone in side.zones for p in _ends(side, zone)}
            points |= {p for side in self.of(key) for p in _recessed(side)}
            for each in self.space.part(key).passages:
                points.update(each.lefts, each.rights)
            self._uprights[key] = np.array([complex(*point) for point in sorted(points)])
        return self._uprights[key]

    def height_m(self, room: str) -> float:
        return self.house.rooms[room].height_m or CEILING_M

    def hole_height_m(self, key: str) -> float:
        """Of an opening: as measured or usual for its kind, and no higher than either room."""
        opening = self.house.openings[key]
        rooms = [self.height_m(room) for room in opening.between]
        return min(*rooms, opening_height_m(self.house, opening) or CEILING_M)

    def in_wall_m(self, room: str, key: str) -> Segment | None:
        """Where an opening lies in the room's wall, by measures; None where there are none."""
        placed = self.plan.openings.get(key)
        between = self.house.openings[key].between
        if placed and placed.measured:
            return placed.near_m if room == between[0] else placed.far_m
        own = sides(self.house, self.house.openings[key])[between.index(room)]
        if own is None or not own.has_width:
            return None
        return moved_segment(own.segment_m, self.plan.rooms[room].at_m)

    def _side(self, key: PartKey, edge: Segment, wall: int | None) -> Side:
        """A bare wall and its skirting, with what is in it; outdoors only the house's own walls."""
        passages = self.space.part(key).passages
        if wall is None:
            return Side(edge, None, tuple(_gap_zones(edge, passages)))
        room, high = self.house.rooms[key[0]], self.height_m(key[0])
        wall_key = str(wall) if room.outline_m else "senw"[wall]
        holes = list(self._holes(key[0], edge, passages))
        surface = f"accent {wall_key}" if wall_key in room.accents else "walls"
        if room.use == "outdoor":
            plain = [_Feature(-inf, inf, 0.0, high, "walls" if holes else SKY)]
        else:
            plain = [
                _Feature(-inf, inf, 0.0, high, surface),
                _Feature(-inf, inf, 0.0, SKIRTING_M, "trim"),
            ]
        features = [*plain, *holes, *self._windows(key[0], wall_key, edge)]
        return Side(edge, wall_key, tuple(_zones(edge, (0.0, high), features)))

    def _holes(self, room: str, edge: Segment, passages: Sequence[Passage]) -> Iterator[_Feature]:
        """Openings with their casing, where one sees through, and the doors of the others."""
        for key, opening in self.graph.openings_of(room).items():
            segment = self.in_wall_m(room, key)
            span = span_along(edge, segment) if segment else None
            if span is None:
                continue
            high = self.hole_height_m(key)
            steps = self.steps_of(room, key)
            if steps > 0 and self.house.rooms[room].use == "stair":
                continue  # the flight is in front of this wall, as high as the room
            if opening.kind != "open":
                yield _Feature(span[0] - CASING_M, span[1] + CASING_M, 0.0, high + CASING_M, "trim")
            if steps:
                heights, deep = (min(steps * RISE_M, 0.0), high), abs(steps) * GOING_M
                well = _recess(edge, span, deep, heights, [_Feature(*ALL, "walls")])
                yield _Feature(*span, 0.0, high, "walls", (well,))
                continue
            if opening.kind == "glazed":
                yield _Feature(*span, 0.0, high, "trim")
                holes = [*_panes(span, (0.0, high))]
            else:
                yield _Feature(*span, 0.0, high, OPENING if opening.seen_through else "doors")
                holes = [(*span, 0.0, high)]
            reveal = "walls" if opening.kind == "open" else "trim"
            for piece, several in _by_near_end(edge, key, passages).items():
                for start, end, low, top in holes:
                    ends = max(start, piece[0]), min(end, piece[1])
                    yield _Feature(*ends, low, top, reveal, tuple(several))

    def steps_of(self, room: str, key: str) -> int:
        """How many steps of an opening's stairs are seen: up from a room, or down (below 0)."""
        opening, rooms = self.house.openings[key], self.house.rooms
        lower, upper = sorted(rooms[each].level for each in opening.between)
        if opening.kind != "stairs" or lower == upper:
            return 0
        if rooms[room].level == upper:
            return -int(STOREY_M / RISE_M)
        is_flight = rooms[room].use == "stair"
        return int((self.height_m(room) if is_flight else self.hole_height_m(key)) / RISE_M)

    def _windows(self, room: str, wall_key: str, edge: Segment) -> Iterator[_Feature]:
        wall, at = wall_of(self.house.rooms[room], wall_key), self.plan.rooms[room].at_m
        for window in self.house.rooms[room].windows.values():
            if window.wall != wall_key or wall is None:
                continue
            ends = wall.at(window.along_m), wall.at(window.along_m + window.width_m)
            span = span_along(edge, moved_segment(ends, at))
            if span:
                low, high = window.sill_m, window.sill_m + window.height_m
                yield _Feature(
                    span[0] - CASING_M, span[1] + CASING_M, low - CASING_M, high + CASING_M, "trim"
                )
                panes = _panes((0.0, span[1] - span[0]), (low, high))
                back = [_Feature(*ALL, "trim"), *(_Feature(*pane, WINDOW) for pane in panes)]
                deep = min(RECESS_M, self.house.wall_thickness_m)
                recess = _recess(edge, span, deep, (low, high), back, floor="trim")
                yield _Feature(*span, low, high, "trim", (recess,))


def _panes(
    span: tuple[float, float], heights_m: tuple[float, float]
) -> Iterator[tuple[float, float, float, float]]:
    """From where to where a sash has glass: along, and up."""
    (first, last), (low, high) = span, heights_m
    count = ceil((last - first) / PANE_M)
    sash = min(SASH_M, (last - first) / count / 4, (high - low) / 4)
    wide = (last - first - sash) / count
    for i in range(count):
        start = first + i * wide + sash
        yield start, start + wide - sash, low + sash, high - sash


def _recess(
    edge: Segment, span: tuple[float, float], deep_m: float, heights_m: tuple[float, float],
    back: Sequence[_Feature], *, floor: str = "floor",
) -> Recess:  # fmt: skip
    """Behind a stretch of an edge; `back` is what its end shows."""
    along = unit(minus(edge[1], edge[0]))
    near = tuple(plus(edge[0], scaled(along, end)) for end in span)
    far = tuple(plus(end, scaled((along[1], -along[0]), deep_m)) for end in near)
    behind = Side((far[0], far[1]), None, tuple(_zones((far[0], far[1]), heights_m, back)))
    return Recess((near[1], far[1]), (near[0], far[0]), behind, heights_m[0], floor)


def _recessed(side: Side) -> Iterator[Point]:
    """The corners of what is behind holes in a side."""
    for way in (way for zone in side.zones for band in zone.bands for way in band.ways):
        if isinstance(way, Recess):
            yield from (*way.lefts, *way.rights)
            yield from (end for zone in way.back.zones for end in _ends(way.back, zone))


def _ends(side: Side, zone: Zone) -> tuple[Point, Point]:
    start, along = side.segment_m[0], unit(minus(side.segment_m[1], side.segment_m[0]))
    return plus(start, scaled(along, zone.start_m)), plus(start, scaled(along, zone.end_m))


def _position(edge: Segment, point: Point) -> float:
    return dot(unit(minus(edge[1], edge[0])), minus(point, edge[0]))


def _length(edge: Segment) -> float:
    return _position(edge, edge[1])


def span_along(edge: Segment, segment: Segment) -> tuple[float, float] | None:
    """Where a segment lies along an edge, ends included that reach past it; None if elsewhere."""
    run = minus(edge[1], edge[0])
    if any(abs(cross(run, minus(end, edge[0]))) > ON_WALL_M * _length(edge) for end in segment):
        return None
    start, end = sorted(_position(edge, point) for point in segment)
    return (start, end) if start < _length(edge) and end > 0 else None


def _gap_zones(edge: Segment, passages: Sequence[Passage]) -> Iterator[Zone]:
    """The gaps that lie on an edge, from its start."""
    for (start, end), (gap,) in sorted(_by_near_end(edge, None, passages).items()):
        yield Zone(start, end, (), gap)


def _by_near_end(
    edge: Segment, opening: str | None, passages: Sequence[Passage]
) -> Mapping[tuple[float, float], list[Passage]]:
    """The passages of an opening that begin on an edge; more than one where parts meet beyond."""
    mine = (each for each in passages if each.opening == opening)
    spans = ((span_along(edge, (each.rights[0], each.lefts[0])), each) for each in mine)
    return grouped((span, each) for span, each in spans if span)


def _zones(
    edge: Segment, heights_m: tuple[float, float], features: Sequence[_Feature]
) -> Iterator[Zone]:
    length = _length(edge)
    ends = {end for each in features for end in (each.start_m, each.end_m) if 0 < end < length}
    for start, end in pairwise(sorted({0.0, length, *ends})):
        over = [each for each in features if each.start_m < (start + end) / 2 < each.end_m]
        yield Zone(start, end, tuple(_bands(over, *heights_m)))


def _bands(over: Sequence[_Feature], low_m: float, high_m: float) -> Iterator[Band]:
    """What shows of features that lie over each other, from the top down."""
    ends = {z for each in over for z in (each.low_m, each.high_m) if low_m < z < high_m}

    def uppermost(piece: tuple[float, float]) -> int:
        # With the ends: there is no number between 2.6 and 2.5999999999999996, or 0.01 + 2.59.
        z = (piece[0] + piece[1]) / 2
        return [i for i, each in enumerate(over) if each.low_m <= z <= each.high_m][-1]

    pieces = pairwise(sorted({low_m, high_m, *ends}, reverse=True))
    for top, group in groupby(pieces, key=uppermost):
        heights = [z for piece in group for z in piece]
        yield Band(heights[-1], heights[0], over[top].surface, over[top].ways)
