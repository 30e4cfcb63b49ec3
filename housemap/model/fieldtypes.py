"""What the keys of a house file may hold: read it, write it, judge it.

A kind turns a TOML value into a model value (`read`) and back (`write`), says what is wrong with
a model value (`faults`), and walks the ids in it (`follow`). Nothing is raised: whatever is wrong
goes to `note(path, phrase)`, where the path starts at the value itself. The house is described
once, by the annotations of its dataclasses; reading, writing, judging, renaming, comparing,
merging and forms all use that description.
"""

import datetime as dt
import math
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import MISSING, replace
from itertools import chain
from operator import attrgetter
from typing import Any, ClassVar, Final

from housemap.model.frozen import frozen
from housemap.model.text import NAME_LENGTH, normal, number_text, shown, text_fault

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

KeyPath = tuple[str, ...]
Note = Callable[[KeyPath, str], None]
Change = Callable[[KeyPath, str, str], str | None]
"""(path, table, id) -> what the id becomes; None: it is gone."""

ID_LENGTH = 64
ID = re.compile(r"[a-z0-9-]+")


class Gone:
    """What is left of a value that cannot be without an id that is gone."""


GONE: Final = Gone()


class Kind:
    """The base: a value that is written as it is, always right, and holds no ids."""

    types: ClassVar[tuple[type, ...]] = (str,)
    blank: ClassVar[Any] = ""
    """Stands in for what could not be read, so that reading can go on and find the rest."""

    @property
    def expected(self) -> str:
        """What a value must be, for messages."""
        return "text in quotes"

    @property
    def may_refer(self) -> bool:
        """Whether there may be ids in a value; where there are none nobody looks for them."""
        return False

    def read(self, raw: object, note: Note) -> Any:
        if type(raw) in self.types:
            return raw
        note((), f"must be {self.expected}, found {shown(raw)}")
        return self.blank

    def write(self, value: Any) -> Any:
        return value

    def faults(self, value: Any, note: Note) -> None:
        """Note everything that is wrong with a value of the right type."""

    def all_fine(self, values: Sequence[Any]) -> bool:
        """Whether `faults` is known to find nothing in any of many values, without asking it."""
        del values
        return False

    def follow(self, value: Any, change: Change, path: KeyPath = ()) -> Any:
        """Return the value with its ids changed, GONE if it cannot be without one that is gone."""
        del change, path
        return value


def below(note: Note, *keys: str, of: str = "") -> Note:
    """Return a note whose paths start with `keys`; `of` goes before its phrases."""
    return lambda path, phrase: note((*keys, *path), of + phrase)


@frozen(eq=False)
class Text(Kind):
    """One line of text; `lines` allows more."""

    limit: int = NAME_LENGTH
    lines: bool = False

    def read(self, raw: object, note: Note) -> str:
        text: str = Kind.read(self, raw, note)
        return normal(text) if len(text) <= self.limit else text

    def faults(self, value: str, note: Note) -> None:
        if fault := text_fault(value, self.limit, lines=self.lines):
            note((), fault)

    def all_fine(self, values: Sequence[Any]) -> bool:
        """A part of a text that is fine is fine too, Unicode form NFC and all."""
        text = "".join(values)
        return max(map(len, values)) <= self.limit and not text_fault(text, len(text))


class Name(Text):
    """A line of text that says something."""

    def faults(self, value: str, note: Note) -> None:
        if not value.strip():
            note((), "must not be empty")
        Text.faults(self, value, note)

    def all_fine(self, values: Sequence[Any]) -> bool:
        return Text.all_fine(self, values) and all(map(str.strip, values))


@frozen(eq=False)
class Number(Kind):
    """A finite number from `low` (or `above` it) to `high`; below `least` it means nothing."""

    low: float
    high: float
    above: bool = False
    least: float = -math.inf
    types: ClassVar[tuple[type, ...]] = (float, int)
    blank: ClassVar[float] = math.nan

    expected = "a number"

    def read(self, raw: object, note: Note) -> float:
        try:
            return float(Kind.read(self, raw, note))
        except OverflowError:
            return math.inf

    def all_fine(self, values: Sequence[Any]) -> bool:
        """The types too may be wrong; spectra are long."""
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
            note((), f"must be at most {number_text(self.high)}, found {number_text(value)}")
        elif value < self.low or (self.above and value == self.low):
            word = "above" if self.above else "at least"
            note((), f"must be {word} {number_text(self.low)}, found {number_text(value)}")
        elif value < self.least:
            note((), f"must be at least {number_text(self.least)}, found {number_text(value)}")


@frozen(eq=False)
class Whole(Kind):
    low: int
    high: int
    types: ClassVar[tuple[type, ...]] = (int,)
    blank: ClassVar[int] = 0

    expected = "a whole number"

    def faults(self, value: int, note: Note) -> None:
        if not self.low <= value <= self.high:
            note((), f"must be {self.low} to {self.high}, found {shown(value)}")


class Flag(Kind):
    types: ClassVar[tuple[type, ...]] = (bool,)
    blank: ClassVar[bool] = False
    expected = "true or false"


class Day(Kind):
    types: ClassVar[tuple[type, ...]] = (dt.date,)
    blank: ClassVar[None] = None
    expected = "a date such as 2026-05-02 (no quotes)"


@frozen(eq=False)
class Choice(Kind):
    words: tuple[str, ...]

    @property
    def expected(self) -> str:
        *most, last = self.words
        return f"one of {', '.join(most)} or {last}" if most else last

    def faults(self, value: str, note: Note) -> None:
        if value not in self.words:
            note((), f"must be {self.expected}, found {shown(value)}")


@frozen(eq=False)
class Shape(Kind):
    """Text of a given form, such as an id; `example` says what it looks like."""

    form: re.Pattern[str]
    example: str
    limit: int = ID_LENGTH

    @property
    def expected(self) -> str:
        return f"{self.example} in quotes"

    def faults(self, value: str, note: Note) -> None:
        if len(value) > self.limit:
            note((), f"must be at most {self.limit} characters long, found {len(value)}")
        elif not self.form.fullmatch(value):
            note((), f"must be {self.example}, found {shown(value)}")

    def all_fine(self, values: Sequence[Any]) -> bool:
        return max(map(len, values)) <= self.limit and all(map(self.form.fullmatch, values))


class WallKey(Kind):
    """A wall: n, e, s or w, or the number of an outline's edge."""

    form: ClassVar[re.Pattern[str]] = re.compile(r"[nesw]|0|[1-9][0-9]{0,3}")
    expected = 'a wall ("n", "e", "s", "w" or an edge\'s number)'

    def read(self, raw: object, note: Note) -> Any:
        if type(raw) is int and self.form.fullmatch(str(raw)):
            return str(raw)
        return Kind.read(self, raw, note)

    def write(self, value: str) -> str | int:
        return int(value) if value.isdecimal() else value

    def faults(self, value: str, note: Note) -> None:
        if not self.form.fullmatch(value):
            walls = "n, e, s, w or the number of an outline's edge"
            note((), f"must be a wall ({walls}), found {shown(value)}")


@frozen(eq=False)
class Ref(Kind):
    """The id of an entity in `table`, an attribute of House; "" for none where it is `optional`."""

    table: str
    optional: bool = False

    expected = "an id in quotes"

    may_refer = True

    def follow(self, value: str, change: Change, path: KeyPath = ()) -> str | Gone:
        if self.optional and not value:
            return value
        now = change(path, self.table, value)
        return GONE if now is None else now


# Lists, records and tables

MANY = 1000
"""Entries of a table from which on they are looked at together first, an attribute at a time."""

REQUIRED = MISSING


@frozen(eq=False)
class Key:
    """An attribute of a record and the key that holds it; at its default it is not written."""

    key: str
    attr: str
    kind: Kind
    default: Any
    """REQUIRED where the key must be there."""

    @property
    def keys(self) -> tuple[str, ...]:
        return (self.key,)

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

    def all_fine(self, values: Sequence[Any]) -> bool:
        """As `Kind.all_fine`, of the same attribute of many records."""
        given = [each for each in values if each is not None and each is not self.default]
        return not given or self.kind.all_fine(given)

    def follow(self, value: Any, change: Change, path: KeyPath = ()) -> Any:
        now = value if value is None else self.kind.follow(value, change, (*path, self.key))
        needed = self.default is REQUIRED or (isinstance(self.kind, ListOf) and self.kind.whole)
        return self.default if now is GONE and not needed else now

    def refs(self, value: Any) -> Iterator[tuple[KeyPath, str, str]]:
        """Yield (path, table, id) for every id in the value."""
        found: list[tuple[KeyPath, str, str]] = []

        def seen(path: KeyPath, table: str, ref: str) -> str:
            found.append((path, table, ref))
            return ref

        if self.kind.may_refer:
            self.follow(value, seen)
        yield from found


@frozen(eq=False)
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
            if isinstance(self.item, Number) and self.item.all_fine(raw):
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
        if isinstance(self.item, Number) and self.item.all_fine(value):
            return
        for i, each in enumerate(value[: self.high]):
            self.item.faults(each, below(note, str(i)))

    def all_fine(self, values: Sequence[Any]) -> bool:
        sizes = {*map(len, values)}
        items = [*chain.from_iterable(values)]
        return self.low <= min(sizes) <= max(sizes) <= self.high and self.item.all_fine(items)

    def follow(self, value: tuple[Any, ...], change: Change, path: KeyPath = ()) -> Any:
        now = [self.item.follow(each, change, (*path, str(i))) for i, each in enumerate(value)]
        kept = tuple(each for each in now if each is not GONE)
        if len(kept) < (len(value) if self.whole else self.low):
            return GONE
        return value if kept == value else kept

    def _count(self) -> str:
        return str(self.low) if self.low == self.high else f"{self.low} to {self.high}"


@frozen(eq=False)
class PairsOf(Kind):
    """A few values by word, on one line of the file; a tuple of pairs in the order of the words."""

    words: tuple[str, ...]
    value: Kind

    def read(self, raw: object, note: Note) -> Any:
        if not isinstance(raw, dict):
            note((), f"must be values by word, such as {{ {self.words[0]} = ... }}")
            return ()
        unknown_keys(raw, self.words, note)
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


class Record(Kind):
    """A table with known keys; an instance of `entity` in the model."""

    def __init__(self, entity: type[Any], fields: tuple[Key, ...]) -> None:
        self.entity, self.fields = entity, fields
        self.by_key = {key: field for field in fields for key in field.keys}
        self.needed = {field for field in fields if field.default is REQUIRED}
        self.referring = tuple(field for field in fields if field.kind.may_refer)
        self._last: tuple[KeyPath | None, tuple[Key, ...]] = None, ()
        """The keys that were read last, and their fields: those of the next are often the same."""

    @property
    def may_refer(self) -> bool:
        return bool(self.referring)

    def read(self, raw: object, note: Note) -> Any:
        if not isinstance(raw, dict):
            note((), f"must be a table, found {shown(raw)}")
            raw = {}
            note = _silence
        unknown_keys(raw, self.by_key, note)
        keys, fields = self._last
        if keys != tuple(raw):
            given = self.needed | {self.by_key[key] for key in raw if key in self.by_key}
            fields = tuple(field for field in self.fields if field in given)
            self._last = tuple(raw), fields
        return self.entity(**{field.attr: field.read(raw, note) for field in fields})

    def write(self, value: Any) -> dict[str, Any]:
        written: dict[str, Any] = {}
        for field in self.fields:
            written |= field.write(getattr(value, field.attr))
        return written

    def faults(self, value: Any, note: Note) -> None:
        for field in self.fields:
            held = getattr(value, field.attr)
            if held is not field.default:
                field.faults(held, note)

    def all_fine(self, values: Sequence[Any]) -> bool:
        return all(field.all_fine([*map(attrgetter(field.attr), values)]) for field in self.fields)

    def follow(self, value: Any, change: Change, path: KeyPath = ()) -> Any:
        changed = {}
        for field in self.referring:
            before = getattr(value, field.attr)
            now = field.follow(before, change, path)
            if now is GONE:
                return GONE
            if now is not before:
                changed[field.attr] = now
        return replace(value, **changed) if changed else value


@frozen(eq=False)
class TableOf(Kind):
    """Entries by key, a mapping in the model; with headers of its own, or `inline` on one line."""

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
        keys, entries = [*value], [*value.values()]
        if len(keys) >= MANY and self.key.all_fine(keys) and self.entry.all_fine(entries):
            return
        for key, each in value.items():
            self.key.faults(key, below(note, key, of="its id "))
            self.entry.faults(each, below(note, key))

    def follow(self, value: Mapping[str, Any], change: Change, path: KeyPath = ()) -> Any:
        kept: dict[str, Any] = {}
        same = True
        for key, each in value.items():
            below_key = (*path, key)
            name = self.key.follow(key, change, below_key)
            now = self.entry.follow(each, change, below_key)
            same = same and name == key and now is each
            if name is not GONE and now is not GONE:
                kept[name] = now
        return value if same else kept


def by_number(key: str) -> tuple[int, str]:
    """Sort keys as a person would: "2" before "10", numbers before words."""
    return (int(key), key) if key.isdecimal() else (1_000_000, key)


def unknown_keys(
    raw: Mapping[str, object], known: Collection[str], note: Note, what: str = "key"
) -> None:
    """Note the keys that are not known, each with the nearest one that is."""
    for key in [key for key in raw if key not in known]:
        note((key,), f"is not a known {what}; the nearest one is {nearest(key, known)}")


def unknown_id(kind: str, key: str, known: Collection[str]) -> str:
    """As in: there is no room "atic"; the nearest is attic."""
    near = f"; the nearest is {nearest(key, known)}" if known else ""
    return f"there is no {kind} {shown(key)}{near}"


def nearest(key: str, known: Iterable[str]) -> str:
    from difflib import SequenceMatcher  # noqa: PLC0415 - only for a file with a mistake

    return max(known, key=lambda each: SequenceMatcher(None, each, key[:40]).ratio())


def _silence(path: KeyPath, phrase: str) -> None:
    """Take no note: what it would say follows from a problem already noted."""
    del path, phrase
