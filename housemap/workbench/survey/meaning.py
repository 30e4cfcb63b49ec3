"""What a survey line means in a house: the house as it becomes, and what was understood."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from housemap.errors import Problem
from housemap.model.edits import new_id
from housemap.model.geometry import wall_of
from housemap.model.house import House, Room
from housemap.model.text import shown
from housemap.model.validation import problems, sentence
from housemap.plan.floor_plan import Plan, plan_side
from housemap.plan.placing import place
from housemap.workbench.survey.openings import Joint, along_words, fault, likely_spot, wall_meant
from housemap.workbench.survey.rooms import Made, changed, lamp, new_room, window
from housemap.workbench.survey.words import (
    ChangeWords,
    Clause,
    LampWords,
    Line,
    OpeningWords,
    RoomWords,
    Span,
    WindowWords,
    nearest_name,
)

Placing = Callable[[House], Plan]


@dataclass(frozen=True, slots=True)
class Meaning:
    """A house with what was said so far, and where one stands."""

    house: House
    here: str | None
    """The room that the next clause is about."""
    home: str | None
    """The room that the next line is about."""
    told: tuple[str, ...] = ()
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
        return "; ".join((*self.labels[: len(self.told) - 1], *self.told[-1:]))

    def with_said(self, told: str, label: str) -> "Meaning":
        return replace(self, told=(*self.told, told), labels=(*self.labels, label))


def meaning_of(line: Line, house: House, room: str | None, placing: Placing = place) -> Meaning:
    """Make the edits that a line asks for, `room` being the one where it begins.

    Raises WordError at the word that does not fit the house.
    """
    spoken = house if line.units == house.units else replace(house, units=line.units)
    meaning = Meaning(spoken, room, room)
    for clause in line.clauses:
        meaning = _step(meaning, clause, placing)
    if meaning.house is spoken:
        return replace(meaning, house=house)
    if spoken is house or not house.rooms:
        return meaning  # the first room of a house says in which units it is measured
    return replace(meaning, house=replace(meaning.house, units=house.units))


def _step(meaning: Meaning, clause: Clause, placing: Placing) -> Meaning:
    whole = clause.spans["whole"]
    if isinstance(clause, RoomWords):
        after = _room(meaning, clause)
    elif meaning.here is None:
        fault(whole, "there is no room yet: type the first one, such as Hall 1.8 x 5.2")
    else:
        after = _inside(meaning, clause, placing)
    _judge(meaning.house, after.house, clause)
    return after


def _inside(meaning: Meaning, clause: Clause, placing: Placing) -> Meaning:
    match clause:
        case OpeningWords():
            return _opening(meaning, clause, placing)
        case WindowWords():
            return _part(meaning, "windows", window(meaning.house, meaning.room, clause))
        case LampWords():
            return _part(meaning, "lamps", lamp(meaning.house, meaning.room, clause))
        case ChangeWords():
            room, said = changed(meaning.house, meaning.room, clause)
            return _put(meaning, "rooms", meaning.here, room).with_said(
                f"{room.name}: {said}", f"{room.name} changed"
            )
        case RoomWords():
            return _room(meaning, clause)


def _put(meaning: Meaning, table: str, key: str | None, entity: Any) -> Meaning:
    entries: Any = {table: {**getattr(meaning.house, table), key: entity}}
    return replace(meaning, house=replace(meaning.house, **entries))


def _part(meaning: Meaning, part: str, made: Made) -> Meaning:
    entries: Any = {part: {**getattr(meaning.room, part), made.key: made.entity}}
    room = replace(meaning.room, **entries)
    return _put(meaning, "rooms", meaning.here, room).with_said(made.said, made.label)


# Rooms


def rooms_named(house: House, name: str) -> list[str]:
    """The rooms of that name, or the one with that id."""
    plain = name.casefold()
    named = [key for key, room in house.rooms.items() if room.name.casefold() == plain]
    return named or [key for key in house.rooms if key == plain]


def _known(house: House, words: RoomWords) -> str | None:
    found = rooms_named(house, words.name)
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
    known = _known(meaning.house, words)
    if known is None:
        return _first_or_apart(meaning, words)
    room = meaning.house.rooms[known]
    gone = replace(meaning, here=known, home=known)
    if words.is_bare:
        return gone.with_said(f"go to {room.name}", room.name)
    room, said = changed(meaning.house, room, words)
    return _put(gone, "rooms", known, room).with_said(
        f"{room.name}, which is there: {said}", f"{room.name} changed"
    )


def _first_or_apart(meaning: Meaning, words: RoomWords) -> Meaning:
    house = meaning.house
    if words.size_m is None and house.rooms:
        text = f"no room has this name; with its size it is a new one: {words.name} 3.1 x 2.8"
        fault(words.spans["name"], text, unfinished=True)
    here = house.rooms[meaning.here] if meaning.here else None
    room, said = new_room(house, words, here, here.level if here else 0)
    key = new_id(house, "rooms", room.name)
    apart = ", not joined to any other" if house.rooms else ""
    after = _put(replace(meaning, here=key, home=key), "rooms", key, room)
    return after.with_said(f"new room {said}{apart}", f"{room.name} added")


# Openings


def _opening(meaning: Meaning, words: OpeningWords, placing: Placing) -> Meaning:
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
        said = _joined(other, words.into)
    joint = Joint(meaning.house, here, key, words, wall)
    opening, spoken = joint.opening, joint.said
    name = new_id(house, "openings", f"{here}-{key}")
    after = _put(meaning, "openings", name, opening)
    if opening.to_along_m is None and known is None:
        after, spot = _spotted(after, name, placing(house))
        said += spot
    place_words = f"{plan_side(room, wall)} of {room.name}" if wall else room.name
    new = "" if known else "new room "
    after = after.with_said(
        f"{place_words}: {spoken}, to {new}{said}",
        f"{other.name} joined to {room.name}" if known else f"{other.name} added to {room.name}",
    )
    return replace(after, here=key)


def _joined(other: Room, words: RoomWords) -> str:
    """A room that is there: what only a new one can be given is refused."""
    for key in ("size_m", "height_m", "cut", "use", "role", "level"):
        if key in words.spans:
            text = f"there is a {other.name} already: leave this out, or give another name"
            fault(words.spans[key], text)
    return f"{other.name}, which is there"


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


def _judge(before: House, after: House, clause: Clause) -> None:
    """Raise WordError where the house would not be a legal one."""
    if after is before:
        return
    found = problems(after)
    if found:
        fault(_span(found[0], clause), _phrase(found[0]))


def _span(problem: Problem, clause: Clause) -> Span:
    places = [clause.spans]
    if isinstance(clause, OpeningWords):
        into = clause.into.spans
        places = [into, clause.spans] if problem.path[:1] == ("room",) else [clause.spans, into]
    keys = [_PART_OF[key] for key in problem.path if key in _PART_OF]
    found: Iterator[Span] = (spans[k] for k in keys for spans in places if k in spans)
    return next(found, clause.spans["whole"])


def _phrase(problem: Problem) -> str:
    """Without the place that the word itself tells."""
    prefixes = (sentence(problem.path[:n], "") for n in (4, 2))
    whole = next((p for p in prefixes if p.endswith(": ") and problem.text.startswith(p)), "")
    return problem.text.removeprefix(whole)
