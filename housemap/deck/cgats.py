"""Paints from ISO 28178 / ANSI CGATS.17 text files, spectral or colorimetric, as meters write them.

Field names are those of CGATS.17 with the spellings in use for spectral ones: SPECTRAL_NM and
SPECTRAL_PCT in pairs, or nm380, SPECTRAL_NM_380, SPEC_380, R_380.
"""

from collections.abc import Sequence
from dataclasses import replace

from housemap.deck.cgats_conditions import (
    Conditions,
    check_surface,
    condition_notes,
    conditions_in,
    observed_of_table,
)
from housemap.deck.cgats_text import Section, as_table, read_sections
from housemap.deck.columns import NM, gives_colour, wavelength_nm
from housemap.deck.conditions import BEST_M
from housemap.deck.csv_table import Row, Table
from housemap.deck.decoding import refuse
from housemap.deck.numbers import is_number, rough_value
from housemap.deck.reading import Column, DeckReading, RejectedRow
from housemap.deck.records import Harvest
from housemap.deck.tabular import Told, harvested, source_of
from housemap.model.text import clean_text

Part = tuple[Section, Table, Conditions]

FIELDS = {
    "SAMPLE_ID": "code", "SAMPLEID": "code", "SAMPLE_NAME": "name", "SAMPLENAME": "name",
    "STRING": "name", "LABEL": "name", "LAB_L": "L*", "LAB_A": "a*", "LAB_B": "b*",
    "LAB_C": "C*", "LAB_H": "h", "XYZ_X": "X", "XYZ_Y": "Y", "XYZ_Z": "Z", "XYY_X": "x",
    "XYY_Y": "y", "XYY_CAPY": "Y",
}  # fmt: skip
PAIRED_NM, PAIRED_VALUE = "SPECTRAL_NM", {"SPECTRAL_PCT": True, "SPECTRAL_DEC": False}
SHOWN_CHARACTERS = 40
SHOWN_FIELDS = 20


def read_cgats(text: str, name: str, *, observed: str | None = None, deck: str = "") -> DeckReading:
    """Every sample of every table as a paint.

    `observed` is the illuminant/observer of Lab and XYZ where the file does not say. Where the
    same samples were measured under several of M0..M3, one is taken and the others are told.
    Raises InputError for a file that is cut off, is no reflection measurement or holds no colour.
    """
    parts, notes = best_measured(read_parts(text, name))
    harvest: Harvest | None = None
    for section, table, conditions in parts:
        mapping = mapping_of(table)
        check_mapping(mapping, section, name)
        under = observed_of_table(mapping, conditions, observed, name)
        told = Told(under, percent_told(section), deck)
        source, worked_out = source_of(table, mapping, told)
        notes += [*table.notes, *condition_notes(mapping, conditions, under), *worked_out]
        found = harvested(table, mapping, source)
        harvest = harvest.joined(found) if harvest else found
    assert harvest, "a file has at least one table"
    every = {column.header: column for _, table, _ in parts for column in mapping_of(table)}
    return harvest.reading("cgats", tuple(every.values()), tuple(dict.fromkeys(notes)), name)


def read_parts(text: str, name: str) -> list[Part]:
    parts = []
    conditions = Conditions()
    for section in read_sections(text, name):
        conditions = conditions_in(section, conditions)
        check_surface(section, name)
        parts.append((section, unpaired(as_table(section)), conditions))
    return parts


def unpaired(table: Table) -> Table:
    """A table whose SPECTRAL_NM and SPECTRAL_PCT pairs have become a column a wavelength."""
    pairs = [
        i for i, header in enumerate(table.headers[:-1])
        if header.upper() == PAIRED_NM and table.headers[i + 1].upper() in PAIRED_VALUE
    ]  # fmt: skip
    if not pairs or not table.rows:
        return table
    heads = {i + 1: f"{PAIRED_NM}_{table.rows[0].cells[i]}" for i in pairs}
    kept = [i for i in range(len(table.headers)) if i not in pairs]
    first = [table.rows[0].cells[i] for i in pairs]
    rows, rejected = [], list(table.rejected)
    for row in table.rows:
        if [row.cells[i] for i in pairs] == first:
            rows.append(Row(row.line, tuple(row.cells[i] for i in kept)))
        else:
            rejected.append(RejectedRow(row.line, "its wavelengths are not those of the first set"))
    headers = tuple(heads.get(i, table.headers[i]) for i in kept)
    return replace(table, headers=headers, rows=tuple(rows), rejected=tuple(rejected))


def percent_told(section: Section) -> bool | None:
    """Whether reflectance is percent, if the field names or SPECTRAL_NORM say."""
    for field in section.fields:
        for start, percent in PAIRED_VALUE.items():
            if field.upper().startswith(start):
                return percent
    norm = section.told("SPECTRAL_NORM")
    return rough_value(norm) > 1 if is_number(norm) else None


def mapping_of(table: Table) -> tuple[Column, ...]:
    counted = is_count(table)
    columns = []
    seen: set[str] = set()
    for i, header in enumerate(table.headers):
        meaning = meaning_of(header)
        if (meaning == "code" and counted) or meaning in seen:
            meaning = ""
        seen.add(meaning)
        columns.append(Column(header, meaning, example=first_cell(table, i)))
    return tuple(columns)


def meaning_of(header: str) -> str:
    if header.upper() in FIELDS:
        return FIELDS[header.upper()]
    nm = wavelength_nm(header)
    return f"{nm:g}{NM}" if nm else ""


def is_count(table: Table) -> bool:
    """Whether SAMPLE_ID only counts the samples, and names stand beside it."""
    meanings = [meaning_of(header) for header in table.headers]
    if "name" not in meanings or "code" not in meanings:
        return False
    at = meanings.index("code")
    return [row.cells[at] for row in table.rows] == [str(n) for n in range(1, len(table.rows) + 1)]


def first_cell(table: Table, index: int) -> str:
    return clean_text(table.rows[0].cells[index], SHOWN_CHARACTERS) if table.rows else ""


def check_mapping(mapping: Sequence[Column], section: Section, name: str) -> None:
    if not gives_colour(column.meaning for column in mapping):
        fields = ", ".join(column.header for column in mapping[:SHOWN_FIELDS])
        raise refuse(
            "neither a spectrum nor Lab nor XYZ in it (RGB and CMYK are a device's own values); "
            f"found {fields}",
            name,
            section.line,
        )


def best_measured(parts: Sequence[Part]) -> tuple[list[Part], list[str]]:
    """The tables without those whose samples another table has under a better condition.

    A table of Lab beside one of the same samples' spectra goes too; repeated measurements stay.
    """
    best: dict[tuple[str, ...], Part] = {}
    for part in sorted(parts, key=rank):
        best.setdefault(samples_of(part[1]), part)
    kept = [part for part in parts if rank(part) == rank(best[samples_of(part[1])])]
    left_out = [part[2].m or "no named condition" for part in parts if part not in kept]
    return kept, [f"the same samples under {m} left out" for m in left_out]


def rank(part: Part) -> tuple[int, bool]:
    """Lower is better."""
    _, table, conditions = part
    return BEST_M.index(conditions.m), not any(map(wavelength_nm, table.headers))


def samples_of(table: Table) -> tuple[str, ...]:
    at = [i for i, head in enumerate(table.headers) if meaning_of(head) in {"name", "code"}]
    return tuple("\t".join(row.cells[i] for i in at) for row in table.rows)
