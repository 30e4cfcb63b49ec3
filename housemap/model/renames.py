"""Which entities live on under another id: renamed, as far as two houses can tell."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from housemap.model.house import House
from housemap.model.kinds import Path
from housemap.model.schema import ENTITIES, KEY_OF, RECORD_OF, TABLES

Renames = Mapping[Path, str]
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
    found: dict[Path, str] = {}

    def follow(into: str, ref: str) -> str:
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

    def follow(into: str, ref: str) -> str:
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
    old, new = _by_handle(gone, handle), _by_handle(came, handle)
    both = ((old[value], new[value]) for value in old if value in new)
    return [(one[0], other[0]) for one, other in both if len(one) == len(other) == 1]


def _by_handle(entities: Mapping[str, Any], handle: tuple[str, ...]) -> Mapping[Any, list[str]]:
    found: defaultdict[Any, list[str]] = defaultdict(list)
    for key, entity in entities.items():
        found[tuple(getattr(entity, attr) for attr in handle)].append(key)
    return found
