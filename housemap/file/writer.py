"""Write a house: the same house always gives the same text.

tomli-w writes each string and date, the layout is ours: tables in the order of the schema, ids
sorted, one line a key, lists and small tables on one line, defaults left out, whole numbers
without a point. Reading what was written gives an equal house.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from housemap.model.house import FORMAT, House
from housemap.model.kinds import Path
from housemap.model.records import Key, Record, TableOf, by_number
from housemap.model.schema import HOUSE, TABLES


@dataclass(frozen=True, slots=True)
class Row:
    """A header or a key with its value; the text may run over several lines."""

    path: Path
    text: str

    @property
    def is_header(self) -> bool:
        return self.text.startswith("[")


def dump_house(house: House) -> str:
    """Return the canonical text of a house file, an empty line before each header."""
    return "".join(("\n" if row.is_header else "") + row.text + "\n" for row in rows(house))


def rows(house: House) -> Iterator[Row]:
    """Yield every row of the file in order."""
    yield Row(("format",), f"format = {FORMAT}")
    yield from _record(("house",), HOUSE, house)
    for table in TABLES:
        held = getattr(house, table.attr)
        if isinstance(table.kind, TableOf):
            yield from _table((table.key,), table.kind, held)
        elif held != table.default:
            yield from _record((table.key,), table.kind, held)


def _table(path: Path, kind: Any, held: Mapping[str, Any]) -> Iterator[Row]:
    for key in sorted(held, key=by_number):
        if isinstance(kind.entry, Record):
            yield from _record((*path, key), kind.entry, held[key])
        else:
            yield from _header((*path, key))
            yield from _keys((*path, key), kind.entry.write(held[key]))


def _record(path: Path, record: Any, held: Any) -> Iterator[Row]:
    yield from _header(path)
    tables = []
    for field in record.fields:
        value = getattr(held, field.attr)
        if isinstance(field, Key) and isinstance(field.kind, TableOf) and not field.kind.inline:
            tables.append(((*path, field.key), field.kind, value))
        else:
            yield from _keys(path, field.write(value))
    for table in tables:
        yield from _table(*table)


def _header(path: Path) -> Iterator[Row]:
    yield Row(path, f"[{'.'.join(path)}]")


def _keys(path: Path, pairs: Mapping[str, Any]) -> Iterator[Row]:
    for key, value in pairs.items():
        yield Row((*path, key), f"{key} = {literal(value, lines=True)}")


def literal(value: Any, *, lines: bool = False) -> str:
    """Write one TOML value on one line; with `lines`, text of several lines on several."""
    match value:
        case bool():
            return "true" if value else "false"
        case int() | float():
            return repr(value)
        case list():
            return f"[{', '.join(map(literal, value))}]"
        case dict():
            if not value:
                return "{}"
            return f"{{ {', '.join(f'{key} = {literal(each)}' for key, each in value.items())} }}"
    written: str = _dumps()({"k": value}, multiline_strings=lines and "\n" in str(value))
    return written[4:-1]


@cache
def _dumps() -> Any:
    import tomli_w  # noqa: PLC0415 - only when a house is written

    return tomli_w.dumps
