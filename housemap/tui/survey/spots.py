"""Where a new room most likely lies behind an opening, when nobody has measured that yet."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from housemap.model.house import House, Point
from housemap.model.polygon import Box, Polygon, box_of, moved, overlap_area_m2
from housemap.model.shape import floor_outline_m, wall_of
from housemap.plan.joints import tie
from housemap.plan.placed import PlacedRoom, Plan
from housemap.plan.vectors import plus

NEAR_M = 0.002
"""Walls so near to one line count as in line."""
CLEAR_M2 = 0.01
"""Rooms that share less floor than this do not count as lying in each other."""


@dataclass(frozen=True, slots=True)
class Spot:
    """How far along its own wall the opening lies, and with which room its walls are in line."""

    to_along_m: float
    beside: str | None


def likely_spot(house: House, plan: Plan, key: str) -> Spot | None:
    """Of an opening into a room that nothing else places; None where too little is measured.

    Houses are built in line: of all places along the wall the one where the room lies in no other
    one and most of its ends are in line with theirs, then the one most nearly centred.
    """
    opening = house.openings[key]
    here, there = (house.rooms[room] for room in opening.between)
    if here.level != there.level and any(p.level == there.level for p in plan.rooms.values()):
        return None  # stairs place a level over another one, not a room in a level
    wall, own = wall_of(here, opening.wall or ""), wall_of(there, opening.to_wall or "")
    if wall is None or own is None or opening.along_m is None or opening.width_m is None:
        return None
    spare = own.length_m - opening.width_m
    tries = _Tries(house, plan, key)
    offers = sorted({round(each, 7) for each in tries.offers()})
    fitting = [max(each, 0.0) for each in offers if -NEAR_M <= each <= spare + NEAR_M]
    found = [tries.at(each) for each in fitting or [max(spare, 0.0) / 2]]
    return max(found, key=lambda each: each.worth(spare / 2)).spot


@dataclass(frozen=True, slots=True)
class _Try:
    """A spot, how much floor it shares with other rooms, and how many ends are in line."""

    spot: Spot
    shared_m2: float
    in_line: int

    def worth(self, centre_m: float) -> tuple[float, ...]:
        shared = self.shared_m2 if self.shared_m2 > CLEAR_M2 else 0.0
        return -shared, self.in_line, -round(abs(self.spot.to_along_m - centre_m), 6)


class _Tries:
    """The places that the room behind an opening may have in the plan."""

    def __init__(self, house: House, plan: Plan, key: str) -> None:
        self._house, self._key = house, key
        self._opening = house.openings[key]
        first, self._room = self._opening.between
        self._at_m = plan.rooms[first].at_m
        levels = (house.rooms[room].level for room in (self._room, first))
        on_levels = ({r: p for r, p in plan.rooms.items() if p.level == lvl} for lvl in levels)
        self._others = next(filter(None, map(_measured, on_levels)), {})
        zero, one = (box_of(self._outline(along)) for along in (0.0, 1.0))
        self._axis = 0 if abs(one[0] - zero[0]) > abs(one[1] - zero[1]) else 1
        self._zero, self._slope = zero, one[self._axis] - zero[self._axis]

    @property
    def _same_level(self) -> bool:
        first, second = (self._house.rooms[room] for room in self._opening.between)
        return first.level == second.level

    def offers(self) -> Iterator[float]:
        """Distances along its own wall that bring an end of the room in line with another's."""
        if abs(self._slope) > NEAR_M:
            for other in map(box_of, self._others.values()):
                for end, lines in self._lines(other).items():
                    for line in lines:
                        yield (line - self._zero[end]) / self._slope

    def at(self, to_along_m: float) -> _Try:
        outline = self._outline(to_along_m)
        own = box_of(outline)
        shared, in_line, beside = 0.0, 0, None
        for room, other in self._others.items():
            box = box_of(other)
            ends = self._in_line(own, box)
            beside = room if ends and beside is None else beside
            in_line += ends
            if _meet(own, box) and self._same_level:
                shared += overlap_area_m2(outline, other)
        return _Try(Spot(to_along_m, beside), shared, in_line)

    def _outline(self, to_along_m: float) -> tuple[Point, ...]:
        opening = replace(self._opening, to_along_m=to_along_m)
        house = replace(self._house, openings={self._key: opening})
        found = tie(house, self._key)
        floor = floor_outline_m(self._house.rooms[self._room])
        return moved(floor or (), plus(self._at_m, found.offset_m if found else (0.0, 0.0)))

    def _lines(self, box: Box) -> Mapping[int, tuple[float, float]]:
        """By end of the room (its index in a box): where it is in line with another room's."""
        low, high, wall = box[self._axis], box[self._axis + 2], self._house.wall_thickness_m
        return {self._axis: (low, high + wall), self._axis + 2: (high, low - wall)}

    def _in_line(self, own: Box, other: Box) -> int:
        return sum(
            any(abs(own[end] - line) <= NEAR_M for line in lines)
            for end, lines in self._lines(other).items()
        )


def _measured(rooms: Mapping[str, PlacedRoom]) -> Mapping[str, Polygon]:
    return {room: placed.outline_m for room, placed in rooms.items() if placed.measured}


def _meet(one: Box, other: Box) -> bool:
    return all(one[i] < other[i + 2] and other[i] < one[i + 2] for i in (0, 1))
