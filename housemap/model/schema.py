"""The house file, a record of fields for each dataclass, as its annotations describe them."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import MISSING, fields, is_dataclass
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from housemap.model.fieldtypes import (
    ILLUMINANTS,
    Choice,
    Day,
    Flag,
    Key,
    Kind,
    Note,
    Number,
    Record,
    TableOf,
    Text,
    below,
)
from housemap.model.house import (
    DEFAULT_OBSERVED,
    Brief,
    ColourSource,
    House,
    InFile,
    Lab,
    Notation,
    Opening,
    Paint,
    Reflectance,
    Room,
    RoomBrief,
    Srgb,
    Xyz,
)
from housemap.model.text import shown

UNITS = ("_m", "_deg", "_nm", "_m2")
"""Endings of attributes that their keys do without."""
PLAIN: Mapping[Any, Kind] = {str: Text(), bool: Flag(), dt.date: Day(), ColourSource: Kind()}

RECORDS: dict[type[Any], Record] = {}
"""Those described so far."""


def record(entity: type[Any]) -> Record:
    """Describe a dataclass by its annotations."""
    if entity not in RECORDS:
        keys = []
        for each in fields(entity):
            default = each.default
            if each.default_factory is not MISSING:
                default = each.default_factory()
            keys.append(_key(each.name, each.type, default))
        if entity is Paint:  # a colour has no default, and comes third in a file
            keys.insert(2, keys.pop(1))
        RECORDS[entity] = Record(entity, tuple(keys))
    return RECORDS[entity]


def _key(attr: str, of: Any, default: Any) -> Key:
    if of in (ColourSource, ColourSource | None):
        return ColourField(attr, attr, Kind(), default)
    unit = next((each for each in UNITS if attr.endswith(each)), "")
    return Key(_in_file(of).key or attr.removesuffix(unit), attr, _kind(of), default)


def _in_file(of: Any) -> InFile:
    said = get_args(of)[1:] if get_origin(of) is Annotated else ()
    return next((each for each in said if isinstance(each, InFile)), InFile())


def _kind(of: Any) -> Kind:
    """Return what a value of a type may be: as its annotation says, else as usual for it."""
    if of in PLAIN:
        return PLAIN[of]
    if isinstance(of, type) and is_dataclass(of):
        return record(of)
    origin, args = get_origin(of), get_args(of)
    if origin in (Union, UnionType):
        return _kind(next(each for each in args if each is not NoneType))
    if origin is Literal:
        return Choice(args)
    if origin is Annotated and not isinstance(args[1], InFile):
        kind: Kind = args[1]
        return kind
    key, entry = get_args(args[0]) if origin is Annotated else args
    table = _in_file(of)
    return TableOf(_kind(entry), _kind(key), table.most, table.inline)


# Colours: exactly one of five keys, and `observed` beside two of them

COLOURS: Mapping[str, tuple[type[Any], str]] = {
    "reflectance": (Reflectance, ""), "lab": (Lab, "lab100"), "xyz": (Xyz, "xyz100"),
    "srgb": (Srgb, "hex"), "notation": (Notation, "text"),
}  # fmt: skip
"""By key, the class and the attribute that holds the value; the spectrum is a table of its own."""
COLOUR_KEYS = tuple(COLOURS)
KEY_OF_COLOUR = {of: key for key, (of, _) in COLOURS.items()}
OBSERVED = "observed"
OBSERVERS: tuple[str, ...] = ("2", "10")
"""The CIE standard observers, in degrees of visual field."""
LIGHTNESS = Number(0, 100)
"""L* and Y of a surface: 100 is the perfect diffuser (CIE 015)."""


class ColourField(Key):
    """The colour of a paint or finish; where its default is None there may be none."""

    @property
    def keys(self) -> tuple[str, ...]:
        return (*COLOUR_KEYS, OBSERVED)

    def read(self, raw: Mapping[str, object], note: Note) -> ColourSource | None:
        given = [key for key in COLOUR_KEYS if key in raw]
        if not given and self.default is None:
            if OBSERVED in raw:
                note((OBSERVED,), "goes with lab or xyz, and neither is there")
            return None
        if not given:
            note((self.attr,), f"is missing: give one of {', '.join(COLOUR_KEYS)}")
            return Srgb("#000000")
        key = given[0]
        for second in given[1:]:
            note((second,), f"is a second colour beside {key}; keep one of them")
        held = _colour_kind(key).read(raw[key], below(note, key))
        return _source(key, held, self._observed(raw, key, note))

    def write(self, value: ColourSource | None) -> Mapping[str, Any]:
        if value is None:
            return {}
        key, held = _held(value)
        written = {key: _colour_kind(key).write(held)}
        if isinstance(value, Lab | Xyz) and value.observed != DEFAULT_OBSERVED:
            written[OBSERVED] = value.observed
        return written

    def faults(self, value: ColourSource | None, note: Note) -> None:
        if value is None:
            return
        key, held = _held(value)
        _colour_kind(key).faults(held, below(note, key))
        if isinstance(value, Lab | Xyz):
            place = 0 if isinstance(value, Lab) else 1
            LIGHTNESS.faults(held[place], below(note, key, str(place)))
            illuminant, _, observer = value.observed.partition("/")
            if illuminant not in ILLUMINANTS or observer not in OBSERVERS:
                example = 'a CIE illuminant and an observer of 2 or 10 degrees, such as "D65/10"'
                note((OBSERVED,), f"must be {example}, found {shown(value.observed)}")

    def all_fine(self, values: Sequence[Any]) -> bool:
        """Of colours given in one way under the usual light, as those of a deck are."""
        of, *others = {*map(type, values)}
        if others or any(
            getattr(each, OBSERVED, DEFAULT_OBSERVED) != DEFAULT_OBSERVED for each in values
        ):
            return False
        key, _ = _held(values[0])
        held = [_held(each)[1] for each in values]
        if of in (Lab, Xyz) and not LIGHTNESS.all_fine([each[of is Xyz] for each in held]):
            return False
        return _colour_kind(key).all_fine(held)

    def _observed(self, raw: Mapping[str, object], key: str, note: Note) -> str:
        observed = raw.get(OBSERVED, DEFAULT_OBSERVED)
        if OBSERVED in raw and key not in {"lab", "xyz"}:
            note((OBSERVED,), f"goes with lab or xyz, not with {key}")
        if isinstance(observed, str):
            return observed
        note((OBSERVED,), f'must be text such as "D65/10", found {shown(observed)}')
        return DEFAULT_OBSERVED


def _colour_kind(key: str) -> Kind:
    of, attr = COLOURS[key]
    return record(of).fields[0].kind if attr else record(of)


def _source(key: str, held: Any, observed: str) -> ColourSource:
    of, attr = COLOURS[key]
    if of in (Lab, Xyz):
        held = of(held or (0.0, 0.0, 0.0), observed)
    elif attr:
        held = of(held.lower() if of is Srgb else held)
    source: ColourSource = held
    return source


def _held(value: ColourSource) -> tuple[str, Any]:
    """Return the key of a colour and what is held there."""
    key = KEY_OF_COLOUR[type(value)]
    attr = COLOURS[key][1]
    return key, getattr(value, attr) if attr else value


# The house

PAINT, ROOM, OPENING = record(Paint), record(Room), record(Opening)
BRIEF, ROOM_BRIEF = record(Brief), record(RoomBrief)
_EVERY = record(House).fields
TABLES: tuple[Key, ...] = tuple(each for each in _EVERY if isinstance(each.kind, TableOf | Record))
"""Every table below the top, in file order."""
HOUSE = Record(House, tuple(each for each in _EVERY if each not in TABLES))
"""The [house] table: the fields of House that are no tables."""

ENTITIES: tuple[Key, ...] = tuple(
    each
    for each in TABLES
    if isinstance(each.kind, TableOf) and isinstance(each.kind.entry, Record)
)
"""The tables of entities by id, in file order."""

KEY_OF: dict[str, str] = {table.attr: table.key for table in ENTITIES}
"""The key of a table of entities by its attribute: what a person calls one of them."""

ATTR_OF: dict[str, str] = {table.key: table.attr for table in ENTITIES}

RECORD_OF: dict[str, Record] = {
    each.key: each.kind.entry
    for each in (*ENTITIES, *ROOM.fields)
    if isinstance(each.kind, TableOf) and isinstance(each.kind.entry, Record)
}
"""The records that have an id in the file, by the key of their table."""
