"""Walk several houses side by side, down to the values that are compared and merged whole.

What is divided: the house into its fields and tables, tables by id, entities and the surfaces of
a room by field. What is not: a number, a text, a list, a colour.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from housemap.model.house import House
from housemap.model.kinds import Kind, Path
from housemap.model.records import Field, Key, Record, TableOf
from housemap.model.schema import HOUSE, TABLES

Values = tuple[Any, ...]
"""One value of each house; None where it has none."""


def house_parts(houses: Sequence[House]) -> Iterator[tuple[Path, Field, Values]]:
    """Yield the path, field and values of each part of the houses, in file order."""
    for each in HOUSE.fields:
        yield ("house", place_of(each)), each, _attrs(houses, each)
    for table in TABLES:
        yield (table.key,), table, _attrs(houses, table)


def parts(of: Field, values: Values) -> Iterator[tuple[Field, Values]] | None:
    """Return the parts that the values divide into, None where they are compared whole."""
    if not isinstance(of, Key) or any(value is None for value in values):
        return None
    if isinstance(of.kind, TableOf):
        return _entries(of.kind, values)
    if isinstance(of.kind, Record):
        return ((each, _attrs(values, each)) for each in of.kind.fields)
    return None


def whole(of: Field, divided: Mapping[str, Any]) -> Any:
    """Put together what `parts` divided, from values by attribute or id; a table drops None."""
    kind: Kind | None = of.kind if isinstance(of, Key) else None
    if isinstance(kind, Record):
        return kind.entity(**divided)
    return {key: value for key, value in divided.items() if value is not None}


def place_of(of: Field) -> str:
    """Return the key at which a field stands in a path; a colour stands at "colour"."""
    return of.key if isinstance(of, Key) else of.attr


def _attrs(holders: Sequence[Any], of: Field) -> Values:
    return tuple(getattr(holder, of.attr) for holder in holders)


def _entries(kind: TableOf, tables: Values) -> Iterator[tuple[Field, Values]]:
    for key in sorted({key for table in tables for key in table}):
        yield Key(key, key, kind.entry, None), tuple(table.get(key) for table in tables)
