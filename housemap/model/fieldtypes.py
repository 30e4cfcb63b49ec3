"""What the keys of a house file may hold: read it, write it, judge it.

A kind turns a TOML value into a model value (`read`) and back (`write`), says what is wrong with
a model value (`faults`), and knows the ids in it (`refs`, `follow`). Nothing is raised: whatever
is wrong goes to `note(path, phrase)`, where the path starts at the value itself. A record is
described once, as a table of fields; reading, writing, judging, renaming, comparing and merging
all walk that table.

Kinds are made once, in the schema, and are neither changed nor compared: as plain dataclasses
they take a third of the time that frozen ones would take of every start.
"""

import datetime as dt
import math
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import MISSING, dataclass, fields, replace
from functools import partial
from typing import Any, ClassVar, Final, Protocol, cast

from housemap.model.house import (
    DEFAULT_OBSERVED,
    ColourSource,
    Lab,
    Notation,
    Reflectance,
    Srgb,
    Xyz,
)
from housemap.model.text import NAME_LENGTH, normal, shown, text_fault

ILLUMINANTS: tuple[str, ...] = (
    "A", "B", "C", "D50", "D55", "D60", "D65", "D75", "E",
    *(f"FL{i}" for i in range(1, 13)),
    *(f"FL3.{i}" for i in range(1, 16)),
    *(f"HP{i}" for i in range(1, 6)),
    "ID50", "ID65",
    *(f"LED-B{i}" for i in range(1, 6)),
    "LED-BH1", "LED-RGB1", "LED-V1", "LED-V2",
)  # fmt: skip
"""Those of CIE 015:2018 Colorimetry, 4th edition; B is the CIE's earlier direct sunlight, E the
equal-energy illuminant."""

OBSERVERS: tuple[str, ...] = ("2", "10")
"""The CIE standard observers, in degrees of visual field."""


KeyPath = tuple[str, ...]
Note = Callable[[KeyPath, str], None]
Change = Callable[[str, str], str | None]
"""(table, id) -> what the id becomes; None: it is gone."""

ID_LENGTH = 64
ID = re.compile(r"[a-z0-9-]+")


class Gone:
    """What is left of a value that cannot be without an id that is gone."""


GONE: Final = Gone()


class Kind:
    """The base: a value that is written as it is, always right, and holds no ids."""

    blank: ClassVar[Any] = None
    """Stands in for what could not be read, so that reading can go on and find the rest."""

    @property
    def may_refer(self) -> bool:
        """Whether there may be ids in a value; where there are none nobody looks for them."""
        return False

    def read(self, raw: object, note: Note) -> Any:
        raise NotImplementedError

    def write(self, value: Any) -> Any:
        return value

    def faults(self, value: Any, note: Note) -> None:
        """Note everything that is wrong with a value of the right type."""

    def refs(self, value: Any) -> Iterator[tuple[KeyPath, str, str]]:
        """Yield (path, table, id) for every id in the value."""
        del value
        return iter(())

    def follow(self, value: Any, change: Change) -> Any:
        """Return the value with its ids changed, GONE if it cannot be without one that is gone."""
        del change
        return value


def below(note: Note, key: str) -> Note:
    """Return a note whose paths start at `key`."""
    return lambda path, phrase: note((key, *path), phrase)


@dataclass(slots=True, eq=False, repr=False)
class Text(Kind):
    """One line of text; `lines` allows more."""

    limit: int = NAME_LENGTH
    lines: bool = False
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return normal(raw) if len(raw) <= self.limit else raw
        note((), f"must be text in quotes, found {shown(raw)}")
        return self.blank

    def faults(self, value: str, note: Note) -> None:
        if fault := text_fault(value, self.limit, lines=self.lines):
            note((), fault)


@dataclass(slots=True, eq=False, repr=False)
class Name(Text):
    """A line of text that says something."""

    def faults(self, value: str, note: Note) -> None:
        if not value.strip():
            note((), "must not be empty")
        Text.faults(self, value, note)


@dataclass(slots=True, eq=False, repr=False)
class Number(Kind):
    """A finite number from `low` to `high`; `above` leaves `low` itself out.

    What lies between `low` and `least` is too small to mean anything.
    """

    low: float
    high: float
    above: bool = False
    least: float = -math.inf
    blank: ClassVar[float] = math.nan

    def read(self, raw: object, note: Note) -> float:
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            try:
                return float(raw)
            except OverflowError:
                return math.inf
        note((), f"must be a number, found {shown(raw)}")
        return self.blank

    def all_within(self, values: Sequence[Any]) -> bool:
        """Whether all of them are numbers that nothing is wrong with; spectra are long."""
        if not values or not set(map(type, values)) <= {int, float}:
            return False
        least, most = min(values), max(values)
        low = least > self.low if self.above else least >= self.low
        return low and least >= self.least and most <= self.high and not math.isnan(sum(values))

    def write(self, value: float) -> int | float:
        return int(value) if value == int(value) else value

    def faults(self, value: float, note: Note) -> None:
        if not math.isfinite(value):
            note((), f"must be a finite number, found {value}")
        elif value > self.high:
            note((), f"must be at most {self.high:g}, found {value:g}")
        elif value < self.low or (self.above and value == self.low):
            word = "above" if self.above else "at least"
            note((), f"must be {word} {self.low:g}, found {value:g}")
        elif value < self.least:
            note((), f"must be at least {self.least:g}, found {value:g}")


@dataclass(slots=True, eq=False, repr=False)
class Whole(Kind):
    """A whole number from `low` to `high`."""

    low: int
    high: int

    def read(self, raw: object, note: Note) -> int:
        if isinstance(raw, int) and not isinstance(raw, bool):
            return raw
        note((), f"must be a whole number, found {shown(raw)}")
        return self.low

    def faults(self, value: int, note: Note) -> None:
        if not self.low <= value <= self.high:
            note((), f"must be {self.low} to {self.high}, found {shown(value)}")


@dataclass(slots=True, eq=False, repr=False)
class Flag(Kind):
    """Yes or no."""

    blank: ClassVar[bool] = False

    def read(self, raw: object, note: Note) -> bool:
        if isinstance(raw, bool):
            return raw
        note((), f"must be true or false, found {shown(raw)}")
        return self.blank


@dataclass(slots=True, eq=False, repr=False)
class Day(Kind):
    """A date without a time."""

    def read(self, raw: object, note: Note) -> dt.date | None:
        if isinstance(raw, dt.date) and not isinstance(raw, dt.datetime):
            return raw
        note((), f"must be a date such as 2026-05-02 (no quotes), found {shown(raw)}")
        return None


@dataclass(slots=True, eq=False, repr=False)
class Choice(Kind):
    """One of a few words."""

    words: tuple[str, ...]
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return raw
        note((), f"must be {self._offer()}, found {shown(raw)}")
        return self.blank

    def faults(self, value: str, note: Note) -> None:
        if value not in self.words:
            note((), f"must be {self._offer()}, found {shown(value)}")

    def _offer(self) -> str:
        *most, last = self.words
        return f"one of {', '.join(most)} or {last}" if most else last


@dataclass(slots=True, eq=False, repr=False)
class Shape(Kind):
    """Text of a given form, such as an id; `example` says what it looks like."""

    form: re.Pattern[str]
    example: str
    limit: int = ID_LENGTH
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return raw
        note((), f"must be {self.example} in quotes, found {shown(raw)}")
        return self.blank

    def faults(self, value: str, note: Note) -> None:
        if len(value) > self.limit:
            note((), f"must be at most {self.limit} characters long, found {len(value)}")
        elif not self.form.fullmatch(value):
            note((), f"must be {self.example}, found {shown(value)}")


@dataclass(slots=True, eq=False, repr=False)
class WallKey(Kind):
    """A wall: n, e, s or w, or the number of an outline's edge."""

    form: ClassVar[re.Pattern[str]] = re.compile(r"[nesw]|0|[1-9][0-9]{0,3}")
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return raw
        if isinstance(raw, int) and not isinstance(raw, bool) and 0 <= raw < 10_000:  # noqa: PLR2004 - as in `form`
            return str(raw)
        note((), f'must be a wall ("n", "e", "s", "w" or an edge\'s number), found {shown(raw)}')
        return self.blank

    def write(self, value: str) -> str | int:
        return int(value) if value.isdecimal() else value

    def faults(self, value: str, note: Note) -> None:
        if not self.form.fullmatch(value):
            walls = "n, e, s, w or the number of an outline's edge"
            note((), f"must be a wall ({walls}), found {shown(value)}")


@dataclass(slots=True, eq=False, repr=False)
class Ref(Kind):
    """The id of an entity in `table`, an attribute of House."""

    table: str
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return raw
        note((), f"must be an id in quotes, found {shown(raw)}")
        return self.blank

    @property
    def may_refer(self) -> bool:
        return True

    def refs(self, value: str) -> Iterator[tuple[KeyPath, str, str]]:
        yield (), self.table, value

    def follow(self, value: str, change: Change) -> str | Gone:
        now = change(self.table, value)
        return GONE if now is None else now


# Lists, records and tables

REQUIRED = MISSING


class Field(Protocol):
    """One attribute of a record and the key or keys that hold it in a file."""

    @property
    def attr(self) -> str: ...
    @property
    def keys(self) -> tuple[str, ...]: ...
    @property
    def may_refer(self) -> bool: ...
    def read(self, raw: Mapping[str, object], note: Note) -> Any: ...
    def write(self, value: Any) -> Mapping[str, Any]: ...
    def faults(self, value: Any, note: Note) -> None: ...
    def refs(self, value: Any) -> Iterator[tuple[KeyPath, str, str]]: ...
    def follow(self, value: Any, change: Change) -> Any: ...


@dataclass(slots=True, eq=False, repr=False)
class Key:
    """An attribute at one key; at its default it is not written."""

    key: str
    attr: str
    kind: Kind
    default: Any
    """REQUIRED where the key must be there."""

    @property
    def keys(self) -> tuple[str, ...]:
        return (self.key,)

    @property
    def may_refer(self) -> bool:
        return self.kind.may_refer

    def read(self, raw: Mapping[str, object], note: Note) -> Any:
        if self.key in raw:
            value = self.kind.read(raw[self.key], below(note, self.key))
            return self.default if value is None and self.default is not REQUIRED else value
        if self.default is REQUIRED:
            note((self.key,), "is missing")
            return self.kind.blank
        return self.default

    def write(self, value: Any) -> Mapping[str, Any]:
        return {} if value == self.default else {self.key: self.kind.write(value)}

    def faults(self, value: Any, note: Note) -> None:
        if value is not None and (value != self.default or self.default is REQUIRED):
            self.kind.faults(value, below(note, self.key))

    def refs(self, value: Any) -> Iterator[tuple[KeyPath, str, str]]:
        if value is not None:
            for path, table, ref in self.kind.refs(value):
                yield (self.key, *path), table, ref

    def follow(self, value: Any, change: Change) -> Any:
        now = value if value is None else self.kind.follow(value, change)
        needed = self.default is REQUIRED or (isinstance(self.kind, ListOf) and self.kind.whole)
        return self.default if now is GONE and not needed else now


@dataclass(slots=True, eq=False, repr=False)
class ListOf(Kind):
    """A list of `low` to `high` items of one kind; a tuple in the model.

    A list that is `whole` cannot be without any of its ids.
    """

    item: Kind
    low: int
    high: int
    whole: bool = False

    @property
    def may_refer(self) -> bool:
        return self.item.may_refer

    def read(self, raw: object, note: Note) -> Any:
        if isinstance(raw, list) and self.low <= len(raw) <= self.high:
            if isinstance(self.item, Number) and self.item.all_within(raw):
                return tuple(map(float, raw))
            items = [self.item.read(each, below(note, str(i))) for i, each in enumerate(raw)]
            return None if None in items else tuple(items)
        note((), f"must be a list of {self._count()}, found {shown(raw)}")
        return None

    def write(self, value: tuple[Any, ...]) -> list[Any]:
        return [self.item.write(each) for each in value]

    def faults(self, value: tuple[Any, ...], note: Note) -> None:
        if not self.low <= len(value) <= self.high:
            note((), f"must be a list of {self._count()}, found {len(value)}")
        if isinstance(self.item, Number) and self.item.all_within(value):
            return
        for i, each in enumerate(value[: self.high]):
            self.item.faults(each, below(note, str(i)))

    def refs(self, value: tuple[Any, ...]) -> Iterator[tuple[KeyPath, str, str]]:
        for i, each in enumerate(value):
            for path, table, ref in self.item.refs(each):
                yield (str(i), *path), table, ref

    def follow(self, value: tuple[Any, ...], change: Change) -> Any:
        now = [self.item.follow(each, change) for each in value]
        kept = tuple(each for each in now if each is not GONE)
        if len(kept) < (len(value) if self.whole else self.low):
            return GONE
        return value if kept == value else kept

    def _count(self) -> str:
        return str(self.low) if self.low == self.high else f"{self.low} to {self.high}"


@dataclass(slots=True, eq=False, repr=False)
class PairsOf(Kind):
    """A few values by word, on one line of the file; a tuple of pairs in the order of the words."""

    words: tuple[str, ...]
    value: Kind

    def read(self, raw: object, note: Note) -> Any:
        if not isinstance(raw, dict):
            note((), f"must be values by word, such as {{ {self.words[0]} = ... }}")
            return ()
        for key in [key for key in raw if key not in self.words]:
            note((key,), f"is not a known key; the nearest one is {nearest(key, self.words)}")
        given = [key for key in self.words if key in raw]
        return tuple((key, self.value.read(raw[key], below(note, key))) for key in given)

    def write(self, value: tuple[tuple[str, Any], ...]) -> dict[str, Any]:
        return {key: self.value.write(each) for key, each in value}

    def faults(self, value: tuple[tuple[str, Any], ...], note: Note) -> None:
        keys = [key for key, _ in value]
        if keys != [key for key in self.words if key in keys]:
            note((), f"must hold each of {', '.join(self.words)} once at most, in that order")
        for key, each in value:
            self.value.faults(each, below(note, key))


@dataclass(slots=True, eq=False, repr=False)
class Record(Kind):
    """A table with known keys; an instance of `entity` in the model."""

    label: str
    """What a person calls it; "" where its key says enough."""
    entity: type[Any]
    fields: tuple[Field, ...]
    _known: frozenset[str] = frozenset()
    _referring: tuple[Field, ...] | None = None

    @property
    def keys(self) -> tuple[str, ...]:
        return tuple(key for field in self.fields for key in field.keys)

    @property
    def referring(self) -> tuple[Field, ...]:
        """The fields in which there may be ids; worked out once."""
        if self._referring is None:
            self._referring = tuple(field for field in self.fields if field.may_refer)
        return self._referring

    @property
    def may_refer(self) -> bool:
        return bool(self.referring)

    def read(self, raw: object, note: Note) -> Any:
        if not isinstance(raw, dict):
            note((), f"must be a table, found {shown(raw)}")
            raw = {}
            note = _silence
        self._known = self._known or frozenset(self.keys)
        for key in [key for key in raw if key not in self._known]:
            note((key,), f"is not a known key; the nearest one is {nearest(key, self.keys)}")
        return self.entity(**{field.attr: field.read(raw, note) for field in self.fields})

    def write(self, value: Any) -> dict[str, Any]:
        written: dict[str, Any] = {}
        for field in self.fields:
            written |= field.write(getattr(value, field.attr))
        return written

    def faults(self, value: Any, note: Note) -> None:
        for field in self.fields:
            field.faults(getattr(value, field.attr), note)

    def refs(self, value: Any) -> Iterator[tuple[KeyPath, str, str]]:
        for field in self.referring:
            yield from field.refs(getattr(value, field.attr))

    def follow(self, value: Any, change: Change) -> Any:
        changed = {}
        for field in self.referring:
            before = getattr(value, field.attr)
            now = field.follow(before, change)
            if now is GONE:
                return GONE
            if now is not before:
                changed[field.attr] = now
        return replace(value, **changed) if changed else value


@dataclass(slots=True, eq=False, repr=False)
class TableOf(Kind):
    """A table of entries by key; a mapping in the model.

    In the file a table with headers of its own, or on one line where it is `inline`.
    """

    entry: Kind
    key: Kind
    most: int = 10_000
    inline: bool = False

    @property
    def may_refer(self) -> bool:
        return self.key.may_refer or self.entry.may_refer

    def read(self, raw: object, note: Note) -> Any:
        if not isinstance(raw, dict):
            note((), f"must be a table of entries, found {shown(raw)}")
            return {}
        if len(raw) > self.most:
            note((), f"must have at most {self.most} entries, found {len(raw)}")
            return {}
        return {key: self.entry.read(each, below(note, key)) for key, each in raw.items()}

    def write(self, value: Mapping[str, Any]) -> dict[str, Any]:
        return {key: self.entry.write(value[key]) for key in sorted(value, key=by_number)}

    def faults(self, value: Mapping[str, Any], note: Note) -> None:
        for key, each in value.items():
            inside = below(note, key)
            self.key.faults(key, partial(_of_its_id, inside))
            self.entry.faults(each, inside)

    def refs(self, value: Mapping[str, Any]) -> Iterator[tuple[KeyPath, str, str]]:
        for key, each in value.items():
            for path, table, ref in (*self.key.refs(key), *self.entry.refs(each)):
                yield (key, *path), table, ref

    def follow(self, value: Mapping[str, Any], change: Change) -> Any:
        now = {self.key.follow(k, change): self.entry.follow(v, change) for k, v in value.items()}
        kept = {k: v for k, v in now.items() if k is not GONE and v is not GONE}
        same = list(kept) == list(value) and all(kept[k] is value[k] for k in kept)
        return value if same else kept


def by_number(key: str) -> tuple[int, str]:
    """Sort keys as a person would: "2" before "10", numbers before words."""
    return (int(key), key) if key.isdecimal() else (1_000_000, key)


def unknown_id(kind: str, key: str, known: Collection[str]) -> str:
    """As in: there is no room "atic"; the nearest is attic."""
    near = f"; the nearest is {nearest(key, known)}" if known else ""
    return f"there is no {kind} {shown(key)}{near}"


def nearest(key: str, known: Iterable[str]) -> str:
    """Return the known key that is spelled most like `key`."""
    from difflib import SequenceMatcher  # noqa: PLC0415 - only for a file with a mistake

    return max(known, key=lambda each: SequenceMatcher(None, each, key[:40]).ratio())


def record(
    label: str, entity: type[Any], rows: tuple[tuple[str, str, Kind] | Field, ...]
) -> Record:
    """Describe `entity` by rows of (key, attribute, kind); defaults are those of the dataclass."""
    defaults = {
        f.name: f.default if f.default_factory is MISSING else f.default_factory()
        for f in fields(entity)
    }
    return Record(
        label,
        entity,
        tuple(Key(*row, defaults[row[1]]) if isinstance(row, tuple) else row for row in rows),
    )


def _of_its_id(note: Note, path: KeyPath, phrase: str) -> None:
    note(path, f"its id {phrase}")


def _silence(path: KeyPath, phrase: str) -> None:
    """Take no note: what it would say follows from a problem already noted."""
    del path, phrase


# Colours: exactly one of five keys, and `observed` beside two of them

COLOUR_KEYS = ("reflectance", "lab", "xyz", "srgb", "notation")
OBSERVED = "observed"

HUES = "RP|YR|GY|BG|PB|R|Y|G|B|P"
"""The ten hue families of ASTM D1535."""
SPECTRUM = record("", Reflectance, (
    ("start", "start_nm", Number(100, 2500)),
    ("step", "step_nm", Number(0, 500, above=True)),
    ("values", "values", ListOf(Number(0, 1), 2, 2000)),
))  # fmt: skip
KINDS: Mapping[str, Kind] = {
    "reflectance": SPECTRUM,
    "lab": ListOf(Number(-200, 200), 3, 3),
    "xyz": ListOf(Number(0, 200), 3, 3),
    "srgb": Shape(re.compile(r"#[0-9a-fA-F]{6}"), 'a colour such as "#d9d0bf"'),
    "notation": Shape(
        re.compile(rf"N ?(10(\.0+)?|\d(\.\d+)?)/?|(10(\.0+)?|\d(\.\d+)?) ?({HUES}) ?"
                   r"(10(\.0+)?|\d(\.\d+)?)/\d{1,2}(\.\d+)?"),
        'a notation such as "5Y 7/1" or "N 8/"',
    ),
}  # fmt: skip
LIGHTNESS = Number(0, 100)
"""L* and Y of a surface: 100 is the perfect diffuser (CIE 015)."""


@dataclass(slots=True, eq=False, repr=False)
class ColourField:
    """The colour of a paint or finish; where it is `optional` there may be none."""

    attr: str = "colour"
    keys: tuple[str, ...] = (*COLOUR_KEYS, OBSERVED)
    optional: bool = False
    may_refer: bool = False

    def read(self, raw: Mapping[str, object], note: Note) -> ColourSource | None:
        given = [key for key in COLOUR_KEYS if key in raw]
        if not given and self.optional:
            if OBSERVED in raw:
                note((OBSERVED,), "goes with lab or xyz, and neither is there")
            return None
        if not given:
            note((self.attr,), f"is missing: give one of {', '.join(COLOUR_KEYS)}")
            return Srgb("#000000")
        key = given[0]
        for second in given[1:]:
            note((second,), f"is a second colour beside {key}; keep one of them")
        observed = self._observed(raw, key, note)
        return _source(key, KINDS[key].read(raw[key], below(note, key)), observed)

    def write(self, value: ColourSource | None) -> Mapping[str, Any]:
        if value is None:
            return {}
        key, held = _held(value)
        written = {key: KINDS[key].write(held)}
        if isinstance(value, Lab | Xyz) and value.observed != DEFAULT_OBSERVED:
            written[OBSERVED] = value.observed
        return written

    def faults(self, value: ColourSource | None, note: Note) -> None:
        if value is None:
            return
        key, held = _held(value)
        KINDS[key].faults(held, below(note, key))
        if isinstance(value, Lab | Xyz):
            place = 0 if isinstance(value, Lab) else 1
            LIGHTNESS.faults(held[place], below(below(note, key), str(place)))
            self._judge(value.observed, note)

    def refs(self, value: ColourSource | None) -> Iterator[tuple[KeyPath, str, str]]:
        del value
        return iter(())

    def follow(self, value: ColourSource | None, change: Change) -> ColourSource | None:
        del change
        return value

    def _observed(self, raw: Mapping[str, object], key: str, note: Note) -> str:
        observed = raw.get(OBSERVED, DEFAULT_OBSERVED)
        if OBSERVED in raw and key not in {"lab", "xyz"}:
            note((OBSERVED,), f"goes with lab or xyz, not with {key}")
        if isinstance(observed, str):
            return observed
        note((OBSERVED,), f'must be text such as "D65/10", found {shown(observed)}')
        return DEFAULT_OBSERVED

    def _judge(self, observed: str, note: Note) -> None:
        illuminant, _, observer = observed.partition("/")
        if illuminant not in ILLUMINANTS or observer not in OBSERVERS:
            example = 'a CIE illuminant and an observer of 2 or 10 degrees, such as "D65/10"'
            note((OBSERVED,), f"must be {example}, found {shown(observed)}")


def _source(key: str, held: Any, observed: str) -> ColourSource:
    if key == "reflectance":
        return cast("Reflectance", held)
    if key == "lab":
        return Lab(held or (0.0, 0.0, 0.0), observed)
    if key == "xyz":
        return Xyz(held or (0.0, 0.0, 0.0), observed)
    return Srgb(held.lower()) if key == "srgb" else Notation(held)


def _held(value: ColourSource) -> tuple[str, Any]:
    match value:
        case Reflectance():
            return "reflectance", value
        case Lab():
            return "lab", value.lab100
        case Xyz():
            return "xyz", value.xyz100
        case Srgb():
            return "srgb", value.hex
        case Notation():
            return "notation", value.text
