"""The rows of a CSV or TSV text: delimiter, header, decimal mark and units; either way round."""

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from itertools import islice
from typing import NamedTuple

from housemap.deck.colours import Source, are_percent, observed_of
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
from housemap.model.house import DEFAULT_OBSERVED
from housemap.model.text import clean_text, counted

DELIMITERS = (",", ";", "\t", "|")
MOST_ROWS = 50_000
MOST_COLUMNS = 1_000
LONGEST_CELL = 2_000
MOST_CELLS = 4_000_000
LINES_TO_LOOK_AT = 60
SEPARATOR = re.compile("sep=(.)")
"""A first line that names the delimiter, as spreadsheets write it."""

ROWS_ABOVE_HEADER = 20
SHOWN = 80


class Row(NamedTuple):
    line: int
    cells: tuple[str, ...]


class Table(NamedTuple):
    """Rows of as many cells as there are headers; `headers` are made up where there are none."""

    headers: tuple[str, ...]
    rows: tuple[Row, ...]
    delimiter: str
    has_header: bool
    rejected: tuple[RejectedRow, ...]
    notes: tuple[str, ...]


def read_table(text: str, name: str) -> Table:
    """Raises InputError for a text that is no table."""
    first, _, rest = text.partition("\n")
    named = SEPARATOR.fullmatch(first.strip('\r\n "'))
    body = rest if named else text
    delimiter = named[1] if named else find_delimiter(text)
    rows, broken = split_rows(body, delimiter, name, first_line=2 if named else 1)
    if not rows:
        raise refuse("there is no row in it", name)
    at = header_index([row.cells for row in rows[:ROWS_ABOVE_HEADER]])
    headers = [] if at is None else [clean_text(cell) for cell in rows[at].cells]
    while headers and not headers[-1]:  # left by trailing delimiters
        headers.pop()
    widths = [len(row.cells) for row in rows]
    width = len(headers) or max(set(widths), key=widths.count)
    kept, uneven = even_rows(rows if at is None else rows[at + 1 :], width, delimiter)
    check_extent(len(kept) + len(uneven), 0, 0, name, most_rows=MOST_ROWS)
    above = f"the header is line {rows[at].line}; {counted(at, 'row')} above left out" if at else ""
    return Table(
        tuple(headers) or tuple(f"column {i}" for i in range(1, width + 1)),
        kept, delimiter, at is not None, (*broken, *uneven), (above,) if above else (),
    )  # fmt: skip


def find_delimiter(text: str) -> str:
    """The delimiter that gives the most columns with a known header, then the evenest rows."""
    every = io.StringIO(text, newline="")
    lines = list(islice((line for line in every if line.strip()), LINES_TO_LOOK_AT))

    def score(delimiter: str) -> tuple[int, float, int]:
        try:
            rows = list(csv.reader(lines, delimiter=delimiter))
        except csv.Error:
            return (0, 0.0, 0)
        widths = [len(row) for row in rows]
        usual = max(set(widths), key=widths.count)
        known = max((count_known(row) for row in rows[:ROWS_ABOVE_HEADER]), default=0)
        return (known, widths.count(usual) / len(widths) if usual > 1 else 0.0, usual)

    return max(DELIMITERS, key=score)


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
            # The csv module's own words may hold the delimiter itself.
            reason = "a quotation mark is in the middle of a cell"
            if "field limit" in str(error):
                reason = "a cell is far too long"
            broken.append(RejectedRow(line, reason))
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


def even_rows(
    rows: Sequence[Row], width: int, delimiter: str
) -> tuple[tuple[Row, ...], list[RejectedRow]]:
    """The rows cut to as many cells as there are columns, and those that do not fit."""
    kept: list[Row] = []
    rejected: list[RejectedRow] = []
    for row in rows:
        if len(row.cells) < width or any(row.cells[width:]):
            reason = f"{len(row.cells)} cells where there are {width} columns"
        elif any(len(cell) > LONGEST_CELL for cell in row.cells):
            reason = f"a cell of more than {LONGEST_CELL} characters"
        else:
            kept.append(Row(row.line, row.cells[:width]))
            continue
        text = clean_text(delimiter.join(row.cells), SHOWN)
        rejected.append(RejectedRow(row.line, reason, text))
    return tuple(kept), rejected


DOWN = {"nm", "wavelength", "wavelength nm", "wl", "lambda", "λ", "wave length", ""}
FEWEST_ROWS = 16


def turned(table: Table) -> Table:
    """With a paint a row; of one that was turned each row has the line of the header."""
    if not wavelengths_run_down(table):
        return table
    first = min(row.line for row in table.rows)
    nm, *spectra = zip(*(row.cells for row in table.rows), strict=True)
    rows = tuple(
        Row(first - 1, (name, *spectrum))
        for name, spectrum in zip(table.headers[1:], spectra, strict=True)
    )
    note = "wavelengths run down: each column is a paint"
    return table._replace(headers=("name", *nm), rows=rows, notes=(*table.notes, note))


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


def source_of(table: Table, mapping: Sequence[Column], given: Given) -> tuple[Source, list[str]]:
    """What holds for the whole table, and notes about what had to be worked out."""
    looked_at = table.rows[:: 1 + len(table.rows) // MOST_ROWS_LOOKED_AT]
    headers = {column.meaning: column.header for column in mapping if column.meaning}
    cells = {
        column.meaning: [row.cells[i] for row in looked_at]
        for i, column in enumerate(mapping)
        if column.meaning
    }
    notes: list[str] = []
    comma = uses_decimal_comma(
        cell for meaning, found in cells.items() if meaning not in WORDS for cell in found
    )
    if comma:
        notes.append("decimals are marked by a comma")
    spectral = [meaning for meaning in cells if meaning.endswith(NM)]
    percent = False
    if spectral:
        percent = percent_in(cells, headers, spectral, given)
        notes.append(f"reflectance is read as {'percent' if percent else '0..1'}")
    observed = observed_in(headers, given, notes)
    xyz_factor = 1.0
    if "x" not in cells:
        xyz_factor = factor_to_100("XYZ", cells, ("X", "Y", "Z"), LARGEST_XYZ_FRACTION, notes)
    white_z = WHITE_Z.get(observed)
    if white_z and "Z" in cells and (given.assumed or not given.observed):
        top = largest(cells["Z"]) * xyz_factor
        if top > white_z * CLEARLY:
            words = "these look like D65 values; say so with --observed D65/2"
            notes.append(f"Z reaches {top:.1f}: {words}")
    lrv_factor = factor_to_100("LRV", cells, ("LRV",), LARGEST_FRACTION, notes)
    wavelengths_nm = tuple(sorted(float(meaning.removesuffix(NM)) for meaning in spectral))
    return Source(
        comma, percent, observed, wavelengths_nm, xyz_factor, lrv_factor, headers, given.deck
    ), notes


def percent_in(
    cells: Cells, headers: Mapping[str, str], spectral: Sequence[str], given: Given
) -> bool:
    """Whether reflectance is percent: given, said by a header, or shown by large numbers."""
    if given.percent is not None:
        return given.percent
    said = any("%" in headers[meaning] for meaning in spectral)
    return said or are_percent(largest(cells[meaning]) for meaning in spectral)


def factor_to_100(
    what: str, cells: Cells, meanings: Iterable[str], most: float, notes: list[str]
) -> float:
    """100 where numbers that should reach 100 stay below `most`, with a note, else 1."""
    top = max((largest(cells.get(meaning, ())) for meaning in meanings), default=0.0)
    if not 0 < top <= most:
        return 1.0
    notes.append(f"{what} is given 0..1: taken times 100")
    return 100.0


def largest(cells: Iterable[str]) -> float:
    """The largest number in the cells; 0 where there is none."""
    return max((rough_value(cell) for cell in cells if is_number(cell)), default=0.0)


def observed_in(headers: Mapping[str, str], given: Given, notes: list[str]) -> str:
    """The illuminant and observer of the whole table: given, in a header, or the usual ones."""
    headed = [header for meaning, header in headers.items() if meaning in WITH_OBSERVER]
    if given.observed or not headed:
        return given.observed or DEFAULT_OBSERVED
    for header in headed:
        if found := observed_of(header.partition("(")[2].rstrip(") ")):
            notes.append(f"measured under {found}, as a header says")
            return found
    if not {"illuminant", "observer", "observed"} & set(headers):
        notes.append(f"nothing says under which light: taken as {DEFAULT_OBSERVED}")
    return DEFAULT_OBSERVED
