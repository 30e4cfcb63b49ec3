"""What a survey line means in a house: the house as it becomes, and what was understood."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from operator import itemgetter
from typing import TYPE_CHECKING, Any, NamedTuple

from housemap.errors import InputError, Problem
from housemap.model.edits import free_id, new_id
from housemap.model.geometry import (
    Box,
    Polygon,
    Wall,
    box_m,
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
from housemap.model.house import (
    CONDITIONS,
    Finish,
    House,
    Lamp,
    Opening,
    Paint,
    Point,
    Room,
    State,
    Units,
    Window,
)
from housemap.model.lengths import format_length
from housemap.model.text import number_text, shown
from housemap.model.validation import SLACK_M, problems, sentence
from housemap.plan.floor_plan import (
    FACING,
    OPPOSITE,
    SIDE_WORDS,
    Plan,
    compass_side,
    measured_tie,
    plan_side,
)
from housemap.plan.placing import place
from housemap.plan.schematic import meet
from housemap.workbench.survey.grammar import fault
from housemap.workbench.survey.vocabulary import (
    COLOURS,
    GROUNDS,
    LEAST_LUMENS,
    LEAST_ROOM_M,
    MOST_LUMENS,
    SIDES,
    USUAL_KELVIN,
    USUAL_LUMENS,
    Along,
    Clause,
    Cut,
    FinishWords,
    LampWords,
    Line,
    NowWords,
    OpeningWords,
    RoomWords,
    Side,
    Span,
    WindowWords,
    nearest_name,
    room_word,
    use_of,
    usual_m,
    usual_role,
)

if TYPE_CHECKING:
    from housemap.workbench.typed_paint import NamedColour


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


def ends_of(wall: Wall) -> tuple[Side, Side]:
    """The sides where its two ends lie; along is 0 at the first."""
    (x0, y0), (x1, y1) = wall.start_m, wall.end_m
    if abs(x1 - x0) >= abs(y1 - y0):
        return ("w", "e") if x1 > x0 else ("e", "w")
    return ("s", "n") if y1 > y0 else ("n", "s")


COMPASS_ENDS = {"n": ("w", "e"), "s": ("w", "e"), "e": ("s", "n"), "w": ("s", "n")}
"""Of a room without measures."""


def along_m(along: Along, wall: Wall | None, width_m: float, span: Span, units: Units) -> float:
    """From the wall's own start."""
    metres = along.metres
    if along.end is not None and wall is None:
        fault(span, "how long the wall is, is not known: count from its other end")
    if along.end is not None and wall is not None:
        start, end = ends_of(wall)
        if along.end not in (start, end):
            sides = f"{SIDE_WORDS[start]} or {SIDE_WORDS[end]}"
            fault(span, f"this wall's ends lie {sides}, not {SIDE_WORDS[along.end]}")
        metres = metres if along.end == start else wall.length_m - metres - width_m
    if wall is not None and not -SLACK_M <= metres <= wall.length_m - width_m + SLACK_M:
        reach = f"{format_length(along.metres, units)} and {format_length(width_m, units)}"
        fault(span, f"{reach} do not fit: the wall is {format_length(wall.length_m, units)} long")
    return max(round(metres, 7), 0.0)


def along_words(metres: float, wall: Wall | None, key: str | None, units: Units) -> str:
    """As in "1.20 m from its west end"."""
    ends = ends_of(wall) if wall else COMPASS_ENDS.get(key or "")
    end = f"its {SIDE_WORDS[ends[0]]} end" if ends else "its start"
    return f"{format_length(metres, units)} from {end}"


NEAR_M = 0.002
"""Walls so near to one line count as in line."""
CLEAR_M2 = 0.01
"""Rooms that share less floor than this do not count as lying in each other."""


class Spot(NamedTuple):
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
    tries = _Tries(house, plan, key, spare / 2)
    offers = sorted({round(each, 7) for each in tries.offers()})
    fitting = [max(each, 0.0) for each in offers if -NEAR_M <= each <= spare + NEAR_M]
    found = [tries.at(each) for each in fitting or [max(spare, 0.0) / 2]]
    return max(found, key=itemgetter(0))[1]


class _Tries:
    """The places that the room behind an opening may have in the plan."""

    def __init__(self, house: House, plan: Plan, key: str, centre_m: float) -> None:
        self._house, self._key, self._centre_m = house, key, centre_m
        self._opening = house.openings[key]
        first, self._room = self._opening.between
        self._at_m = plan.rooms[first].at_m
        own_level, level = house.rooms[self._room].level, house.rooms[first].level
        self._same_level = own_level == level
        on_levels = (
            {r: p.outline_m for r, p in plan.rooms.items() if p.level == each and p.measured}
            for each in (own_level, level)
        )
        self._others: Mapping[str, Polygon] = next(filter(None, on_levels), {})
        zero, one = (box_of(self._outline(along)) for along in (0.0, 1.0))
        self._axis = 0 if abs(one[0] - zero[0]) > abs(one[1] - zero[1]) else 1
        self._zero, self._slope = zero, one[self._axis] - zero[self._axis]

    def offers(self) -> Iterator[float]:
        """Distances along its own wall that bring an end of the room in line with another's."""
        if abs(self._slope) > NEAR_M:
            for other in map(box_of, self._others.values()):
                for end, lines in self._lines(other).items():
                    for line in lines:
                        yield (line - self._zero[end]) / self._slope

    def at(self, to_along_m: float) -> tuple[tuple[float, ...], Spot]:
        """How good a place is (little floor shared, many ends in line, near the centre), and it."""
        outline = self._outline(to_along_m)
        own = box_of(outline)
        shared, in_line, beside = 0.0, 0, None
        for room, other in self._others.items():
            box = box_of(other)
            ends = sum(
                any(abs(own[end] - line) <= NEAR_M for line in lines)
                for end, lines in self._lines(box).items()
            )
            beside = room if ends and beside is None else beside
            in_line += ends
            if meet(own, box) and self._same_level:
                shared += overlap_area_m2(outline, other)
        off_centre = round(abs(to_along_m - self._centre_m), 6)
        worth = (-shared if shared > CLEAR_M2 else 0.0, in_line, -off_centre)
        return worth, Spot(to_along_m, beside)

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


def opening_of(
    house: House, here: str, there: str, words: OpeningWords, key: str | None
) -> tuple[Opening, str]:
    """An opening in a wall made of its words, and how it was understood."""
    units, into = house.units, words.into
    room, other = house.rooms[here], house.rooms[there]
    kind = "open plan" if words.kind == "open" else words.kind
    said = [f"{kind} that stands shut" if words.shut else kind]
    if words.kind == "doorway" and not words.shut and "outdoor" in {room.use, other.use}:
        words, said = replace(words, shut=True), ["doorway that stands shut (usual outdoors)"]
    wall = wall_of(room, key or "")
    to_key = (
        wall_meant(other, into.wall, into.spans["wall"])
        if into.wall
        else facing(other, wall, compass_side(room, key))
    )
    to_wall = wall_of(other, to_key or "")
    width, along, to_along = words.width_m, None, None
    if width is not None:
        said.append(f"{format_length(width, units)} wide")
    elif words.along is not None:
        width = usual_m(words.kind, units)
        said.append(f"{format_length(width, units)} wide (usual)")
    elif words.kind == "open" and wall and to_wall:
        width, along = min(wall.length_m, to_wall.length_m), 0.0
        said.append(f"{format_length(width, units)} wide, the whole wall")
    if words.along is not None:
        span = words.spans["along"]
        if words.wall is None:
            fault(span, "in which wall? Begin with n, e, s or w")
        along = along_m(words.along, wall, width or 0.0, span, units)
        said.append(along_words(along, wall, words.wall, units))
    elif along is None and words.wall:
        said.append("where in the wall is not said")
    if into.along is not None:
        span = into.spans["along"]
        if to_key is None:
            fault(span, f"in which wall of {into.name}? Write wall n, e, s or w")
        to_along = along_m(into.along, to_wall, width or 0.0, span, units)
    opening = Opening(
        between=(here, there), kind=words.kind, door="shut" if words.shut else "open",
        wall=key, along_m=along, to_wall=to_key, to_along_m=to_along,
        width_m=width, height_m=words.height_m, stop=words.stop,
    )  # fmt: skip
    return opening, ", ".join(said)


# Rooms out of their words, with what is taken where nothing is said


def size_words(size_m: Point, units: Units) -> str:
    return " x ".join(format_length(each, units) for each in size_m)


def outline_of(size_m: Point, cut: Cut) -> tuple[Point, ...]:
    """The corners of an L: a box less one of its corners, counter-clockwise."""
    (x, y), (a, b) = size_m, cut.size_m
    match cut.corner:
        case "ne":
            return (0, 0), (x, 0), (x, y - b), (x - a, y - b), (x - a, y), (0, y)
        case "nw":
            return (0, 0), (x, 0), (x, y), (a, y), (a, y - b), (0, y - b)
        case "se":
            return (0, 0), (x - a, 0), (x - a, b), (x, b), (x, y), (0, y)
        case "sw":
            return (a, 0), (x, 0), (x, y), (0, y), (0, b), (a, b)


def _shape(room: Room, words: RoomWords, units: Units) -> dict[str, Any]:
    """The size or outline that was said; nothing where none was. A height is looked at."""
    if words.height_m is not None and words.height_m < LEAST_ROOM_M:
        low, least = (format_length(each, units) for each in (words.height_m, LEAST_ROOM_M))
        fault(words.spans["height_m"], f"{low} high? A room has {least} or more")
    if words.size_m is None and words.cut is None:
        return {}
    size = words.size_m or box_m(room)
    if size is None:
        fault(words.spans["cut"], f"{room.name} has no size yet: write it before less")
    if words.cut is None:
        return {"size_m": size, "outline_m": None}
    if any(a >= whole - SLACK_M for a, whole in zip(words.cut.size_m, size, strict=True)):
        text = f"what is left out must be smaller than the room, {size_words(size, units)}"
        fault(words.spans["cut"], text)
    outline = outline_of(size, words.cut)
    rounded = tuple((round(x, 7) + 0.0, round(y, 7) + 0.0) for x, y in outline)
    return {"size_m": None, "outline_m": rounded}


def new_room(house: House, words: RoomWords, here: Room | None, level: int) -> tuple[Room, str]:
    """A new room beside `here`, and how it was understood."""
    units = house.units
    room = Room(words.name, level if words.level is None else words.level)
    room = replace(room, **_shape(room, words, units))
    said = [_shape_words(room, words, units)]
    height, source = words.height_m, ""
    if height is None and here is not None:
        height, source = here.height_m, f" (as {here.name})"
    elif height is None:
        height, source = usual_m("room high", units), " (usual)"
    if height is not None:
        said.append(f"{format_length(height, units)} high{source}")
    use = words.use or use_of(words.name)
    near = None if words.quoted else room_word(words.name)
    why = f"by its name: did you mean {near}?" if near else "by its name"
    said.append(use if words.use else f"{use} ({why})")
    role = words.role or usual_role(use)
    if role:
        said.append(role if words.role else f"{role} (it links rooms)")
    if room.level != (here.level if here else 0):
        said.append(f"level {room.level}")
    room = replace(room, height_m=height, use=use, role=role)
    return room, f"{words.name}, {', '.join(said)}"


def _shape_words(room: Room, words: RoomWords, units: Units) -> str:
    size = box_m(room)
    if size is None:
        return "not measured"
    less = f" less {size_words(words.cut.size_m, units)} {words.cut.corner}" if words.cut else ""
    return f"{size_words(size, units)}{less}"


def changed(house: House, room: Room, words: RoomWords) -> tuple[Room, str]:
    """A room with what was said of it changed, and the changes in words."""
    units = house.units
    values = _shape(room, words, units)
    for attr in ("height_m", "use", "role", "level"):
        value = getattr(words, attr)
        if value is not None:
            values[attr] = value
    after = replace(room, **values)
    return after, ", ".join(_changes(room, after, words, units)) or "as it is"


def _changes(room: Room, after: Room, words: RoomWords, units: Units) -> Iterator[str]:
    if (room.size_m, room.outline_m) != (after.size_m, after.outline_m):
        box = box_m(room)
        was = f", was {size_words(box, units)}" if box else ""
        yield f"{_shape_words(after, words, units)}{was}"
    if room.height_m != after.height_m and after.height_m is not None:
        was = f", was {format_length(room.height_m, units)}" if room.height_m is not None else ""
        yield f"{format_length(after.height_m, units)} high{was}"
    for attr in ("use", "role", "level"):
        if getattr(room, attr) != getattr(after, attr):
            yield f"{attr} {getattr(after, attr)}"


# Windows and lamps


Part = tuple[str, Window | Lamp, str]
"""A part of a room that was made of its words: its id, itself, and how they were understood."""


def window(house: House, room: Room, words: WindowWords) -> Part:
    units, spans = house.units, words.spans
    key = wall_meant(room, words.wall, spans["wall"])
    wall = wall_of(room, key)
    width = usual_m("window", units) if words.width_m is None else words.width_m
    sill = usual_m("sill", units) if words.sill_m is None else words.sill_m
    height = words.height_m or _window_height(room, sill, units)
    if words.along is not None:
        along = along_m(words.along, wall, width, spans["along"], units)
        where = along_words(along, wall, key, units)
    elif wall is None:
        fault(spans["whole"], "how far along the wall? Write at 0.6", unfinished=True)
    else:
        middle = Along(round(max(wall.length_m - width, 0.0) / 2, 4))
        along = along_m(middle, wall, width, spans.get("width_m", spans["wall"]), units)
        where = "in the middle (assumed)"
    usual = " (usual)" if words.width_m is None or words.height_m is None else ""
    usual_sill = " (usual)" if words.sill_m is None else ""
    place = f"{plan_side(room, key, house.north_deg)} of {room.name}"
    said = (
        f"{place}: window {size_words((width, height), units)}{usual}, {where},"
        f" sill {format_length(sill, units)}{usual_sill}"
    )
    name = free_id(f"window-{key}", room.windows, "window")
    return name, Window(key, along, width, height, sill), said


def _window_height(room: Room, sill_m: float, units: Units) -> float:
    """The usual height, or what the room leaves above the sill."""
    usual = usual_m("window high", units)
    space = (room.height_m or usual + sill_m) - sill_m
    return round(min(usual, space), 7) if space > SLACK_M else usual


def lamp(house: House, room: Room, words: LampWords) -> Part:
    """Raises WordError where the number is of something else, such as of watts."""
    lumens = USUAL_LUMENS if words.lumens is None else words.lumens
    if not LEAST_LUMENS <= lumens <= MOST_LUMENS:
        watts = f", or {lumens:g} watt" if lumens < LEAST_LUMENS else ""
        known = f"A lamp gives {LEAST_LUMENS:g} to {number_text(MOST_LUMENS)} lm"
        fault(words.spans["lumens"], f"{number_text(lumens)} lm{watts}? {known}")
    usual = None if words.spectrum else USUAL_KELVIN
    kelvin = usual if words.kelvin is None else words.kelvin
    made = Lamp(lumens, kelvin, words.spectrum, words.aim or "all", words.at_m)
    place = "in the middle"
    if words.at_m is not None:
        east, north, up = (format_length(each, house.units) for each in words.at_m)
        place = f"{east} from the west wall, {north} from the south wall, {up} up"
    said = [
        f"{lumens:g} lm{' (usual)' if words.lumens is None else ''}",
        *([f"{kelvin:g} K{' (usual)' if words.kelvin is None else ''}"] if kelvin else []),
        {"down": "shining down", "up": "shining up", "all": "shining all round"}[made.aim],
        *([words.spectrum] if words.spectrum else []),
        place,
    ]
    return free_id("lamp", room.lamps, "lamp"), made, f"{room.name}: lamp, {', '.join(said)}"


# The line


class Meaning(NamedTuple):
    """A house with what was said so far, and where one stands."""

    house: House
    here: str | None
    """The room that the next clause is about."""
    home: str | None
    """The room that the next line is about."""
    phrases: tuple[str, ...] = ()
    """What was understood, a phrase each."""
    labels: tuple[str, ...] = ()
    """What was done, shorter."""

    @property
    def label(self) -> str:
        return "; ".join(self.labels)

    @property
    def room(self) -> Room:
        assert self.here is not None
        return self.house.rooms[self.here]

    @property
    def in_short(self) -> str:
        """What the last clause means, and what the ones before it did, in fewer words."""
        return "; ".join((*self.labels[: len(self.phrases) - 1], *self.phrases[-1:]))

    @property
    def where(self) -> str:
        """What the next line is about, where it is not what this one ended with."""
        if self.home is None or self.home == self.here or self.here is None:
            return ""
        home, here = (self.house.rooms[room].name for room in (self.home, self.here))
        return f"Still in {home}: type {here} to go in."

    def with_said(self, phrase: str, label: str) -> "Meaning":
        return self._replace(phrases=(*self.phrases, phrase), labels=(*self.labels, label))


def meaning_of(line: Line, house: House, room: str | None) -> Meaning:
    """Make the edits that a line asks for, `room` being the one where it begins.

    Raises WordError at the word that does not fit the house.
    """
    spoken = house if line.units == house.units else replace(house, units=line.units)
    meaning = Meaning(spoken, room, room)
    for clause in line.clauses:
        meaning = _step(meaning, clause)
    if meaning.house is spoken:
        return meaning._replace(house=house)
    if spoken is house or not house.rooms:
        return meaning  # the first room of a house says in which units it is measured
    return meaning._replace(house=replace(meaning.house, units=house.units))


def _step(meaning: Meaning, clause: Clause) -> Meaning:
    """Raises WordError where the house would not be a legal one."""
    if meaning.here is None and not (isinstance(clause, RoomWords) and clause.name):
        text = "there is no room yet: type the first one, such as Hall 1.8 x 5.2"
        fault(clause.spans["whole"], text)
    match clause:
        case RoomWords(name=""):
            room, said = changed(meaning.house, meaning.room, clause)
            after = _put(meaning, "rooms", meaning.here, room).with_said(
                f"{room.name}: {said}", f"{room.name} changed"
            )
        case RoomWords():
            after = _room(meaning, clause)
        case OpeningWords():
            after = _opening(meaning, clause)
        case WindowWords():
            after = _part(meaning, "window", window(meaning.house, meaning.room, clause))
        case LampWords():
            after = _part(meaning, "lamp", lamp(meaning.house, meaning.room, clause))
        case FinishWords():
            after = _kept(meaning, clause)
        case NowWords():
            after = _there_now(meaning, clause)
    if after.house is not meaning.house and (found := problems(after.house)):
        fault(_span(found[0], clause), _phrase(found[0]))
    return after


def _put(meaning: Meaning, table: str, key: str | None, entity: Any) -> Meaning:
    entries: Any = {table: {**getattr(meaning.house, table), key: entity}}
    return meaning._replace(house=replace(meaning.house, **entries))


def _part(meaning: Meaning, kind: str, part: Part) -> Meaning:
    key, entity, said = part
    table = f"{kind}s"
    entries: Any = {table: {**getattr(meaning.room, table), key: entity}}
    room = replace(meaning.room, **entries)
    label = f"{kind} in {room.name}"
    return _put(meaning, "rooms", meaning.here, room).with_said(said, label)


# What is kept, and what is there now


def _kept(meaning: Meaning, words: FinishWords) -> Meaning:
    """A finish of the house by its name, else a new one."""
    house, room, where = meaning.house, meaning.room, "floor" if words.is_floor else "kept"
    known, said = _named(house.finishes, words.text), "as in the house already"
    if known is None:
        typed = _colour_in(words.text, words.spans["text"])
        finish = typed.finish
        if finish is None:
            text = f"{shown(words.text)} is new: write its colour behind it, as in {COLOURS}"
            fault(words.spans["text"], text, unfinished=True)
        alike = (key for key, each in house.finishes.items() if each == finish)
        known = next(alike, None)
        if known is None:
            known = new_id(house, "finishes", finish.name)
            meaning = _put(meaning, "finishes", known, finish)
            said = ", ".join(filter(None, ("new", typed.how)))
    name = meaning.house.finishes[known].name
    fixed = (*(each for each in room.fixed if each != known), known)
    room = replace(room, floor=known) if words.is_floor else replace(room, fixed=fixed)
    return _put(meaning, "rooms", meaning.here, room).with_said(
        f"{room.name}: {where} {name} ({said})", f"{where} of {room.name}"
    )


def _named(table: Mapping[str, Finish] | Mapping[str, Paint], text: str) -> str | None:
    """What has that name, else the only one whose name begins so."""
    plain, names = text.casefold(), {key: each.name.casefold() for key, each in table.items()}
    begun = [key for key, name in names.items() if name.startswith(plain)]
    whole = (key for key, name in names.items() if name == plain)
    return next(whole, begun[0] if len(begun) == 1 else None)


def _colour_in(text: str, span: Span) -> "NamedColour":
    from housemap.workbench.typed_paint import named_colour  # noqa: PLC0415 - numpy, when asked for

    try:
        return named_colour(text)
    except InputError as error:
        fault(span, str(error))


def _there_now(meaning: Meaning, words: NowWords) -> Meaning:
    """A paint of the house, a colour, a ground, a condition: what is said of them is noted."""
    house, room, span = meaning.house, meaning.room, words.spans["text"]
    before = room.states.get(words.surface, State())
    text, condition = words.text, before.condition
    for each in CONDITIONS:
        alone = rf",?\s*(?<![\w-]){each}(?![\w-]),?"
        text, found = re.subn(alone, " ", text, flags=re.IGNORECASE)
        condition = each if found else condition
    text = text.strip()
    ground, paint = GROUNDS.get(text.casefold()), _named(house.paints, text)
    if ground or not text:
        state = replace(before, condition=condition)
        state = replace(state, ground=ground, paint=None, colour=None) if ground else state
    elif paint:
        state = State(paint=paint, condition=condition)
    else:
        colour = _colour_in(text, span).colour
        if colour is None:
            says = f"{shown(text)} is no paint of the house: write its colour, as in {COLOURS}"
            fault(span, says, unfinished=True)
        state = State(colour=colour, condition=condition)
    room = replace(room, states={**room.states, words.surface: state})
    return _put(meaning, "rooms", meaning.here, room).with_said(
        f"{room.name}: {words.surface} now {words.text}; what is planned is left as it is",
        f"{words.surface} of {room.name} now",
    )


# Rooms


def _known(house: House, words: RoomWords) -> str | None:
    """The room of that name, or with that id."""
    plain = words.name.casefold()
    named = [key for key, room in house.rooms.items() if room.name.casefold() == plain]
    found = named or [key for key in house.rooms if key == plain]
    if not found and not words.quoted:
        near = nearest_name(words.name, (room.name for room in house.rooms.values()))
        if near:
            text = f"{shown(words.name)}: did you mean {near}? For a new room put it in quotes"
            fault(words.spans["name"], text, unfinished=True)
    if len(found) > 1:
        fault(words.spans["name"], f"several rooms have this name: write {' or '.join(found)}")
    return found[0] if found else None


def _room(meaning: Meaning, words: RoomWords) -> Meaning:
    """Go to a room there is, change it, or add a new one."""
    house, known = meaning.house, _known(meaning.house, words)
    if known is not None:
        room = house.rooms[known]
        gone = meaning._replace(here=known, home=known)
        if words.is_bare:
            return gone.with_said(f"go to {room.name}", room.name)
        room, said = changed(house, room, words)
        return _put(gone, "rooms", known, room).with_said(
            f"{room.name}, which is there: {said}", f"{room.name} changed"
        )
    if words.size_m is None and house.rooms:
        text = f"no room has this name; with its size it is a new one: {words.name} 3.1 x 2.8"
        fault(words.spans["name"], text, unfinished=True)
    here = house.rooms[meaning.here] if meaning.here else None
    room, said = new_room(house, words, here, here.level if here else 0)
    key = new_id(house, "rooms", room.name)
    apart = ", not joined to any other" if house.rooms else ""
    after = _put(meaning._replace(here=key, home=key), "rooms", key, room)
    return after.with_said(f"new room {said}{apart}", f"{room.name} added")


# Openings


def _opening(meaning: Meaning, words: OpeningWords) -> Meaning:
    """Join the room to another one, which is added where there is none of that name."""
    house, here, room = meaning.house, meaning.here, meaning.room
    assert here is not None
    wall = wall_meant(room, words.wall, words.spans["wall"]) if words.wall else None
    known = _known(house, words.into)
    if known == here:
        fault(words.into.spans["name"], f"{room.name} cannot open into itself")
    if known is None:
        level = room.level + (words.rise or (1 if words.kind == "stairs" else 0))
        other, said = new_room(house, words.into, room, level)
        key = new_id(house, "rooms", other.name)
        meaning = _put(meaning, "rooms", key, other)
    else:
        other, key = house.rooms[known], known
        said = f"{other.name}, which is there"
        for said_of_new in ("size_m", "height_m", "cut", "use", "role", "level"):
            if span := words.into.spans.get(said_of_new):
                text = f"there is a {other.name} already: leave this out, or give another name"
                fault(span, text)
    opening, spoken = opening_of(meaning.house, here, key, words, wall)
    name = new_id(house, "openings", f"{here}-{key}")
    after = _put(meaning, "openings", name, opening)
    if opening.to_along_m is None and known is None:
        after, spot = _spotted(after, name, place(house))
        said += spot
    where = f"{plan_side(room, wall, house.north_deg)} of {room.name}" if wall else room.name
    after = after.with_said(
        f"{where}: {spoken}, to {'' if known else 'new room '}{said}",
        f"{other.name} joined to {room.name}" if known else f"{other.name} added to {room.name}",
    )
    return after._replace(here=here if words.outer else key)


def _spotted(meaning: Meaning, key: str, plan: Plan) -> tuple[Meaning, str]:
    """Where the new room's own measure is missing, take the likeliest one, and say so."""
    house = meaning.house
    spot = likely_spot(house, plan, key)
    if spot is None:
        return meaning, ""
    opening = replace(house.openings[key], to_along_m=spot.to_along_m)
    other = house.rooms[opening.between[1]]
    wall = wall_of(other, opening.to_wall or "")
    where = along_words(spot.to_along_m, wall, opening.to_wall, house.units)
    line = f", in line with {house.rooms[spot.beside].name}" if spot.beside else ""
    return _put(meaning, "openings", key, opening), f"; there {where} (assumed{line})"


# What does not fit the house

_PART_OF = {
    "along": "along", "width": "width_m", "height": "height_m", "sill": "sill_m", "size": "size_m",
    "wall": "wall", "level": "level", "lumens": "lumens", "kelvin": "kelvin", "at": "at_m",
    "name": "name", "outline": "cut", "door": "shut", "stop": "stop",
}  # fmt: skip
"""Which part of a clause says what stands at a key of the file."""


def _span(problem: Problem, clause: Clause) -> Span:
    places = [clause.spans]
    if isinstance(clause, OpeningWords):
        into = clause.into.spans
        places = [into, clause.spans] if problem.path[:1] == ("room",) else [clause.spans, into]
    keys = [_PART_OF[key] for key in problem.path if key in _PART_OF]
    found: Iterator[Span] = (spans[k] for k in keys for spans in places if k in spans)
    return next(found, clause.spans["whole"])


def _phrase(problem: Problem) -> str:
    prefixes = (sentence(problem.path[:n], "") for n in (4, 2))
    whole = next((p for p in prefixes if p.endswith(": ") and problem.text.startswith(p)), "")
    return problem.text.removeprefix(whole)
