"""What a form is about: the house, one of its entities, or a part of a room; old or new."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from housemap.errors import EditError
from housemap.model.edits import free_id, new_id, remove, remove_part, remove_with_uses, rename
from housemap.model.house import House, Room
from housemap.model.kinds import ID as ID_FORM
from housemap.model.kinds import Path
from housemap.model.records import Record
from housemap.model.schema import ATTR_OF, HOUSE, RECORD_OF
from housemap.model.text import shown

WHOLE = "house"
PART_ATTRS: Mapping[str, str] = {"accent": "accents", "window": "windows", "lamp": "lamps"}
OWN_KEY: Mapping[str, str] = {"accent": "a wall", "visit": "a room"}
"""The kinds whose id is something else, and what."""


@dataclass(frozen=True, slots=True)
class Target:
    """`kind` is the key of its table in a file, `key` its id (None: it is to be added)."""

    kind: str
    key: str | None = None
    room: str | None = None
    """Of which it is a part."""

    @property
    def record(self) -> Record:
        return HOUSE if self.kind == WHOLE else RECORD_OF[self.kind]

    @property
    def has_id(self) -> bool:
        return self.kind != WHOLE

    @property
    def is_part(self) -> bool:
        return self.kind in PART_ATTRS

    def room_in(self, house: House) -> Room | None:
        return house.rooms.get(self.room) if self.room else None

    def path(self, key: str) -> Path:
        """The keys under which problems with it are told."""
        if self.kind == WHOLE:
            return (WHOLE,)
        return ("room", self.room or "", self.kind, key) if self.is_part else (self.kind, key)

    def found_in(self, house: House) -> Any:
        """The entity; None where there is none."""
        if self.kind == WHOLE:
            return house
        return self._table(house).get(self.key) if self.key is not None else None

    def _table(self, house: House) -> Mapping[Any, Any]:
        if self.is_part:
            room = self.room_in(house)
            table: Mapping[Any, Any] = getattr(room, PART_ATTRS[self.kind]) if room else {}
        else:
            table = getattr(house, ATTR_OF[self.kind])
        return table

    def name_in(self, house: House) -> str:
        """What a person calls it; empty where it is not there."""
        found = self.found_in(house)
        if found is None:
            return ""
        if self.kind == WHOLE:
            return found.name or "this house"
        if self.kind in {"opening", "sightline"}:
            return " to ".join(house.rooms[room].name for room in found.between)
        if self.kind == "visit":
            return house.rooms[self.key or ""].name
        if self.kind == "sample":
            return f"{house.paints[found.paint].name} in {house.rooms[found.room].name}"
        return str(getattr(found, "name", self.key))

    def with_key(self, key: str | None) -> "Target":
        return replace(self, key=key)

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
        if self.key is not None and key != self.key:
            house = self._renamed(house, key)
        elif self.key is None and key in self._table(house):
            raise EditError(f"there is a {self.kind} {shown(key)} already")
        if not self.is_part:
            tables: Any = {ATTR_OF[self.kind]: {**self._table(house), key: entity}}
            return replace(house, **tables)
        room = self.room_in(house)
        assert room is not None
        return self._with_part(house, room, key, entity)

    def _with_part(self, house: House, room: Room, key: str, entity: Any) -> House:
        parts: Any = {PART_ATTRS[self.kind]: {**getattr(room, PART_ATTRS[self.kind]), key: entity}}
        return replace(house, rooms={**house.rooms, self.room or "": replace(room, **parts)})

    def _renamed(self, house: House, key: str) -> House:
        assert self.key is not None
        if not self.is_part and self.kind != "visit":
            return rename(house, ATTR_OF[self.kind], self.key, key)
        if key in self._table(house):
            raise EditError(f"there is a {self.kind} {shown(key)} already")
        entries = {key if k == self.key else k: each for k, each in self._table(house).items()}
        if self.kind == "visit":
            return replace(house, visits=entries)
        room = self.room_in(house)
        assert room is not None
        parts: Any = {PART_ATTRS[self.kind]: entries}
        return replace(house, rooms={**house.rooms, self.room or "": replace(room, **parts)})

    def without(self, house: House, *, uses: bool = False) -> House:
        """The house without it, and with `uses` without everything that cannot be without it.

        Raises EditError where it is used and `uses` is not set.
        """
        assert self.key is not None
        if self.is_part:
            return remove_part(house, self.room or "", PART_ATTRS[self.kind], self.key)
        take = remove_with_uses if uses else remove
        return take(house, ATTR_OF[self.kind], self.key)


def id_fault(key: str) -> str:
    """What is wrong with an id; empty where nothing is."""
    if ID_FORM.fullmatch(key):
        return ""
    return f"must be made of a-z, 0-9 and -, found {shown(key)}"
