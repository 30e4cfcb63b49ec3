"""What the rows of a table have in common (units, marks, conditions), and the paints they give."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from housemap.deck.colours import Units
from housemap.deck.columns import NM
from housemap.deck.conditions import observed_of
from housemap.deck.csv_table import Table
from housemap.deck.numbers import is_number, rough_value, uses_decimal_comma
from housemap.deck.reading import Column
from housemap.deck.records import Harvest, Source
from housemap.deck.reflectances import are_percent
from housemap.model.house import DEFAULT_OBSERVED

WORDS = {"name", "code", "hex", "notation", "hue", "illuminant", "observer", "observed", "deck",
         "notes", "tins"}  # fmt: skip
"""Meanings whose cells are no plain numbers."""
WITH_OBSERVER = {"L*", "lab", "X", "xyz", "x"}
MOST_ROWS_LOOKED_AT = 1000
LARGEST_FRACTION = 1.0
LARGEST_XYZ_FRACTION = 1.5

Cells = Mapping[str, Sequence[str]]
"""Cells by meaning, a column each."""


@dataclass(frozen=True, slots=True)
class Told:
    """What is known of a table before it is looked at."""

    observed: str | None = None
    percent: bool | None = None
    deck: str = ""


def harvested(table: Table, mapping: Sequence[Column], source: Source) -> Harvest:
    harvest = Harvest(source, rejected=list(table.rejected))
    used = [(i, column.meaning) for i, column in enumerate(mapping) if column.meaning]
    for row in table.rows:
        cells = {meaning: row.cells[i] for i, meaning in used}
        harvest.take(row.line, cells, table.delimiter.join(row.cells))
    return harvest


def source_of(table: Table, mapping: Sequence[Column], told: Told) -> tuple[Source, list[str]]:
    """What holds for the whole table, and notes about what had to be worked out."""
    looked_at = table.rows[:: 1 + len(table.rows) // MOST_ROWS_LOOKED_AT]
    cells = {
        column.meaning: [row.cells[i] for row in looked_at]
        for i, column in enumerate(mapping)
        if column.meaning
    }
    notes: list[str] = []
    units = units_of(cells, mapping, told, notes)
    lrv_factor = fraction_factor(cells.get("LRV", ()), LARGEST_FRACTION)
    if lrv_factor > 1:
        notes.append("LRV is given 0..1: taken times 100")
    headers = {column.meaning: column.header for column in mapping}
    return Source(units, headers, lrv_factor, told.deck), notes


def units_of(cells: Cells, mapping: Sequence[Column], told: Told, notes: list[str]) -> Units:
    comma = uses_decimal_comma(
        cell for meaning, found in cells.items() if meaning not in WORDS for cell in found
    )
    if comma:
        notes.append("decimals are marked by a comma")
    spectral = [meaning for meaning in cells if meaning.endswith(NM)]
    percent = bool(spectral) and percent_in(cells, mapping, spectral, told)
    if spectral:
        notes.append(f"reflectance is read as {'percent' if percent else '0..1'}")
    return Units(
        comma,
        percent,
        observed_in(cells, mapping, told, notes),
        tuple(sorted(float(meaning.removesuffix(NM)) for meaning in spectral)),
        xyz_factor(cells, notes),
    )


def percent_in(
    cells: Cells, mapping: Sequence[Column], spectral: Sequence[str], told: Told
) -> bool:
    """Whether reflectance is percent: told, said by a header, or shown by large numbers."""
    if told.percent is not None:
        return told.percent
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


def fraction_factor(cells: Iterable[str], largest: float) -> float:
    """100 where numbers that should reach 100 stay below `largest`, else 1."""
    top = max(numbers_in(cells), default=0.0)
    return 100.0 if 0 < top <= largest else 1.0


def numbers_in(cells: Iterable[str]) -> Iterable[float]:
    return (rough_value(cell) for cell in cells if is_number(cell))


def observed_in(cells: Cells, mapping: Sequence[Column], told: Told, notes: list[str]) -> str:
    """The illuminant and observer of the whole table: told, in a header, or the usual ones."""
    if told.observed or not WITH_OBSERVER & set(cells):
        return told.observed or DEFAULT_OBSERVED
    headers = (column.header for column in mapping if column.meaning in WITH_OBSERVER)
    inside = (header.partition("(")[2].rstrip(") ") for header in headers)
    if found := next(filter(None, map(observed_of, inside)), None):
        notes.append(f"measured under {found}, as a header says")
        return found
    if not {"illuminant", "observer", "observed"} & set(cells):
        notes.append(f"nothing says under which light: taken as {DEFAULT_OBSERVED}")
    return DEFAULT_OBSERVED
