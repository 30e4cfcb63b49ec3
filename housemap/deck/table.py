"""The rows of a CSV or TSV text: delimiter, header, decimal mark and units; either way round."""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from housemap.deck.colours import Units, are_percent, observed_of
from housemap.deck.columns import (
    BY_HEADER,
    NM,
    is_hex,
    is_notation,
    meanings_of,
    plain,
    wavelength_nm,
)
from housemap.deck.numbers import is_number, rough_value, uses_decimal_comma
from housemap.deck.reading import Column, Given, RejectedRow, refuse
from housemap.deck.records import Harvest, Source
from housemap.model.house import DEFAULT_OBSERVED
from housemap.model.text import clean_text, counted

DELIMITERS = (",", ";", "\t", "|")
MOST_ROWS = 50_000
MOST_COLUMNS = 1_000
LONGEST_CELL = 2_000
MOST_CELLS = 4_000_000
LINES_TO_LOOK_AT = 60
ROWS_ABOVE_HEADER = 20
SHOWN = 80


@dataclass(frozen=True, slots=True)
class Row:
    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of as many cells as there are headers; `headers` are made up where there are none."""

    headers: tuple[str, ...]
    rows: tuple[Row, ...]
    delimiter: str
    has_header: bool
    rejected: tuple[RejectedRow, ...]
    notes: tuple[str, ...]


def read_table(text: str, name: str) -> Table:
    """Raises InputError for a text that is no table."""
    named, text = named_delimiter(text)
    delimiter = named or find_delimiter(text)
    rows, broken = split_rows(text, delimiter, name, first_line=2 if named else 1)
    if not rows:
        raise refuse("there is no row in it", name)
    at = header_index([row.cells for row in rows[:ROWS_ABOVE_HEADER]])
    has_header = at is not None
    start = 0 if at is None else at
    headers = tidy_headers(rows[start].cells) if has_header else ()
    width = len(headers) or usual_width(rows)
    body, uneven = even_rows(rows[start + has_header :], width, delimiter)
    check_extent(len(body) + len(uneven), 0, 0, name, most_rows=MOST_ROWS)
    notes = skipped_note(rows[start].line, start) if start else ()
    return Table(
        headers or tuple(f"column {i}" for i in range(1, width + 1)),
        body, delimiter, has_header, (*broken, *uneven), notes,
    )  # fmt: skip


def named_delimiter(text: str) -> tuple[str, str]:
    """The delimiter of a first line such as "sep=;", as spreadsheets write it, and the rest."""
    first, _, rest = text.partition("\n")
    tidy = first.strip('\r\n "')
    return (tidy[4:], rest) if tidy[:4] == "sep=" and len(tidy) == len("sep=;") else ("", text)


def find_delimiter(text: str) -> str:
    """The delimiter that gives the most columns with a known header, then the evenest rows."""
    every = io.StringIO(text, newline="")
    lines = list(islice((line for line in every if line.strip()), LINES_TO_LOOK_AT))
    return max(DELIMITERS, key=lambda delimiter: delimiter_score(lines, delimiter))


def delimiter_score(lines: Sequence[str], delimiter: str) -> tuple[int, float, int]:
    try:
        rows = list(csv.reader(lines, delimiter=delimiter))
    except csv.Error:
        return (0, 0.0, 0)
    widths = [len(row) for row in rows]
    usual = max(set(widths), key=widths.count)
    known = max((count_known(row) for row in rows[:ROWS_ABOVE_HEADER]), default=0)
    return (known, widths.count(usual) / len(widths) if usual > 1 else 0.0, usual)


def count_known(cells: Sequence[str]) -> int:
    return sum(bool(meaning) for meaning in meanings_of(cells[:MOST_COLUMNS]))


def split_rows(
    text: str, delimiter: str, name: str, first_line: int
) -> tuple[list[Row], list[RejectedRow]]:
    """Every row that is not blank. A broken one is rejected; an open quote at the end is not."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows: list[Row] = []
    broken: list[RejectedRow] = []
    count = 0
    while True:
        line = reader.line_num + first_line
        try:
            cells = next(reader, None)
        except csv.Error as error:
            if "unexpected end" in str(error):
                raise refuse("a quotation mark opens here and never closes", name, line) from error
            broken.append(RejectedRow(line, broken_reason(error)))
            continue
        if cells is None:
            return rows, broken
        if any(cell.strip() for cell in cells):
            rows.append(Row(line, tuple(cell.strip() for cell in cells)))
        count += len(cells)
        check_extent(len(rows), len(cells), count, name)


def check_extent(
    rows: int, columns: int, cells: int, name: str, most_rows: int = MOST_ROWS + ROWS_ABOVE_HEADER
) -> None:
    """Refuse a table beyond what a deck can be, before it fills the memory."""
    for number, limit, what in ((rows, most_rows, "rows"), (columns, MOST_COLUMNS, "columns"),
                               (cells, MOST_CELLS, "cells")):  # fmt: skip
        if number > limit:
            most = min(limit, MOST_ROWS) if what == "rows" else limit
            raise refuse(f"more than {most:,} {what}; nothing was read", name)


def broken_reason(error: csv.Error) -> str:
    """What the csv module means; its own words may hold the delimiter itself."""
    if "field limit" in str(error):
        return "a cell is far too long"
    return "a quotation mark is in the middle of a cell"


def header_index(rows: Sequence[Sequence[str]]) -> int | None:
    """Which row heads the columns; None where the first row is already a paint."""
    scores = [count_known(row) if looks_like_header(row) else 0 for row in rows]
    best = max(range(len(rows)), key=lambda i: (scores[i], -i))
    if scores[best] > 1 or (scores[best] and len(rows[best]) <= 2):  # noqa: PLR2004 (a small table)
        return best
    return 0 if len(rows) > 1 and looks_like_header(rows[0]) and not alike(*rows[:2]) else None


def looks_like_header(cells: Sequence[str]) -> bool:
    """Whether no cell is a value: a colour, or a number that is no wavelength."""
    return not any(is_value(cell) for cell in cells if cell)


def is_value(cell: str) -> bool:
    if plain(cell) in BY_HEADER or wavelength_nm(cell):
        return False
    return is_number(cell) or is_hex(cell) or is_notation(cell)


def alike(first: Sequence[str], second: Sequence[str]) -> bool:
    """Whether two rows have values in the same places, as two paints would."""
    return [is_value(cell) for cell in first] == [is_value(cell) for cell in second]


def tidy_headers(cells: Sequence[str]) -> tuple[str, ...]:
    """Headers fit to be shown, without the empty ones that trailing delimiters leave."""
    headers = [clean_text(cell) for cell in cells]
    while headers and not headers[-1]:
        headers.pop()
    return tuple(headers)


def usual_width(rows: Sequence[Row]) -> int:
    widths = [len(row.cells) for row in rows]
    return max(set(widths), key=widths.count)


def even_rows(
    rows: Sequence[Row], width: int, delimiter: str
) -> tuple[tuple[Row, ...], list[RejectedRow]]:
    kept: list[Row] = []
    rejected: list[RejectedRow] = []
    for row in rows:
        if reason := misfit(row.cells, width):
            text = clean_text(delimiter.join(row.cells), SHOWN)
            rejected.append(RejectedRow(row.line, reason, text))
        else:
            kept.append(Row(row.line, row.cells[:width]))
    return tuple(kept), rejected


def misfit(cells: Sequence[str], width: int) -> str:
    """Why a row does not fit the columns; empty where it does."""
    if len(cells) < width or any(cells[width:]):
        return f"{len(cells)} cells where there are {width} columns"
    if any(len(cell) > LONGEST_CELL for cell in cells):
        return f"a cell of more than {LONGEST_CELL} characters"
    return ""


def skipped_note(line: int, count: int) -> tuple[str, ...]:
    return (f"the header is line {line}; {counted(count, 'row')} above left out",)


DOWN = {"nm", "wavelength", "wavelength nm", "wl", "lambda", "λ", "wave length", ""}
FEWEST_ROWS = 16


def turned(table: Table) -> Table:
    """A table with a paint a row; as it is where it has that already.

    The line of each row is then that of the header, where the paint's name stands.
    """
    if not wavelengths_run_down(table):
        return table
    first = min(row.line for row in table.rows)
    across = zip(*(row.cells for row in table.rows), strict=True)
    nm, *spectra = across
    rows = tuple(
        Row(first - 1, (name, *spectrum))
        for name, spectrum in zip(table.headers[1:], spectra, strict=True)
    )
    note = "wavelengths run down: each column is a paint"
    return Table(
        ("name", *nm), rows, table.delimiter, has_header=True, rejected=table.rejected,
        notes=(*table.notes, note),
    )  # fmt: skip


def wavelengths_run_down(table: Table) -> bool:
    if len(table.rows) < FEWEST_ROWS or not table.has_header or len(table.headers) == 1:
        return False
    return plain(table.headers[0]) in DOWN and all(wavelength_nm(r.cells[0]) for r in table.rows)


WORDS = {"name", "code", "hex", "notation", "hue", "illuminant", "observer", "observed", "deck",
         "notes", "tins"}  # fmt: skip
"""Meanings whose cells are no plain numbers."""
WITH_OBSERVER = {"L*", "lab", "X", "xyz", "x"}
MOST_ROWS_LOOKED_AT = 1000
LARGEST_FRACTION = 1.0
WHITE_Z = {"D50/2": 82.49, "D50/10": 81.41}
"""Z of the perfect diffuser (ISO/CIE 11664-2, CIE 15)."""
CLEARLY = 1.05
LARGEST_XYZ_FRACTION = 1.5

Cells = Mapping[str, Sequence[str]]
"""Cells by meaning, a column each."""


def harvested(table: Table, mapping: Sequence[Column], source: Source) -> Harvest:
    harvest = Harvest(source, rejected=list(table.rejected))
    used = [(i, column.meaning) for i, column in enumerate(mapping) if column.meaning]
    for row in table.rows:
        cells = {meaning: row.cells[i] for i, meaning in used}
        harvest.take(row.line, cells, table.delimiter.join(row.cells))
    return harvest


def source_of(table: Table, mapping: Sequence[Column], given: Given) -> tuple[Source, list[str]]:
    """What holds for the whole table, and notes about what had to be worked out."""
    looked_at = table.rows[:: 1 + len(table.rows) // MOST_ROWS_LOOKED_AT]
    cells = {
        column.meaning: [row.cells[i] for row in looked_at]
        for i, column in enumerate(mapping)
        if column.meaning
    }
    notes: list[str] = []
    units = units_of(cells, mapping, given, notes)
    lrv_factor = fraction_factor(cells.get("LRV", ()), LARGEST_FRACTION)
    if lrv_factor > 1:
        notes.append("LRV is given 0..1: taken times 100")
    headers = {column.meaning: column.header for column in mapping}
    return Source(units, headers, lrv_factor, given.deck), notes


def units_of(cells: Cells, mapping: Sequence[Column], given: Given, notes: list[str]) -> Units:
    comma = uses_decimal_comma(
        cell for meaning, found in cells.items() if meaning not in WORDS for cell in found
    )
    if comma:
        notes.append("decimals are marked by a comma")
    spectral = [meaning for meaning in cells if meaning.endswith(NM)]
    percent = bool(spectral) and percent_in(cells, mapping, spectral, given)
    if spectral:
        notes.append(f"reflectance is read as {'percent' if percent else '0..1'}")
    observed, factor = observed_in(cells, mapping, given, notes), xyz_factor(cells, notes)
    notes += light_doubt(cells, observed, given, factor)
    wavelengths_nm = tuple(sorted(float(meaning.removesuffix(NM)) for meaning in spectral))
    return Units(comma, percent, observed, wavelengths_nm, factor)


def percent_in(
    cells: Cells, mapping: Sequence[Column], spectral: Sequence[str], given: Given
) -> bool:
    """Whether reflectance is percent: given, said by a header, or shown by large numbers."""
    if given.percent is not None:
        return given.percent
    if any("%" in column.header for column in mapping if column.meaning.endswith(NM)):
        return True
    return are_percent(numbers_in(cell for meaning in spectral for cell in cells[meaning]))


def xyz_factor(cells: Cells, notes: list[str]) -> float:
    if "x" in cells:
        return 1.0
    xyz = (cell for meaning in ("X", "Y", "Z") for cell in cells.get(meaning, ()))
    factor = fraction_factor(xyz, LARGEST_XYZ_FRACTION)
    if factor > 1:
        notes.append("XYZ is given 0..1: taken times 100")
    return factor


def light_doubt(cells: Cells, observed: str, given: Given, factor: float) -> Iterator[str]:
    """Where Z is beyond the white of the light that is taken for granted, which light it may be."""
    white_z = WHITE_Z.get(observed)
    if (given.observed and not given.assumed) or white_z is None or "Z" not in cells:
        return
    top = max(numbers_in(cells["Z"]), default=0.0) * factor
    if top > white_z * CLEARLY:
        yield f"Z reaches {top:.1f}: these look like D65 values; say so with --observed D65/2"


def fraction_factor(cells: Iterable[str], largest: float) -> float:
    """100 where numbers that should reach 100 stay below `largest`, else 1."""
    top = max(numbers_in(cells), default=0.0)
    return 100.0 if 0 < top <= largest else 1.0


def numbers_in(cells: Iterable[str]) -> Iterable[float]:
    return (rough_value(cell) for cell in cells if is_number(cell))


def observed_in(cells: Cells, mapping: Sequence[Column], given: Given, notes: list[str]) -> str:
    """The illuminant and observer of the whole table: given, in a header, or the usual ones."""
    if given.observed or not WITH_OBSERVER & set(cells):
        return given.observed or DEFAULT_OBSERVED
    headers = (column.header for column in mapping if column.meaning in WITH_OBSERVER)
    inside = (header.partition("(")[2].rstrip(") ") for header in headers)
    if found := next(filter(None, map(observed_of, inside)), None):
        notes.append(f"measured under {found}, as a header says")
        return found
    if not {"illuminant", "observer", "observed"} & set(cells):
        notes.append(f"nothing says under which light: taken as {DEFAULT_OBSERVED}")
    return DEFAULT_OBSERVED
