"""What a form is about: the house, one of its entities, or a part of a room; old or new.

The lists at the end hold everything of a room, or of a house, that has a form.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

from housemap.errors import EditError
from housemap.model.edits import free_id, new_id, remove, remove_part, remove_with_uses, rename
from housemap.model.fieldtypes import ID as ID_FORM
from housemap.model.fieldtypes import KeyPath, Record
from housemap.model.geometry import box_m
from housemap.model.house import (
    Accent,
    Finish,
    House,
    Lamp,
    Notation,
    Opening,
    Paint,
    Room,
    RoomBrief,
    Sample,
    Sightline,
    Srgb,
    State,
    Visit,
    Window,
)
from housemap.model.lengths import format_length
from housemap.model.schema import ATTR_OF, BRIEF, HOUSE, RECORD_OF, ROOM_BRIEF
from housemap.model.text import shown
from housemap.plan.floor_plan import short_wall_name
from housemap.plan.house_graph import graph_of

WHOLE = "house"
WISHES = "wishes"
"""What the client asked for: in the house, or in a room where it differs."""
PART_ATTRS: Mapping[str, str] = {
    "accent": "accents", "window": "windows", "lamp": "lamps", "state": "states",
}  # fmt: skip
OWN_KEY: Mapping[str, str] = {"accent": "a wall", "visit": "a room", "state": "a surface"}
"""The kinds whose id is something else, and what."""


KIND_WORDS: Mapping[str, str] = {"state": "old coat"}
"""What a kind is called where its key does not say enough."""


class Target(NamedTuple):
    """`kind` is the key of its table in a file, `key` its id (None: it is to be added)."""

    kind: str
    key: str | None = None
    room: str | None = None
    """Of which it is a part."""

    @property
    def record(self) -> Record:
        if self.kind == WISHES:
            return ROOM_BRIEF if self.room else BRIEF
        return HOUSE if self.kind == WHOLE else RECORD_OF[self.kind]

    @property
    def kind_words(self) -> str:
        return KIND_WORDS.get(self.kind, self.kind)

    @property
    def has_id(self) -> bool:
        return self.kind not in {WHOLE, WISHES}

    @property
    def is_part(self) -> bool:
        return self.kind in PART_ATTRS

    def room_in(self, house: House) -> Room | None:
        return house.rooms.get(self.room) if self.room else None

    def path(self, key: str) -> KeyPath:
        """The keys of problems with it."""
        if self.kind == WHOLE:
            return (WHOLE,)
        if self.kind == WISHES:
            return ("brief", "room", self.room) if self.room else ("brief",)
        return ("room", self.room or "", self.kind, key) if self.is_part else (self.kind, key)

    def found_in(self, house: House) -> Any:
        """The entity; None where there is none."""
        if self.kind == WHOLE:
            return house
        if self.kind == WISHES:
            return house.brief.rooms.get(self.room, RoomBrief()) if self.room else house.brief
        return self._table(house).get(self.key) if self.key is not None else None

    def _table(self, house: House) -> Mapping[Any, Any]:
        if not self.is_part:
            table: Mapping[Any, Any] = getattr(house, ATTR_OF[self.kind])
        elif room := self.room_in(house):
            table = getattr(room, PART_ATTRS[self.kind])
        else:
            table = {}
        return table

    def name_in(self, house: House) -> str:
        """What a person calls it; empty where it is not there."""
        found = self.found_in(house)
        match self.kind:
            case _ if found is None:
                name = ""
            case "house":
                name = house.name or "this house"
            case "wishes":
                name = f"Wishes for {house.rooms[self.room].name if self.room else 'the house'}"
            case "opening" | "sightline":
                name = " to ".join(house.rooms[room].name for room in found.between)
            case "visit":
                name = house.rooms[self.key or ""].name
            case "sample":
                name = f"{house.paints[found.paint].name} in {house.rooms[found.room].name}"
            case _:
                name = str(getattr(found, "name", self.key))
        return name

    # Making houses

    def new_key(self, house: House, entity: Any) -> str:
        """An id for a new one, by its name or what it joins."""
        match self.kind:
            case "window":
                return free_id(f"window-{entity.wall}", self._table(house), "window")
            case "lamp":
                return free_id("lamp", self._table(house), "lamp")
            case "opening" | "sightline":
                name = "-".join(entity.between)
            case "sample":
                name = f"{entity.paint}-{entity.room}"
            case _:
                name = entity.name
        return new_id(house, ATTR_OF[self.kind], name)

    def put(self, house: House, key: str, values: Mapping[str, Any]) -> House:
        """The house with these values under an id; whether it is legal has to be asked.

        Raises EditError where the id is taken or is none.
        """
        if self.kind == WHOLE:
            return replace(house, **values)
        entity = self.record.entity(**values)
        if self.kind == WISHES:
            if not self.room:
                return replace(house, brief=entity)
            if entity == self.found_in(house):
                return house
            rooms = {key: each for key, each in house.brief.rooms.items() if key != self.room}
            differs = {} if entity == RoomBrief() else {self.room: entity}
            return replace(house, brief=replace(house.brief, rooms=rooms | differs))
        if self.key is not None and key != self.key:
            house = self._renamed(house, key)
        elif self.key is None and key in self._table(house):
            raise EditError(f"there is a {self.kind} {shown(key)} already")
        return self._with_table(house, {**self._table(house), key: entity})

    def _with_table(self, house: House, entries: Mapping[Any, Any]) -> House:
        """The house with other entries in the table that it stands in, of the house or a room."""
        if not self.is_part:
            tables: Any = {ATTR_OF[self.kind]: entries}
            return replace(house, **tables)
        parts: Any = {PART_ATTRS[self.kind]: entries}
        room = house.rooms[self.room or ""]
        return replace(house, rooms={**house.rooms, self.room or "": replace(room, **parts)})

    def _renamed(self, house: House, key: str) -> House:
        assert self.key is not None
        if not self.is_part and self.kind != "visit":
            return rename(house, ATTR_OF[self.kind], self.key, key)
        if key in self._table(house):
            raise EditError(f"there is a {self.kind} {shown(key)} already")
        entries = {key if k == self.key else k: each for k, each in self._table(house).items()}
        return self._with_table(house, entries)

    def without(self, house: House, *, uses: bool = False) -> House:
        """The house without it, and with `uses` without everything that cannot be without it.

        Raises EditError where it is used and `uses` is not set, and for the house itself.
        """
        if self.kind == WISHES:
            raise EditError("wishes are not deleted: empty their fields (enter)")
        if self.key is None:
            raise EditError("the house itself cannot be deleted here: delete its file")
        if self.is_part:
            return remove_part(house, self.room or "", PART_ATTRS[self.kind], self.key)
        take = remove_with_uses if uses else remove
        return take(house, ATTR_OF[self.kind], self.key)


def id_fault(key: str) -> str:
    """What is wrong with an id; empty where nothing is."""
    if ID_FORM.fullmatch(key):
        return ""
    return f"must be made of a-z, 0-9 and -, found {shown(key)}"


@dataclass(frozen=True, slots=True)
class Part:
    target: Target
    group: str
    """Set for the first of its kind."""
    title: str
    words: str = ""
    given: dict[str, Any] = field(default_factory=dict, compare=False)
    """What a new one starts with."""

    @property
    def is_new(self) -> bool:
        return self.target.key is None and self.target.has_id


def parts_of_room(house: House, room: str) -> list[Part]:
    """The room, what joins it to others, what is in it."""
    held = house.rooms[room]
    openings = graph_of(house).openings_of(room)
    lines = (k for k, each in house.sightlines.items() if room in each.between)
    samples = (k for k, each in house.samples.items() if each.room == room)
    first: dict[str, Any] = {"between": (room, None)}
    return [
        *_group(house, "room", [Target("room", room)], None),
        *_group(house, WISHES, [Target(WISHES, None, room)], None),
        *_group(house, "opening", [Target("opening", k) for k in openings], first, room),
        *_group(house, "window", [Target("window", k, room) for k in held.windows], {}, room),
        *_group(house, "lamp", [Target("lamp", k, room) for k in held.lamps], {}, room),
        *_group(house, "accent", [Target("accent", k, room) for k in held.accents], {}, room),
        *_group(house, "state", [Target("state", k, room) for k in held.states], {}, room),
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
    found += _group(house, WISHES, [Target(WISHES)], None)
    for kind, attr in ATTR_OF.items():
        targets = [Target(kind, key) for key in getattr(house, attr)]
        given: dict[str, Any] | None = {"level": level} if kind == "room" else {}
        if kind in {"accepted", "issue"}:
            given = None
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
    words = KIND_WORDS.get(kind, kind)
    group = words
    for target in targets:
        found, title = target.found_in(house), target.name_in(house)
        if isinstance(found, Opening | Sightline) and room in found.between:
            title = f"to {house.rooms[found.between[found.between[0] == room]].name}"
        yield Part(target, group, title, words_of(house, target))
        group = ""
    if given is not None:
        article = "an" if words[0] in "aeiou" else "a"
        holder = room if kind in PART_ATTRS else None
        yield Part(Target(kind, None, holder), group, f"+ add {article} {words}", "", given)


# In words


def words_of(house: House, target: Target) -> str:
    """What sets it apart from others of its kind."""
    units, words = house.units, ""
    match target.found_in(house):
        case Room() as room:
            box = box_m(room)
            size = " x ".join(format_length(each, units) for each in box) if box else "not measured"
            words = f"{size}, level {room.level}"
        case Opening() as opening:
            width = format_length(opening.width_m, units) if opening.width_m else "not measured"
            words = f"{opening.kind}, {width}"
        case Window() as window:
            size = " x ".join(format_length(m, units) for m in (window.width_m, window.height_m))
            words = f"{short_wall_name(house, target.room or '', window.wall)}, {size}"
        case Lamp() as lamp:
            words = f"{lamp.lumens:g} lm, {lamp.light_name}, {lamp.aim}"
        case State() as state:
            words = _state_words(house, state)
        case Accent(paint=paint):
            words = house.paints[paint].name
        case Paint() | Finish() as held:
            words = _colour_words(held)
        case Sample() as sample:
            when = sample.when.isoformat() if sample.when else None
            words = ", ".join(filter(None, (sample.verdict, sample.light, when)))
        case Visit() as visit:
            words = visit.when.isoformat() if visit.when else ""
    return words


def _state_words(house: House, state: State) -> str:
    """As in "Clay Petal, worn" or "papered"."""
    if state.paint:
        coat = house.paints[state.paint].name
    else:
        coat = _colour_words(Finish("", state.colour)) if state.colour else state.ground
    return ", ".join((coat, *([] if state.condition == "sound" else [state.condition])))


def _colour_words(held: Paint | Finish) -> str:
    if isinstance(held, Paint) and held.code:
        return held.code
    match held.colour:
        case Srgb(hex=text) | Notation(text=text):
            return text
    return "measured"
