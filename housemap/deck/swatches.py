"""Lists of screen colours: JSON, a colour and a name a line, and palette text files.

A palette text file has a first line that ends in "Palette", then red, green, blue 0..255 and a
name a line; "#" starts a comment.
"""

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from housemap.deck.numbers import is_blank
from housemap.deck.reading import lines_of, refuse
from housemap.deck.table import MOST_COLUMNS, MOST_ROWS, Row, Table

PALETTE = re.compile(r"\w+ Palette\s*$")
JSON = re.compile(r'\s*(?:\[\s*(?:[\[{"\]]|-?\d)|\{\s*["}])')
_TRIPLE = re.compile(r"\s*(\d{1,3})\s+(\d{1,3})\s+(\d{1,3})(?:\s+(.*))?")
_BARE = r"[^#,;\t|]*"
_HEX_LINE = re.compile(
    rf"(?P<before>{_BARE}?)\s*#(?P<hex>[0-9a-f]{{6}}|[0-9a-f]{{3}})\b\s*(?P<behind>{_BARE})",
    re.IGNORECASE,
)
_BETWEEN = " \t:=-"
MOST_LOOKED_AT = 40
DEEPEST = 20


def is_hex_list(head: str) -> bool:
    """Whether every line is a colour such as #d9d0bf with perhaps a name on one side of it."""
    lines = [line for line in lines_of(head) if line.strip()][:MOST_LOOKED_AT]
    found = [_HEX_LINE.fullmatch(line.strip()) for line in lines]
    return bool(found) and all(found) and any(each and _name_in(each) for each in found)


def hex_list(text: str) -> Table:
    rows = []
    for number, line in enumerate(lines_of(text), 1):
        found = _HEX_LINE.fullmatch(line.strip())
        if found:
            rows.append(Row(number, (_name_in(found), f"#{found['hex']}")))
        elif line.strip():
            rows.append(Row(number, (line.strip(), "")))
    return table_of(("name", "hex"), rows)


def _name_in(found: re.Match[str]) -> str:
    return found["before"].strip(_BETWEEN) or found["behind"].strip(_BETWEEN)


def palette(text: str) -> Table:
    rows = []
    for number, line in enumerate(lines_of(text), 1):
        if number == 1 or not line.strip() or line.startswith(("#", "Name:", "Columns:")):
            continue
        found = _TRIPLE.fullmatch(line.rstrip())
        red, green, blue, name = found.groups() if found else ("", "", "", line.strip())
        # One without a name is called by its place, as the line says no more.
        rows.append(Row(number, (name or f"colour {number}", red, green, blue)))
    return table_of(("name", "red", "green", "blue"), rows)


def table_of(headers: tuple[str, ...], rows: list[Row]) -> Table:
    return Table(headers, tuple(rows), ", ", has_header=True, rejected=(), notes=())


# JSON


def json_table(text: str, name: str) -> Table:
    """A list of colours, of objects, or of names with colours. Raises InputError."""
    try:
        entries = list(_entries(json.loads(text)))
    except RecursionError as error:
        raise refuse("nested too deeply for a list of colours", name) from error
    except ValueError as error:
        line = getattr(error, "lineno", None)
        raise refuse("looks like JSON and cannot be read as such", name, line) from error
    if not entries:
        example = '["#d9d0bf"] or [{"name": "Oat", "hex": "#d9d0bf"}]'
        raise refuse(f"JSON is read as a list: {example}", name)
    if len(entries) > MOST_ROWS:
        raise refuse(f"more than {MOST_ROWS:,} entries; nothing was read", name)
    headers = tuple(dict.fromkeys(key for entry in entries for key in entry))
    if len(headers) > MOST_COLUMNS:
        raise refuse(f"more than {MOST_COLUMNS:,} different keys; nothing was read", name)
    rows = [
        Row(number, tuple(entry.get(header, "") for header in headers))
        for number, entry in enumerate(entries, 1)
    ]
    return table_of(headers, rows)


def _entries(value: Any, depth: int = 0) -> Iterator[Mapping[str, str]]:
    """The entries of the first list found, each as cells by key."""
    if isinstance(value, list):
        yield from (_cells(each) for each in value if each is not None)
    elif isinstance(value, dict) and depth < DEEPEST:
        lists = [each for each in value.values() if isinstance(each, list) and each]
        if lists and any(isinstance(each, dict | str) for each in lists[0]):
            yield from _entries(lists[0], depth + 1)
        else:
            yield from ({"name": key, **_cells(each)} for key, each in value.items())


def _cells(entry: Any) -> dict[str, str]:
    if isinstance(entry, dict):
        return dict(_flat(entry.items()))
    return {"rgb" if isinstance(entry, list) else "hex": _text(entry)}


def _flat(items: Iterable[tuple[str, Any]]) -> Iterator[tuple[str, str]]:
    """Cells by key; parts of an inner object by their own keys."""
    for key, value in items:
        if isinstance(value, dict):
            yield from ((inner, _text(part)) for inner, part in value.items())
        elif not is_blank(_text(value)):
            yield key, _text(value)


def _text(value: Any) -> str:
    if value is None or isinstance(value, dict):
        return ""
    if isinstance(value, list):
        return ", ".join(str(each) for each in value if not isinstance(each, list | dict))
    return str(value)
