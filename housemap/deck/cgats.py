"""Paints from ISO 28178 / ANSI CGATS.17 text files, spectral or colorimetric, as meters write them.

Words stand between white space, text in double quotes (a doubled quote is one), and "#" starts a
comment. A file holds one or more tables; a later one may leave out its data format and then has
that of the one before. Field names are those of CGATS.17 with the spellings in use for spectral
ones: SPECTRAL_NM and SPECTRAL_PCT in pairs, or nm380, SPECTRAL_NM_380, SPEC_380, R_380.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from housemap.deck import colours
from housemap.deck.columns import BY_HEADER, NM, check_columns, gives_colour, plain, wavelength_nm
from housemap.deck.numbers import is_number, rough_value
from housemap.deck.reading import (
    NOTHING_GIVEN,
    Column,
    DeckReading,
    Given,
    RejectedRow,
    lines_of,
    refuse,
)
from housemap.deck.records import Harvest
from housemap.deck.table import (
    LONGEST_CELL,
    MOST_COLUMNS,
    MOST_ROWS,
    SHOWN,
    WITH_OBSERVER,
    Row,
    Table,
    source_of,
)
from housemap.model.text import clean_text, shown

SHOWN_CHARACTERS = 40
SHOWN_FIELDS = 20
WORD = re.compile(r'"((?:[^"]|"")*)"|(#.*)|([^\s"#]\S*)|(\S)')
FORMAT, END_FORMAT = "BEGIN_DATA_FORMAT", "END_DATA_FORMAT"
DATA, END_DATA = "BEGIN_DATA", "END_DATA"
MOST_KEYWORDS = 10_000


@dataclass(slots=True)
class Section:
    """One table as it stands: the lines of its parts."""

    line: int = 0
    keywords: list[tuple[str, str]] = field(default_factory=list)
    fields: list[str] = field(default_factory=list)
    lines: list[tuple[int, str]] = field(default_factory=list)
    """The data lines with their numbers."""


class LooseQuoteError(ValueError):
    """A quotation mark that opens and never closes, or stands within a word."""


def words(line: str) -> list[str]:
    """The words of a line, without quotes and comments; raises LooseQuoteError."""
    if '"' not in line and "#" not in line:
        return line.split()
    result = []
    for quoted, comment, bare, loose in WORD.findall(line):
        if loose:
            raise LooseQuoteError
        if not comment:
            result.append(bare or quoted.replace('""', '"'))
    return result


def words_at(number: int, line: str, name: str) -> list[str]:
    try:
        return words(line)
    except LooseQuoteError as error:
        raise refuse("a quotation mark is never closed", name, number) from error


def read_sections(text: str, name: str) -> list[Section]:
    """Every table of a file; raises InputError where one is cut off or has no format."""
    lines = iter(enumerate(lines_of(text), 1))
    sections: list[Section] = []
    section = Section()
    for number, line in lines:
        found = words_at(number, line, name)
        if not found:
            continue
        section.line = section.line or number
        if found[0] == FORMAT:
            section.fields = block_words(found[1:], lines, number, name)
        elif found[0] == DATA:
            section.line = number
            section.lines = block_lines(line, lines, number, name)
            section.fields = section.fields or (sections[-1].fields if sections else [])
            if not section.fields:
                raise refuse(f"data without {FORMAT}", name, number)
            sections.append(section)
            section = Section()
        elif found[0] != "KEYWORD":
            section.keywords.append((found[0].upper(), " ".join(found[1:])))
            if len(section.keywords) > MOST_KEYWORDS:
                raise refuse(f"more than {MOST_KEYWORDS:,} keywords in one table", name, number)
    if not sections:
        raise refuse(f"there is no {DATA}: no data in it, or it is cut off", name)
    return sections


def block_words(
    first: list[str], lines: Iterator[tuple[int, str]], start: int, name: str
) -> list[str]:
    """The field names up to END_DATA_FORMAT, which may stand on one line or many."""
    result = list(first)
    while END_FORMAT not in result:
        number, line = next(lines, (0, None))
        if line is None:
            raise refuse(f"the file ends before {END_FORMAT}: it is cut off", name, start)
        result += words_at(number, line, name)
    result = result[: result.index(END_FORMAT)]
    if not 0 < len(result) <= MOST_COLUMNS:
        raise refuse(f"{len(result)} fields; 1 to {MOST_COLUMNS} are read", name, start)
    return result


def block_lines(
    first: str, lines: Iterator[tuple[int, str]], start: int, name: str
) -> list[tuple[int, str]]:
    result = [(start, first.strip()[len(DATA) :])]
    for number, line in lines:
        if line.strip().startswith(END_DATA):
            return result
        result.append((number, line))
        if len(result) > MOST_ROWS:
            raise refuse(f"more than {MOST_ROWS:,} lines of data; nothing was read", name)
    raise refuse(f"the file ends before {END_DATA}: it is cut off", name, start)


def as_table(section: Section) -> Table:
    """A row a set of data, which may run over lines; a line that fits nowhere is rejected."""
    rows: list[Row] = []
    rejected: list[RejectedRow] = []
    width = len(section.fields)
    for start, cells in sets(section.lines, width):
        if len(cells) == width and all(len(cell) <= LONGEST_CELL for cell in cells):
            rows.append(Row(start, cells))
        else:
            reason = f"{len(cells)} values where there are {width} fields"
            rejected.append(RejectedRow(start, reason, clean_text(" ".join(cells)[:SHOWN])))
    found = len(rows) + len(rejected)
    announced = dict(section.keywords).get("NUMBER_OF_SETS", "")
    is_count = announced.isascii() and announced.isdecimal()
    wrong = is_count and announced.lstrip("0") != str(found or "")
    notes = (f"the file announces {announced[:9]} sets and holds {found}",) if wrong else ()
    return Table(
        tuple(map(clean_text, section.fields)), tuple(rows), " ", has_header=True,
        rejected=tuple(rejected), notes=notes,
    )  # fmt: skip


def sets(lines: Iterable[tuple[int, str]], width: int) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The sets of data, those with too few or too many values among them."""
    held: list[str] = []
    start = 0
    for number, line in lines:
        cells = cells_of(line, width)
        if held and (len(cells) == width or len(held) + len(cells) > width):
            yield start, tuple(held)
            held = []
        start = start if held else number
        held += cells
        if len(held) >= width:
            yield start, tuple(held)
            held = []
    if held:
        yield start, tuple(held)


def cells_of(line: str, width: int) -> list[str]:
    """The values of a line. Meters that part them by tabs leave spaces in names unquoted."""
    try:
        cells = words(line)
    except LooseQuoteError:
        cells = line.split()
    if len(cells) != width and "\t" in line:
        tabbed = [cell.strip().strip('"') for cell in line.rstrip("\r\n").split("\t")]
        return tabbed if len(tabbed) == width else cells
    return cells


# How the samples were measured

CONDITION_WORDS = ("WEIGHTING", "ILLUM", "OBSERVER", "MEASUREMENT", "FILTER", "COMPUTATION")
NO_SURFACE = re.compile(r"emission|emissive|transmi|ambient|radian", re.IGNORECASE)
DISPLAY_FILES = {"CCSS", "CCMX"}
"""The first words of files that correct a meter for a kind of display."""
ILLUMINATION = re.compile(r"illum\w*\s*[=,:]\s*([\w-]+)", re.IGNORECASE)
OBSERVER = re.compile(r"observer\w*\s*[=,:]\s*(\d+)", re.IGNORECASE)


class Conditions(NamedTuple):
    """What the keywords of a table say about its measurement; empty where they say nothing."""

    illuminant: str = ""
    observer: str = ""
    m: str = ""
    unknown: str = ""
    """An illuminant that is named and is none of the CIE's."""

    @property
    def observed(self) -> str | None:
        """What Lab and XYZ refer to; a missing half is that of ISO 13655."""
        if self.unknown or not (self.illuminant or self.observer):
            return None
        light, _, angle = colours.GRAPHIC_ARTS.partition("/")
        return f"{self.illuminant or light}/{self.observer or angle}"


def check_surface(section: Section, name: str) -> None:
    for keyword, value in section.keywords:
        if keyword in DISPLAY_FILES or (keyword == "DEVICE_CLASS" and value.upper() == "DISPLAY"):
            what = f"{keyword} {shown(value)}" if value else keyword
            raise refuse(f"{what}: a display was measured, which shines and is no paint", name)
        if keyword.startswith(CONDITION_WORDS) and NO_SURFACE.search(value):
            what = f"{clean_text(keyword, SHOWN_CHARACTERS)} {shown(value)}"
            raise refuse(
                f"{what}: light or a transparency was measured, not a surface", name, section.line
            )


def conditions_in(section: Section, before: Conditions) -> Conditions:
    """What a table's keywords say, over what the table before it said."""
    found = before
    for keyword, value in section.keywords:
        if not keyword.startswith(CONDITION_WORDS):
            continue
        if whole := colours.observed_of(value):
            light, _, angle = whole.partition("/")
        else:
            lights, angles = ILLUMINATION.search(value), OBSERVER.search(value)
            light = value if keyword.startswith("ILLUM") else lights[1] if lights else ""
            angle = value if keyword.startswith("OBSERVER") else angles[1] if angles else ""
        illuminant = colours.illuminant_of(light)
        found = Conditions(
            illuminant or found.illuminant,
            colours.observer_of(angle) or found.observer,
            colours.m_condition_of(value) or found.m,
            light if light and not illuminant else found.unknown,
        )
    return found


# The tables of a file, and what their fields mean

NAMES = {"STRING", "LABEL", "SAMPLE_LOC", "SAMPLE_LOCATION", "SAMPLE_LABEL", "DESCRIPTION"}
"""Fields of CGATS.17 with the name of a sample, beside the headers that tables have as well."""
OF_A_DEVICE = {"red", "green", "blue", "rgb", "hex"}
PAIRED_NM, PAIRED_VALUE = "SPECTRAL_NM", {"SPECTRAL_PCT": True, "SPECTRAL_DEC": False}


class Part(NamedTuple):
    section: Section
    table: Table
    mapping: tuple[Column, ...]
    conditions: Conditions

    @property
    def rank(self) -> tuple[int, bool]:
        """Lower is better: daylight first, and spectra before Lab."""
        return colours.BEST_M.index(self.conditions.m), not any(
            map(wavelength_nm, self.table.headers)
        )

    @property
    def samples(self) -> tuple[str, ...]:
        """By name and code."""
        at = [i for i, h in enumerate(self.table.headers) if meaning_of(h) in {"name", "code"}]
        return tuple("\t".join(row.cells[i] for i in at) for row in self.table.rows)

    @property
    def needs_observer(self) -> bool:
        """Whether its colours depend on the light they were computed for."""
        meanings = {column.meaning for column in self.mapping}
        return bool(meanings & WITH_OBSERVER) and not any(m.endswith(NM) for m in meanings)

    @property
    def shown_fields(self) -> str:
        headers = self.table.headers[:SHOWN_FIELDS]
        return ", ".join(clean_text(header, SHOWN_CHARACTERS) for header in headers)


def read_cgats(text: str, name: str, given: Given = NOTHING_GIVEN) -> DeckReading:
    """Every sample of every table that gives colours as a paint; other tables are named.

    Where the same samples were measured under several of M0..M3, one is taken and the others are
    named. Raises InputError for a file that is cut off, is no reflection measurement or holds no
    colour.
    """
    every_part = read_parts(text, name, given.columns)
    coloured = [part for part in every_part if gives_colour(c.meaning for c in part.mapping)]
    if not coloured:
        first = every_part[0]
        raise refuse(
            "neither a spectrum nor Lab nor XYZ in it (RGB and CMYK are a device's own values); "
            f"found {first.shown_fields}",
            name,
            first.section.line,
        )
    parts, notes = best_measured(coloured)
    notes += [
        f"the table at line {part.section.line} gives no colour: left out ({part.shown_fields})"
        for part in every_part
        if part not in coloured
    ]
    harvest = Harvest()
    for part in parts:
        source, found = source_of_part(part, given, name)
        notes += found
        harvest.rejected += part.table.rejected
        harvest.take_table(part.table, part.mapping, source)
    every = {column.header: column for part in parts for column in part.mapping}
    return harvest.reading("cgats", tuple(every.values()), tuple(dict.fromkeys(notes)), name)


def read_parts(text: str, name: str, given: Mapping[str, str]) -> list[Part]:
    """Every table of a file; raises InputError, also where `given` names no column of any."""
    parts = []
    conditions = Conditions()
    for section in read_sections(text, name):
        conditions = conditions_in(section, conditions)
        check_surface(section, name)
        table = unpaired(as_table(section))
        parts.append(Part(section, table, mapping_of(table, given), conditions))
    check_columns(given, [header for part in parts for header in part.table.headers], name)
    return parts


def unpaired(table: Table) -> Table:
    """A table whose SPECTRAL_NM and SPECTRAL_PCT pairs have become a column a wavelength."""
    pairs = [
        i for i, header in enumerate(table.headers[:-1])
        if header.upper() == PAIRED_NM and table.headers[i + 1].upper() in PAIRED_VALUE
    ]  # fmt: skip
    if not pairs or not table.rows:
        return table
    first = [table.rows[0].cells[i] for i in pairs]
    heads = {i + 1: f"{PAIRED_NM}_{nm}" for i, nm in zip(pairs, first, strict=True)}
    kept = [i for i in range(len(table.headers)) if i not in pairs]
    rows, rejected = [], list(table.rejected)
    for row in table.rows:
        if [row.cells[i] for i in pairs] == first:
            rows.append(Row(row.line, tuple(row.cells[i] for i in kept)))
        else:
            rejected.append(RejectedRow(row.line, "its wavelengths are not those of the first set"))
    headers = tuple(heads.get(i, table.headers[i]) for i in kept)
    return table._replace(headers=headers, rows=tuple(rows), rejected=tuple(rejected))


def mapping_of(table: Table, given: Mapping[str, str]) -> tuple[Column, ...]:
    meanings = [meaning_of(header) for header in table.headers]
    if "name" in meanings and "code" in meanings:
        code = meanings.index("code")
        if [row.cells[code] for row in table.rows] == [str(i + 1) for i in range(len(table.rows))]:
            # SAMPLE_ID only counts the samples.
            meanings = ["" if meaning == "code" else meaning for meaning in meanings]
    columns = []
    seen: set[str] = set()
    for i, (header, meaning) in enumerate(zip(table.headers, meanings, strict=True)):
        free = "" if meaning in {*seen, *given.values()} else meaning
        meant = given.get(header, free)
        seen.add(meant)
        example = clean_text(table.rows[0].cells[i], SHOWN_CHARACTERS) if table.rows else ""
        columns.append(Column(header, meant, example=example))
    return tuple(columns)


def meaning_of(header: str) -> str:
    """By its field of CGATS.17; nothing for the values of a device, as RGB_R."""
    if header.upper() in NAMES:
        return "name"
    known = BY_HEADER.get(plain(header), "")
    if known and known not in OF_A_DEVICE:
        return known
    nm = wavelength_nm(header)
    return f"{nm:g}{NM}" if nm else ""


def best_measured(parts: Sequence[Part]) -> tuple[list[Part], list[str]]:
    """The tables without those whose samples another table has under a better condition.

    A table of Lab beside one of the same samples' spectra goes too; repeated measurements stay.
    """
    best: dict[tuple[str, ...], Part] = {}
    for part in sorted(parts, key=lambda part: part.rank):
        best.setdefault(part.samples, part)
    kept = [part for part in parts if part.rank == best[part.samples].rank]
    left_out = [part.conditions.m or "no named condition" for part in parts if part not in kept]
    return kept, [f"the same samples under {m} left out" for m in left_out]


def source_of_part(part: Part, given: Given, name: str) -> tuple[colours.Source, list[str]]:
    """How to read a table, and notes; raises InputError for an unknown illuminant."""
    conditions = part.conditions
    if conditions.unknown and not given.observed and part.needs_observer:
        raise refuse(
            f"measured under {shown(conditions.unknown)}, which is no CIE illuminant; say which "
            "illuminant and observer its values refer to, such as D50/2",
            name,
        )
    notes = [*part.table.notes, *([colours.ABOUT_M[conditions.m]] if conditions.m else ())]
    observed, note = colours.seen_under(conditions.observed, given.observed or colours.GRAPHIC_ARTS)
    if not part.needs_observer:
        note = "spectra need no illuminant: colour is computed for D65 and 10 degrees"
    notes.append(note)
    assumed = not (given.observed or conditions.observed)
    facts = replace(given, observed=observed, percent=percent_named(part.section), assumed=assumed)
    source, worked_out = source_of(part.table, part.mapping, facts)
    return source, [*notes, *worked_out]


def percent_named(section: Section) -> bool | None:
    """Whether reflectance is percent, if the field names or SPECTRAL_NORM say."""
    for header in section.fields:
        for start, percent in PAIRED_VALUE.items():
            if header.upper().startswith(start):
                return percent
    norm = dict(section.keywords).get("SPECTRAL_NORM", "")
    return rough_value(norm) > 1 if is_number(norm) else None
