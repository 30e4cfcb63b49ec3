"""Which kind of deck a source is, by what is in it (its name says nothing), and its paints.

A palette text file has a first line that ends in "Palette", then red, green, blue 0..255 and a
name a line; "#" starts a comment.
"""

import json
import re
import stat
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from housemap.deck.cgats import read_cgats
from housemap.deck.colours import known_observed
from housemap.deck.columns import check_columns, gives_colour, guesses, meanings_of
from housemap.deck.cxf import read_cxf3
from housemap.deck.numbers import is_blank
from housemap.deck.reading import (
    LARGEST_BYTES,
    MARKS,
    NOTHING_GIVEN,
    Column,
    DeckReading,
    Format,
    Given,
    RowError,
    check_size,
    decode,
    lines_of,
    one_line_end,
    refuse,
)
from housemap.deck.records import Harvest
from housemap.deck.table import MOST_COLUMNS, MOST_ROWS, Row, Table, read_table, source_of, turned
from housemap.model.text import clean_text

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


# Any source

HEAD_BYTES = 65_536
XML = re.compile(r"\s*<[?!\w]")
CGATS = re.compile(r"^[ \t]*BEGIN_DATA(_FORMAT)?\b|^(CGATS\.|ISO\s?28178|IT8\.)", re.MULTILINE)
TOML_DECK = re.compile(r"^\[(paint\.|house\]|finish\.|room\.)|^format\s*=\s*\d", re.MULTILINE)


def sniff(data: bytes) -> Format:
    """XML, CGATS, a house file's TOML or a list of colours; else a table, which is "csv" here."""
    encoding = next((code for mark, code, _ in MARKS if data.startswith(mark)), "latin-1")
    head = one_line_end(data[:HEAD_BYTES].decode(encoding, errors="ignore"))
    if XML.match(head):
        return "cxf"
    if CGATS.search(head):
        return "cgats"
    if TOML_DECK.search(head):
        return "deck"
    if JSON.match(head):
        return "json"
    if PALETTE.match(head.partition("\n")[0]):
        return "palette"
    return "list" if is_hex_list(head) else "csv"


def read_bytes(
    data: bytes,
    name: str,
    *,
    columns: Mapping[str, str] | None = None,
    observed: str | None = None,
    deck: str = "",
) -> DeckReading:
    """The paints of a source that is no deck yet; nothing of one that cannot be read whole.

    See `Given` for the keywords; `name` is what messages call the source. Raises InputError.
    """
    check_size(len(data), name)
    kind = sniff(data)
    given = Given(columns or {}, checked_observed(observed, name), deck)
    if columns and kind in {"cxf", "deck"}:
        raise refuse("--column is for tables only: leave it out", name)
    if kind == "cxf":
        return read_cxf3(data, name, given)
    text, notes = decode(data, name)
    match kind:
        case "deck":
            raise refuse("this is a deck or house file already; open it as it is", name)
        case "cgats":
            reading = read_cgats(text, name, given)
        case "json":
            reading = read_rows(json_table(text, name), name, kind, given)
        case "palette":
            reading = read_rows(palette(text), name, kind, given)
        case "list":
            reading = read_rows(hex_list(text), name, kind, given)
        case _:
            reading = read_csv(text, name, given)
    return reading._replace(notes=(*notes, *reading.notes))


def checked_observed(observed: str | None, name: str) -> str | None:
    """The illuminant/observer that a caller gives, spelled as house files spell it."""
    try:
        return known_observed(observed or "") or None
    except RowError as error:
        raise refuse(str(error), name) from error


def source_bytes(path: Path, name: str) -> bytes:
    """The bytes of a file of bearable size; raises InputError."""
    try:
        info = path.stat()
        if not (stat.S_ISREG(info.st_mode) or stat.S_ISFIFO(info.st_mode)):
            raise refuse("not a file", name)
        check_size(info.st_size, name)
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise refuse(f"cannot be read: {error.strerror or error}", name) from error
    except ValueError as error:
        # A path with a NUL in it.
        raise refuse("cannot be read: not the name of a file", name) from error


# Tables, whatever their columns are called and in whatever order

SHOWN_HEADERS = 20
SHOWN_CHARACTERS = 40


def read_csv(text: str, name: str, given: Given = NOTHING_GIVEN) -> DeckReading:
    """Every paint of a table, the mapping it was read by, and every rejected row.

    Raises InputError where there is no table, no colour or no paint, or `given` names a column or
    meaning that does not exist.
    """
    table = turned(read_table(text, name))
    format_: Format = "tsv" if table.delimiter == "\t" else "csv"
    return read_rows(table, name, format_, given)


def read_rows(table: Table, name: str, format_: Format, given: Given) -> DeckReading:
    """As `read_csv`, of a table that is read already."""
    found = mapping_of(table, given.columns, name)
    meanings = [column.meaning for column in found]
    if not gives_colour(meanings) and "LRV" not in meanings:
        headers = ", ".join(column.header for column in found[:SHOWN_HEADERS])
        raise refuse(
            "no column gives a colour: hex, rgb, Lab, XYZ, LCh, notation, a spectrum or an LRV is"
            f" needed; found {headers}",
            name,
        )
    source, notes = source_of(table, found, given)
    harvest = Harvest(list(table.rejected))
    harvest.take_table(table, found, source)
    return harvest.reading(format_, found, (*table.notes, *notes), name)


def mapping_of(table: Table, given: Mapping[str, str], name: str) -> tuple[Column, ...]:
    labels = unique(table.headers)
    check_columns(given, labels, name)
    headed = meanings_of(table.headers) if table.has_header else ("",) * len(labels)
    headed = tuple(
        given.get(label, "" if meaning in given.values() else meaning)
        for label, meaning in zip(labels, headed, strict=True)
    )
    cells = [[row.cells[i] for row in table.rows] for i in range(len(labels))]
    columns = []
    for label, known, guess, column in zip(
        labels, headed, guesses(cells, headed), cells, strict=True
    ):
        meaning = known if known or label in given else guess
        example = next((cell for cell in column if not is_blank(cell)), "")
        shown = clean_text(example, SHOWN_CHARACTERS)
        columns.append(Column(label, meaning, guessed=meaning != known, example=shown))
    return tuple(columns)


def unique(headers: Sequence[str]) -> list[str]:
    """Headers as names of columns: a second "b" becomes "b (2)"."""
    result: list[str] = []
    for header in headers:
        number = 1 + sum(header in (label, label.rpartition(" (")[0]) for label in result)
        result.append(header if number == 1 else f"{header} ({number})")
    return result
