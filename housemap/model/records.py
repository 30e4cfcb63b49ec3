"""Kinds made of kinds: lists, records with named fields, and tables of records by id.

A record is described once, as a table of fields; reading, writing, judging, renaming, comparing
and merging all walk that table.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import MISSING, dataclass, fields, replace
from functools import partial
from typing import Any, Protocol

from housemap.model.kinds import GONE, Change, Kind, Note, Number, Path, below
from housemap.model.text import shown

REQUIRED = MISSING


class Field(Protocol):
    """One attribute of a record and the key or keys that hold it in a file."""

    @property
    def attr(self) -> str: ...
    @property
    def keys(self) -> tuple[str, ...]: ...
    def read(self, raw: Mapping[str, object], note: Note) -> Any: ...
    def write(self, value: Any) -> Mapping[str, Any]: ...
    def faults(self, value: Any, note: Note) -> None: ...
    def refs(self, value: Any) -> Iterator[tuple[Path, str, str]]: ...
    def follow(self, value: Any, change: Change) -> Any: ...


@dataclass(slots=True, eq=False, repr=False)
class Key:
    """An attribute that stands at one key; at its default it is not written."""

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

    def refs(self, value: Any) -> Iterator[tuple[Path, str, str]]:
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

    def refs(self, value: tuple[Any, ...]) -> Iterator[tuple[Path, str, str]]:
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

    @property
    def keys(self) -> tuple[str, ...]:
        return tuple(key for field in self.fields for key in field.keys)

    def read(self, raw: object, note: Note) -> Any:
        if not isinstance(raw, dict):
            note((), f"must be a table, found {shown(raw)}")
            raw = {}
            note = _silence
        known = self.keys
        for key in [key for key in raw if key not in known]:
            note((key,), f"is not a known key; the nearest one is {nearest(key, known)}")
        return self.entity(**{field.attr: field.read(raw, note) for field in self.fields})

    def write(self, value: Any) -> dict[str, Any]:
        written: dict[str, Any] = {}
        for field in self.fields:
            written |= field.write(getattr(value, field.attr))
        return written

    def faults(self, value: Any, note: Note) -> None:
        for field in self.fields:
            field.faults(getattr(value, field.attr), note)

    def refs(self, value: Any) -> Iterator[tuple[Path, str, str]]:
        for field in self.fields:
            yield from field.refs(getattr(value, field.attr))

    def follow(self, value: Any, change: Change) -> Any:
        changed = {}
        for field in self.fields:
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

    def refs(self, value: Mapping[str, Any]) -> Iterator[tuple[Path, str, str]]:
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


def _of_its_id(note: Note, path: Path, phrase: str) -> None:
    note(path, f"its id {phrase}")


def _silence(path: Path, phrase: str) -> None:
    """Take no note: what it would say follows from a problem already noted."""
    del path, phrase
