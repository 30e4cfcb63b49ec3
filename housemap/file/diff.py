"""What differs between two houses, by meaning: entity by entity, field by field."""

from collections.abc import Iterator
from dataclasses import dataclass
from dataclasses import field as attribute
from typing import Any

from housemap.file.parts import Values, house_parts, parts, place_of
from housemap.file.writer import literal
from housemap.model.house import House
from housemap.model.kinds import Path
from housemap.model.records import Field, Key, Record
from housemap.model.rules import sentence
from housemap.model.text import shown

LONGEST_VALUE = 60


@dataclass(frozen=True, slots=True)
class Change:
    """A value that differs; None stands for one that is not there.

    A whole entity that came or went is one change, and so is a colour.
    """

    path: Path
    """As in the file, such as ("room", "hall", "height"); a colour's last key is "colour"."""
    before: Any
    after: Any
    field: Field = attribute(compare=False, repr=False)

    def __str__(self) -> str:
        old, new = value_text(self.field, self.before), value_text(self.field, self.after)
        if self.before is None:
            return sentence(self.path, f"is new: {new}")
        if self.after is None:
            return sentence(self.path, f"is gone: {old}")
        return sentence(self.path, f"was {old}, is {new}")


def diff(before: House, after: House) -> tuple[Change, ...]:
    """Return everything that differs, in file order; () for equal houses."""
    found: list[Change] = []
    for path, field, values in house_parts((before, after)):
        found += _changes(path, field, values)
    return tuple(found)


def _changes(path: Path, field: Field, values: Values) -> Iterator[Change]:
    before, after = values
    if before == after:
        return
    inner = parts(field, values)
    if inner is None:
        yield Change(path, before, after, field)
    else:
        for part, held in inner:
            yield from _changes((*path, place_of(part)), part, held)


def value_text(field: Field, value: Any) -> str:
    """Write a value for a list: an entity by its name, all else as in the file but on one line."""
    if value is None:
        return "nothing"
    if isinstance(field, Key) and isinstance(field.kind, Record) and hasattr(value, "name"):
        return shown(value.name)
    if isinstance(field, Key):
        return _cut(literal(field.kind.write(value)))
    return ", ".join(f"{key} {_cut(literal(raw))}" for key, raw in field.write(value).items())


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_VALUE else text[: LONGEST_VALUE - 1] + "…"
