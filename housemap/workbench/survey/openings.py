"""Openings out of their words: which wall is meant, where along it, and what is assumed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NoReturn

from housemap.model.geometry import (
    Box,
    Polygon,
    Wall,
    box_of,
    dot,
    floor_outline_m,
    is_measured,
    moved,
    outward,
    overlap_area_m2,
    plus,
    wall_of,
    walls,
)
from housemap.model.house import House, Opening, Point, Room, Units
from housemap.model.lengths import format_length
from housemap.model.validation import SLACK_M
from housemap.plan.floor_plan import (
    FACING,
    OPPOSITE,
    SIDE_WORDS,
    PlacedRoom,
    Plan,
    compass_side,
    measured_tie,
)
from housemap.plan.schematic import meet
from housemap.workbench.survey.reader import WordError
from housemap.workbench.survey.words import (
    SIDES,
    Along,
    Fault,
    OpeningWords,
    Side,
    Span,
    usual_m,
)


def fault(span: Span, text: str, *, unfinished: bool = False) -> NoReturn:
    raise WordError(Fault(*span, text, unfinished))


def wall_meant(room: Room, key: str, span: Span) -> str:
    """The key of a wall named by its side or number; of several on a side the longest."""
    if not is_measured(room) or room.size_m is not None:
        if key not in SIDES:
            fault(span, f"{room.name} has the walls n, e, s and w")
        return key
    found = walls_on(room, key)
    if not found:
        offer = ", ".join(wall.key for wall in walls(room))
        fault(span, f"{room.name} has no wall {key}: it has {offer}")
    return max(found, key=lambda wall: wall.length_m).key


def walls_on(room: Room, key: str) -> Sequence[Wall]:
    """The walls with that number, or on that side."""
    return [w for w in walls(room) if w.key == key or compass_side(room, w.key) == key]


def facing(room: Room, other: Wall | None, side: str | None) -> str | None:
    """The wall of a room that faces another room's wall, which lies on `side` of that room."""
    opposite = OPPOSITE.get(SIDES[side]) if side is not None and side in SIDES else None
    if not is_measured(room) or room.size_m is not None:
        return opposite
    if other is None:
        found = walls_on(room, opposite or "")
    else:
        found = [wall for wall in walls(room) if dot(outward(wall), outward(other)) < FACING]
    return max(found, key=lambda wall: wall.length_m).key if found else None


@dataclass(frozen=True, slots=True)
class Ends:
    """The two ends of a wall by the sides where they lie: `start` is where along is 0."""

    start: Side
    end: Side


def ends_of(wall: Wall) -> Ends:
    (x0, y0), (x1, y1) = wall.start_m, wall.end_m
    if abs(x1 - x0) >= abs(y1 - y0):
        return Ends("w", "e") if x1 > x0 else Ends("e", "w")
    return Ends("s", "n") if y1 > y0 else Ends("n", "s")


COMPASS_ENDS = {"n": Ends("w", "e"), "s": Ends("w", "e"), "e": Ends("s", "n"), "w": Ends("s", "n")}
"""Of a room without measures."""


def along_m(along: Along, wall: Wall | None, width_m: float, span: Span, units: Units) -> float:
    """From the wall's own start."""
    if along.end is None:
        metres = along.metres
    elif wall is None:
        fault(span, "how long the wall is, is not known: count from its other end")
    else:
        metres = _counted(along, wall, width_m, span)
    if wall is not None and not -SLACK_M <= metres <= wall.length_m - width_m + SLACK_M:
        reach = f"{format_length(along.metres, units)} and {format_length(width_m, units)}"
        fault(span, f"{reach} do not fit: the wall is {format_length(wall.length_m, units)} long")
    return max(round(metres, 7), 0.0)


def _counted(along: Along, wall: Wall, width_m: float, span: Span) -> float:
    ends = ends_of(wall)
    if along.end == ends.start:
        return along.metres
    if along.end == ends.end:
        return wall.length_m - along.metres - width_m
    sides = f"{SIDE_WORDS[ends.start]} or {SIDE_WORDS[ends.end]}"
    fault(span, f"this wall's ends lie {sides}, not {SIDE_WORDS[str(along.end)]}")


def along_words(metres: float, wall: Wall | None, key: str | None, units: Units) -> str:
    """As in "1.20 m from its west end"."""
    ends = ends_of(wall) if wall else COMPASS_ENDS.get(key or "")
    end = f"its {SIDE_WORDS[ends.start]} end" if ends else "its start"
    return f"{format_length(metres, units)} from {end}"


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
            if meet(own, box) and self._same_level:
                shared += overlap_area_m2(outline, other)
        return _Try(Spot(to_along_m, beside), shared, in_line)

    def _outline(self, to_along_m: float) -> tuple[Point, ...]:
        opening = replace(self._opening, to_along_m=to_along_m)
        house = replace(self._house, openings={self._key: opening})
        found = measured_tie(house, self._key)
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


class Joint:
    """An opening made of its words, and how it was understood."""

    def __init__(
        self, house: House, here: str, there: str, words: OpeningWords, wall: str | None
    ) -> None:
        self._house, self._words = house, words
        self._room, self._other = house.rooms[here], house.rooms[there]
        self._wall = wall_of(self._room, wall or "")
        self._said: list[str] = []
        own = self._own_wall(wall)
        whole = self._whole_wall(own)
        width = self._width(whole)
        along = self._along(width, whole)
        self.opening = Opening(
            between=(here, there), kind=words.kind, door="shut" if words.shut else "open",
            wall=wall, along_m=along, to_wall=own, to_along_m=self._to_along(own, width),
            width_m=width, height_m=words.height_m, stop=words.stop,
        )  # fmt: skip

    @property
    def said(self) -> str:
        words = self._words
        kind = "open plan" if words.kind == "open" else words.kind
        shut = " that stands shut" if words.shut else ""
        return ", ".join([f"{kind}{shut}", *self._said])

    def _own_wall(self, wall: str | None) -> str | None:
        """The wall in which one comes into the other room."""
        said = self._words.into.wall
        if said:
            return wall_meant(self._other, said, self._words.into.spans["wall"])
        return facing(self._other, self._wall, compass_side(self._room, wall))

    def _whole_wall(self, own: str | None) -> float | None:
        """How wide open plan is where nothing is said of it: as far as both walls go."""
        other = wall_of(self._other, own or "")
        words = self._words
        unsaid = words.kind == "open" and words.width_m is None and words.along is None
        if not unsaid or self._wall is None or other is None:
            return None
        return min(self._wall.length_m, other.length_m)

    def _width(self, whole: float | None) -> float | None:
        words, units = self._words, self._house.units
        if words.width_m is not None:
            self._said.append(f"{format_length(words.width_m, units)} wide")
            return words.width_m
        if whole is not None:
            self._said.append(f"{format_length(whole, units)} wide, the whole wall")
            return whole
        if words.along is None:
            return None
        width = usual_m(words.kind, units)
        self._said.append(f"{format_length(width, units)} wide (usual)")
        return width

    def _along(self, width: float | None, whole: float | None) -> float | None:
        words, units = self._words, self._house.units
        if whole is not None:
            return 0.0
        if words.along is None:
            if words.wall:
                self._said.append("where in the wall is not said")
            return None
        span = words.spans["along"]
        if words.wall is None:
            fault(span, "in which wall? Begin with n, e, s or w")
        along = along_m(words.along, self._wall, width or 0.0, span, units)
        self._said.append(along_words(along, self._wall, words.wall, units))
        return along

    def _to_along(self, own: str | None, width: float | None) -> float | None:
        into, units = self._words.into, self._house.units
        if into.along is None:
            return None
        span = into.spans["along"]
        if own is None:
            fault(span, f"in which wall of {into.name}? Write wall n, e, s or w")
        wall = wall_of(self._other, own)
        return along_m(into.along, wall, width or 0.0, span, units)
