"""Everything of a room, or of a house, that has a form: a line each, and one to add another."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from housemap.model.colour import Notation, Srgb
from housemap.model.house import (
    Accent,
    Finish,
    House,
    Lamp,
    Opening,
    Paint,
    Room,
    Sample,
    Sightline,
    Visit,
    Window,
)
from housemap.model.measure import format_length
from housemap.model.schema import ATTR_OF
from housemap.model.shape import box_m
from housemap.tui.forms.target import PART_ATTRS, WHOLE, Target
from housemap.tui.survey.walls import wall_words


@dataclass(frozen=True, slots=True)
class Part:
    """One line of the list."""

    target: Target
    group: str
    """Set for the first of its kind."""
    title: str
    words: str = ""
    given: dict[str, Any] = field(default_factory=dict, compare=False)
    """What a new one starts with."""

    @property
    def is_new(self) -> bool:
        return self.target.key is None and self.target.kind != WHOLE


def parts_of_room(house: House, room: str) -> list[Part]:
    """The room, what joins it to others, what is in it."""
    held = house.rooms[room]
    openings = (k for k, each in house.openings.items() if room in each.between)
    lines = (k for k, each in house.sightlines.items() if room in each.between)
    samples = (k for k, each in house.samples.items() if each.room == room)
    first: dict[str, Any] = {"between": (room, None)}
    return [
        *_group(house, "room", [Target("room", room)], None),
        *_group(house, "opening", [Target("opening", k) for k in openings], first, room),
        *_group(house, "window", [Target("window", k, room) for k in held.windows], {}, room),
        *_group(house, "lamp", [Target("lamp", k, room) for k in held.lamps], {}, room),
        *_group(house, "accent", [Target("accent", k, room) for k in held.accents], {}, room),
        *_group(house, "sightline", [Target("sightline", k) for k in lines], first, room),
        *_group(house, "sample", [Target("sample", k) for k in samples], {"room": room}),
        *_group(
            house, "visit", [Target("visit", room)] if room in house.visits else [],
            None if room in house.visits else {"id": room},
        ),
    ]  # fmt: skip


def parts_of_house(house: House, level: int) -> list[Part]:
    """The house and all its tables; a new room starts on `level`."""
    found = [*_group(house, WHOLE, [Target(WHOLE)], None)]
    for kind, attr in ATTR_OF.items():
        targets = [Target(kind, key) for key in getattr(house, attr)]
        given: dict[str, Any] = {"level": level} if kind == "room" else {}
        if kind in {"opening", "sightline"}:
            given = {"between": (None, None)}
        found += _group(house, kind, targets, given)
    return found


def _group(
    house: House, kind: str, targets: Sequence[Target], given: dict[str, Any] | None, room: str = ""
) -> Iterator[Part]:
    """The targets of a kind, and where `given` is set a line to add one more.

    `room` is the one whose parts they are, or from which they are seen.
    """
    group = kind
    for target in targets:
        title = _other_room(house, target, room) or target.name_in(house)
        yield Part(target, group, title, words_of(house, target))
        group = ""
    if given is not None:
        article = "an" if kind[0] in "aeiou" else "a"
        holder = room if kind in PART_ATTRS else None
        yield Part(Target(kind, None, holder), group, f"+ add {article} {kind}", "", given)


def _other_room(house: House, target: Target, room: str) -> str:
    """To where something leads from a room; empty where it leads nowhere."""
    found = target.found_in(house)
    if not isinstance(found, Opening | Sightline) or room not in found.between:
        return ""
    return f"to {house.rooms[found.between[found.between[0] == room]].name}"


# In words


def words_of(house: House, target: Target) -> str:
    """What tells it from others of its kind."""
    say = WORDS.get(target.kind)
    return say(house, target, target.found_in(house)) if say else ""


def _room(house: House, _target: Target, room: Room) -> str:
    box = box_m(room)
    size = " x ".join(format_length(each, house.units) for each in box) if box else "not measured"
    return f"{size}, level {room.level}"


def _opening(house: House, _target: Target, opening: Opening) -> str:
    width = format_length(opening.width_m, house.units) if opening.width_m else "not measured"
    return f"{opening.kind} {width}"


def _window(house: House, target: Target, window: Window) -> str:
    room = target.room_in(house)
    size = (format_length(each, house.units) for each in (window.width_m, window.height_m))
    wall = wall_words(room, window.wall) if room else ""
    return f"{wall}, {' x '.join(size)}"


def _lamp(_house: House, _target: Target, lamp: Lamp) -> str:
    return f"{lamp.lumens:g} lm, {lamp.kelvin:g} K, {lamp.aim}"


def _accent(house: House, _target: Target, accent: Accent) -> str:
    return house.paints[accent.paint].name


def _coloured(_house: House, _target: Target, held: Paint | Finish) -> str:
    if isinstance(held, Paint) and held.code:
        return held.code
    match held.colour:
        case Srgb():
            return held.colour.hex
        case Notation():
            return held.colour.text
    return "measured"


def _sample(_house: House, _target: Target, sample: Sample) -> str:
    words = (sample.verdict, sample.light, sample.when.isoformat() if sample.when else None)
    return ", ".join(filter(None, words))


def _visit(_house: House, _target: Target, visit: Visit) -> str:
    return visit.when.isoformat() if visit.when else ""


WORDS: Mapping[str, Callable[[House, Target, Any], str]] = {
    "room": _room, "opening": _opening, "window": _window, "lamp": _lamp, "accent": _accent,
    "paint": _coloured, "finish": _coloured, "sample": _sample, "visit": _visit,
}  # fmt: skip
"""By kind."""
