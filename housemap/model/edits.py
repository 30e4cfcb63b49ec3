"""Edits: each makes a new house from an old one. And their history, for undo without limit.

An edit of a legal house is a legal house, or raises EditError and says what does not fit. Tables
and parts are named by their attribute ("paints", "windows"), entities by id. Which entities live
on under another id is found out here as well, as far as two houses show it.
"""

import re
import unicodedata
from collections.abc import Container, Iterable, Mapping
from dataclasses import replace
from typing import Any, NamedTuple, TypeVar, cast

from housemap.errors import EditError
from housemap.model.fieldtypes import ID, ID_LENGTH, KeyPath
from housemap.model.grouping import grouped
from housemap.model.house import (
    NO_PAINT,
    SURFACES,
    Accent,
    Accepted,
    House,
    Room,
    Scheme,
    SchemePaints,
    Sheen,
    Surface,
)
from housemap.model.schema import ENTITIES, KEY_OF, RECORD_OF, TABLES
from housemap.model.text import shown
from housemap.model.validation import problems

Renames = Mapping[KeyPath, str]
"""(table key, old id) -> new id."""

HANDLES: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "paint": (("name",), ("colour",)),
    "finish": (("name",), ("colour",)),
    "primer": (("name",),),
    "scheme": (("name",),),
    "room": (("name",),),
    "opening": (("between",),),
    "sightline": (("between",),),
    "sample": (("paint", "room", "when"),),
}
"""The attributes by which an entity is known again under another id, the surest first."""


def renames(before: House, after: House) -> Renames:
    """Find the ids that were given up for others.

    An entity was renamed when one with its handle went and one with it came. Where several went
    or came, none is taken for another.
    """
    found: dict[KeyPath, str] = {}

    def follow(_path: KeyPath, into: str, ref: str) -> str:
        return found.get((KEY_OF[into], ref), ref)

    for table in ENTITIES:
        old, new = getattr(before, table.attr), getattr(after, table.attr)
        record = RECORD_OF[table.key]
        gone = {key: record.follow(old[key], follow) for key in old if key not in new}
        came = {key: new[key] for key in new if key not in old}
        for handle in HANDLES.get(table.key, ()) if gone and came else ():
            for one, other in _pairs(gone, came, handle):
                found[table.key, one] = other
                del gone[one], came[other]
    return found


def renamed(house: House, moves: Renames) -> House:
    """Give entities other ids, which must be free; whatever refers to them follows."""
    if not moves:
        return house

    def follow(_path: KeyPath, into: str, ref: str) -> str:
        return moves.get((KEY_OF[into], ref), ref)

    tables: dict[str, Any] = {}
    for table in TABLES:
        held = table.follow(getattr(house, table.attr), follow)
        if table.attr in KEY_OF:
            held = {moves.get((table.key, key), key): each for key, each in held.items()}
        tables[table.attr] = held
    return replace(house, **tables)


def _pairs(
    gone: Mapping[str, Any], came: Mapping[str, Any], handle: tuple[str, ...]
) -> list[tuple[str, str]]:
    old, new = (
        grouped((tuple(getattr(each, attr) for attr in handle), key) for key, each in held.items())
        for held in (gone, came)
    )
    both = ((old[value], new[value]) for value in old if value in new)
    return [(one[0], other[0]) for one, other in both if len(one) == len(other) == 1]


LONGEST_NEW_ID = 40

Holder = TypeVar("Holder", House, Room)


def assign(house: House, room: str, surface: Surface, paint: str | None) -> House:
    """Put a paint on a surface of a room; None takes it off."""
    if paint is not None:
        _known(house, "paints", paint)
    held: Room = _known(house, "rooms", room)
    return _with(house, "rooms", room, _surfaces(held, "paints", surface, paint))


def paint_on(house: House, room: str, surface: str, paint: str | None) -> House:
    """Put a paint on a surface, or on "accent" and a wall's key; None takes it off again."""
    kind, _, wall = surface.partition(" ")
    if kind != "accent":
        return assign(house, room, cast("Surface", kind), paint)
    if paint is not None:
        return put_part(house, room, "accents", wall, Accent(paint))
    held: Room = _known(house, "rooms", room)
    return remove_part(house, room, "accents", wall) if wall in held.accents else house


def set_sheen(house: House, room: str, surface: Surface, sheen: Sheen | None) -> House:
    held: Room = _known(house, "rooms", room)
    return _legal(_with(house, "rooms", room, _surfaces(held, "sheens", surface, sheen)))


def replace_paint(
    house: House,
    old: str,
    new: str,
    *,
    level: int | None = None,
    surfaces: tuple[Surface, ...] = SURFACES,
) -> House:
    """Put another paint wherever one is: everywhere, on one level, or on some surfaces only.

    Accent walls count as walls, other parts of a room as trim. Samples keep their paint.
    """
    for paint in (old, new):
        _known(house, "paints", paint)
    rooms = {
        key: _repainted(room, old, new, surfaces) if level in (None, room.level) else room
        for key, room in house.rooms.items()
    }
    return _tables(house, {"rooms": rooms})


def accept(house: House, accepted: Iterable[Accepted]) -> House:
    """Keep findings as accepted; the same one accepted before is replaced."""
    for entry in accepted:
        name = "-".join((entry.check, *entry.rooms))
        key = _accepted_as(house, entry) or new_id(house, "accepted", name)
        house = put(house, "accepted", key, entry)
    return house


def withdraw(house: House, accepted: Accepted) -> House:
    """Let a finding count again. EditError where it was not accepted."""
    key = _accepted_as(house, accepted)
    if key is None:
        raise EditError(f"the finding {shown(accepted.check)} was not accepted there")
    return remove(house, "accepted", key)


def make_scheme(house: House, name: str) -> House:
    """Keep the paints of every room, and what is unpainted, as a scheme of that name."""
    paints = {}
    for key, room in house.rooms.items():
        on: dict[str, Any] = {each: room.paints.of(each) or NO_PAINT for each in SURFACES}
        accents = {wall: accent.paint for wall, accent in room.accents.items()}
        parts = {key: part.paint or NO_PAINT for key, part in room.parts.items()}
        paints[key] = SchemePaints(**on, accents=accents, parts=parts)
    return put(house, "schemes", new_id(house, "schemes", name), Scheme(name, paints=paints))


def take_scheme(house: House, key: str) -> House:
    """Paint the house as in a scheme, which is kept."""
    scheme: Scheme = _known(house, "schemes", key)
    rooms = {
        name: _in_scheme(room, scheme.paints[name]) if name in scheme.paints else room
        for name, room in house.rooms.items()
    }
    return _legal(_tables(house, {"rooms": rooms}))


def put(house: House, table: str, key: str, entity: Any) -> House:
    return _legal(_with(house, table, key, entity))


def change(house: House, **values: Any) -> House:
    """Replace values of the house itself, such as `north_deg`."""
    return _legal(replace(house, **values))


def change_entity(house: House, table: str, key: str, **values: Any) -> House:
    """Replace values of one entity, such as `height_m` of a room."""
    return put(house, table, key, replace(_known(house, table, key), **values))


def put_part(house: House, room: str, part: str, key: str, value: Any) -> House:
    """Add or replace an accent, window or lamp of a room."""
    held: Room = _known(house, "rooms", room)
    return put(house, "rooms", room, _with(held, part, key, value))


def remove_part(house: House, room: str, part: str, key: str) -> House:
    held: Room = _known(house, "rooms", room)
    if key not in getattr(held, part):
        raise EditError(f"room {shown(room)} has no {part.removesuffix('s')} {shown(key)}")
    return _with(house, "rooms", room, _without(held, part, key))


def set_limit(house: House, check: str, kind: str, value: float | None) -> House:
    """Set the limit of a check for a kind; None gives it back its default."""
    kinds = {k: v for k, v in house.limits.get(check, {}).items() if k != kind}
    if value is not None:
        kinds[kind] = value
    rest = _without(house, "limits", check)
    return _legal(_with(house, "limits", check, kinds) if kinds else rest)


def uses(house: House, table: str, key: str) -> tuple[KeyPath, ...]:
    """Return where an id is used, as paths of file keys such as ("room", "hall", "floor")."""
    return tuple(
        path
        for each in TABLES
        for path, into, ref in each.refs(getattr(house, each.attr))
        if (into, ref) == (table, key)
    )


def remove(house: House, table: str, key: str) -> House:
    """Take an entity out; EditError while anything uses it."""
    _known(house, table, key)
    if used := uses(house, table, key):
        places = sorted({f"{path[0]} {shown(path[1])}" for path in used})
        raise EditError(f"{KEY_OF[table]} {shown(key)} is used by {', '.join(places)}")
    return _without(house, table, key)


def remove_with_uses(house: House, table: str, key: str) -> House:
    """Take an entity out of the house and out of everything that uses it.

    What cannot be without it goes as well: an opening of a removed room, an accent in a removed
    paint.
    """
    _known(house, table, key)
    rest = _without(house, table, key)

    def follow(_path: KeyPath, into: str, ref: str) -> str | None:
        return None if (into, ref) == (table, key) else ref

    return _tables(rest, {t.attr: t.follow(getattr(rest, t.attr), follow) for t in TABLES})


def rename(house: House, table: str, old: str, new: str) -> House:
    """Give an entity another id; everything that uses it follows."""
    _known(house, table, old)
    if new == old:
        return house
    if not ID.fullmatch(new) or len(new) > ID_LENGTH:
        raise EditError(f"an id is 1 to {ID_LENGTH} of a-z, 0-9 and -, found {shown(new)}")
    if new in getattr(house, table):
        raise EditError(f"there is a {KEY_OF[table]} {shown(new)} already")
    return renamed(house, {(KEY_OF[table], old): new})


def new_id(house: House, table: str, name: str) -> str:
    """Make a free id of a name: "Oat Ladle" gives "oat-ladle", or "oat-ladle-2"."""
    return free_id(name, getattr(house, table), KEY_OF[table])


def free_id(name: str, taken: Container[str], otherwise: str) -> str:
    """Make an id of a name that is not taken; of `otherwise` where nothing of the name is left."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    slug = re.sub(r"[^a-z0-9]+", "-", plain)[:LONGEST_NEW_ID].strip("-") or otherwise
    if slug not in taken:
        return slug
    number = 2
    while f"{slug}-{number}" in taken:
        number += 1
    return f"{slug}-{number}"


def _known(house: House, table: str, key: str) -> Any:
    try:
        return getattr(house, table)[key]
    except KeyError:
        raise EditError(f"there is no {KEY_OF[table]} {shown(key)}") from None


def _with(holder: Holder, table: str, key: str, entity: Any) -> Holder:
    return _tables(holder, {table: {**getattr(holder, table), key: entity}})


def _without(holder: Holder, table: str, key: str) -> Holder:
    return _tables(holder, {table: {k: v for k, v in getattr(holder, table).items() if k != key}})


def _tables(holder: Holder, tables: Mapping[str, Any]) -> Holder:
    return replace(holder, **tables)


def _surfaces(room: Room, part: str, surface: Surface, value: str | None) -> Room:
    surfaces: Any = {part: replace(getattr(room, part), **{surface: value})}
    return replace(room, **surfaces)


def _repainted(room: Room, old: str, new: str, surfaces: tuple[Surface, ...]) -> Room:
    on = {surface: new for surface, paint in room.paints.chosen()
          if paint == old and surface in surfaces}  # fmt: skip
    tables: dict[str, Any] = {"paints": replace(room.paints, **on)}
    if "walls" in surfaces:
        tables["accents"] = _in_place_of(room.accents, old, new)
    if "trim" in surfaces:
        tables["parts"] = _in_place_of(room.parts, old, new)
    return replace(room, **tables)


def _in_place_of(held: Mapping[str, Any], old: str, new: str) -> Mapping[str, Any]:
    return {k: replace(v, paint=new) if v.paint == old else v for k, v in held.items()}


def _accepted_as(house: House, accepted: Accepted) -> str | None:
    """The key of the entry of the same check, place and paints."""

    def subject(of: Accepted) -> tuple[str, set[str], set[str], set[str]]:
        return of.check, {*of.rooms}, {*of.surfaces}, {*of.paints}

    found = (k for k, each in house.accepted.items() if subject(each) == subject(accepted))
    return next(found, None)


def _in_scheme(room: Room, paints: SchemePaints) -> Room:
    named = {each: getattr(paints, each) for each in SURFACES}
    chosen: dict[str, Any] = {each: on or None for each, on in named.items() if on is not None}
    accents = room.accents
    if paints.accents is not None:
        accents = {wall: Accent(paint) for wall, paint in paints.accents.items()}
    parts = {
        key: replace(part, paint=paints.parts[key] or None) if key in paints.parts else part
        for key, part in room.parts.items()
    }
    return replace(room, paints=replace(room.paints, **chosen), accents=accents, parts=parts)


def _legal(house: House) -> House:
    if found := problems(house):
        raise EditError("\n".join(problem.text for problem in found))
    return house


# History: a frozen value, of which a step is a whole house


class Step(NamedTuple):
    """A house other than the present one, and the edit that lies between it and its neighbour."""

    house: House
    label: str
    """Such as "Hall walls: Oat Ladle"."""


class History(NamedTuple):
    """The houses before and after the present one, on both sides the nearest last."""

    present: House
    past: tuple[Step, ...] = ()
    future: tuple[Step, ...] = ()

    @property
    def undo_label(self) -> str | None:
        return self.past[-1].label if self.past else None

    @property
    def redo_label(self) -> str | None:
        return self.future[-1].label if self.future else None

    def do(self, house: House, label: str) -> "History":
        """Make `house` the present one. An edit that changes nothing leaves the history alone."""
        if house == self.present:
            return self
        return History(house, (*self.past, Step(self.present, label)))

    def undo(self) -> "History":
        if not self.past:
            return self
        *past, step = self.past
        ahead = (*self.future, Step(self.present, step.label))
        return History(step.house, tuple(past), ahead)

    def redo(self) -> "History":
        if not self.future:
            return self
        *future, step = self.future
        behind = (*self.past, Step(self.present, step.label))
        return History(step.house, behind, tuple(future))
