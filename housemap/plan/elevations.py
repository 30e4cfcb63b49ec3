"""Each wall as one stands before it: what is where along it and above the floor.

A wall is split along its length into zones; a zone is a stack of bands from ceiling to floor.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from math import inf

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
from housemap.model.house import House, Opening, Point, Room
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
RISE_M, NOSING_M = 0.18, 0.04
"""From step to step of a flight, and how thick the edge of a tread is drawn (our assumption)."""

OPENING, SKY, WINDOW = "opening", "sky", "window"
"""Surfaces without paint: a hole that leads out of the measures, the open air, and glass."""
RISER, TREAD = "riser", "tread"
"""The steps of stairs that lead up: their fronts, and the edges of what one walks on."""


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch of a wall from top to bottom; with passages it is a hole one sees through."""

    low_m: float
    high_m: float
    surface: str
    """As in `Face`; of a hole's reveals."""
    passages: tuple[Passage, ...] = ()


@dataclass(frozen=True, slots=True)
class Zone:
    """A stretch of a part's edge, in metres from the edge's start."""

    start_m: float
    end_m: float
    bands: tuple[Band, ...]
    """From the ceiling down; none for a gap."""
    gap: Passage | None = None


@dataclass(frozen=True, slots=True)
class Side:
    """One edge of a part: where it lies, and its zones in order."""

    segment_m: Segment
    wall: str | None
    zones: tuple[Zone, ...]


@dataclass(frozen=True, slots=True)
class _Feature:
    """A rectangle on a wall; later ones lie over earlier ones."""

    start_m: float
    end_m: float
    low_m: float
    high_m: float
    surface: str
    passages: tuple[Passage, ...] = ()


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
            passages = self.space.part(key).passages
            points |= {p for each in passages for p in (*each.lefts, *each.rights)}
            self._uprights[key] = np.array([complex(*point) for point in sorted(points)])
        return self._uprights[key]

    def height_m(self, room: str) -> float:
        return self.house.rooms[room].height_m or CEILING_M

    def is_outdoors(self, room: str) -> bool:
        return self.house.rooms[room].use == "outdoor"

    def hole_height_m(self, key: str) -> float:
        """Of an opening: as measured or usual for its kind, and no higher than either room."""
        opening = self.house.openings[key]
        rooms = [self.height_m(room) for room in opening.between]
        return min(*rooms, opening_height_m(self.house, opening) or CEILING_M)

    def in_wall_m(self, room: str, key: str) -> Segment | None:
        """Where an opening lies in the room's wall, by measures; None where none tell."""
        placed = self.plan.openings.get(key)
        between = self.house.openings[key].between
        if placed and placed.measured:
            return placed.near_m if room == between[0] else placed.far_m
        own = sides(self.house, self.house.openings[key])[between.index(room)]
        if own is None or not own.has_width:
            return None
        return moved_segment(own.segment_m, self.plan.rooms[room].at_m)

    def _side(self, key: PartKey, edge: Segment, wall: int | None) -> Side:
        passages = self.space.part(key).passages
        if wall is None:
            return Side(edge, None, tuple(_gap_zones(edge, passages)))
        room = self.house.rooms[key[0]]
        wall_key = str(wall) if room.outline_m else "senw"[wall]
        holes = list(self._holes(key[0], edge, passages))
        features = [
            *self._plain(room, wall_key, has_hole=bool(holes), height_m=self.height_m(key[0])),
            *holes,
            *self._windows(key[0], wall_key, edge),
        ]
        return Side(edge, wall_key, tuple(_zones(edge, self.height_m(key[0]), features)))

    def _plain(
        self, room: Room, wall_key: str, *, has_hole: bool, height_m: float
    ) -> Iterator[_Feature]:
        """The bare wall and its skirting; outdoors only the house's own walls stand."""
        if room.use == "outdoor":
            yield _Feature(-inf, inf, 0.0, height_m, "walls" if has_hole else SKY)
            return
        surface = f"accent {wall_key}" if wall_key in room.accents else "walls"
        yield _Feature(-inf, inf, 0.0, height_m, surface)
        yield _Feature(-inf, inf, 0.0, SKIRTING_M, "trim")

    def _holes(self, room: str, edge: Segment, passages: Sequence[Passage]) -> Iterator[_Feature]:
        """Openings with their casing, where one sees through, and the doors of the others."""
        for key, opening in self.graph.openings_of(room).items():
            segment = self.in_wall_m(room, key)
            span = _span(edge, segment) if segment else None
            if span is None:
                continue
            high = self.hole_height_m(key)
            if opening.kind != "open":
                yield _Feature(span[0] - CASING_M, span[1] + CASING_M, 0.0, high + CASING_M, "trim")
            shut = not opening.seen_through
            yield _Feature(*span, 0.0, high, "doors" if shut else OPENING)
            if opening.kind == "stairs" and self._leads_up(room, opening):
                yield from _steps(span, high)
            reveal = "walls" if opening.kind == "open" else "trim"
            for piece, several in _by_near_end(edge, key, passages):
                yield _Feature(*piece, 0.0, high, reveal, several)

    def _leads_up(self, room: str, opening: Opening) -> bool:
        lower, upper = sorted(self.house.rooms[each].level for each in opening.between)
        return self.house.rooms[room].level == lower < upper

    def _windows(self, room: str, wall_key: str, edge: Segment) -> Iterator[_Feature]:
        wall, at = wall_of(self.house.rooms[room], wall_key), self.plan.rooms[room].at_m
        for window in self.house.rooms[room].windows.values():
            if window.wall != wall_key or wall is None:
                continue
            ends = wall.at(window.along_m), wall.at(window.along_m + window.width_m)
            span = _span(edge, moved_segment(ends, at))
            if span:
                low, high = window.sill_m, window.sill_m + window.height_m
                yield _Feature(
                    span[0] - CASING_M, span[1] + CASING_M, low - CASING_M, high + CASING_M, "trim"
                )
                yield _Feature(*span, low, high, WINDOW)


def _steps(span: tuple[float, float], high_m: float) -> Iterator[_Feature]:
    """A flight as seen from its foot, in the plane of the wall."""
    yield _Feature(*span, 0.0, high_m, RISER)
    for k in range(1, int(high_m / RISE_M) + 1):
        yield _Feature(*span, k * RISE_M - NOSING_M, k * RISE_M, TREAD)


def _ends(side: Side, zone: Zone) -> tuple[Point, Point]:
    start, along = side.segment_m[0], unit(minus(side.segment_m[1], side.segment_m[0]))
    return plus(start, scaled(along, zone.start_m)), plus(start, scaled(along, zone.end_m))


def _position(edge: Segment, point: Point) -> float:
    return dot(unit(minus(edge[1], edge[0])), minus(point, edge[0]))


def _length(edge: Segment) -> float:
    return _position(edge, edge[1])


def _span(edge: Segment, segment: Segment) -> tuple[float, float] | None:
    """Where a segment lies along an edge, ends included that reach past it; None if elsewhere."""
    run = minus(edge[1], edge[0])
    if any(abs(cross(run, minus(end, edge[0]))) > ON_WALL_M * _length(edge) for end in segment):
        return None
    start, end = sorted(_position(edge, point) for point in segment)
    return (start, end) if start < _length(edge) and end > 0 else None


def _gap_zones(edge: Segment, passages: Sequence[Passage]) -> Iterator[Zone]:
    """The gaps that lie on an edge, from its start."""
    gaps = [each for each in passages if each.opening is None]
    spans = [
        (span, each) for each in gaps if (span := _span(edge, (each.rights[0], each.lefts[0])))
    ]
    for (start, end), each in sorted(spans, key=lambda found: found[0]):
        yield Zone(start, end, (), each)


def _by_near_end(
    edge: Segment, opening: str, passages: Sequence[Passage]
) -> Iterator[tuple[tuple[float, float], tuple[Passage, ...]]]:
    """The passages of an opening that begin on an edge; more than one where parts meet beyond."""
    found: dict[tuple[float, float], list[Passage]] = defaultdict(list)
    for each in passages:
        if each.opening == opening:
            span = _span(edge, (each.rights[0], each.lefts[0]))
            if span:
                found[span].append(each)
    for span, several in found.items():
        yield span, tuple(several)


def _zones(edge: Segment, height_m: float, features: Sequence[_Feature]) -> Iterator[Zone]:
    length = _length(edge)
    ends = {end for each in features for end in (each.start_m, each.end_m) if 0 < end < length}
    for start, end in pairwise(sorted({0.0, length, *ends})):
        over = [each for each in features if each.start_m < (start + end) / 2 < each.end_m]
        yield Zone(start, end, tuple(_bands(over, height_m)))


def _bands(over: Sequence[_Feature], height_m: float) -> Iterator[Band]:
    """What shows of features that lie over each other, from the ceiling down."""
    ends = {z for each in over for z in (each.low_m, each.high_m) if 0 < z < height_m}
    pieces = list(pairwise(sorted({0.0, height_m, *ends}, reverse=True)))
    top = [_uppermost(over, (low + high) / 2) for high, low in pieces]
    for _, group in groupby(zip(pieces, top, strict=True), key=lambda piece: id(piece[1])):
        (first, feature), *rest = group
        low = rest[-1][0][1] if rest else first[1]
        yield Band(low, first[0], feature.surface, feature.passages)


def _uppermost(over: Sequence[_Feature], z: float) -> _Feature:
    # With the ends: there is no number between 2.6 and 2.5999999999999996, which is 0.01 + 2.59.
    return [each for each in over if each.low_m <= z <= each.high_m][-1]
