"""Paints from ISO 28178 / ANSI CGATS.17 text files, spectral or colorimetric, as meters write them.

Words stand between white space, text in double quotes (a doubled quote is one), and "#" starts a
comment. A file holds one or more tables; a later one may leave out its data format and then has
that of the one before. Field names are those of CGATS.17 with the spellings in use for spectral
ones: SPECTRAL_NM and SPECTRAL_PCT in pairs, or nm380, SPECTRAL_NM_380, SPEC_380, R_380.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from housemap.deck.colours import (
    ABOUT_M,
    BEST_M,
    GRAPHIC_ARTS,
    illuminant_of,
    m_condition_of,
    observed_of,
    observer_of,
)
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
    harvested,
    source_of,
)
from housemap.errors import InputError
from housemap.model.text import clean_text, shown

WORD = re.compile(r'"((?:[^"]|"")*)"|(#.*)|([^\s"#]\S*)|(\S)')
FORMAT, END_FORMAT = "BEGIN_DATA_FORMAT", "END_DATA_FORMAT"
MOST_KEYWORDS = 10_000
DATA, END_DATA = "BEGIN_DATA", "END_DATA"


@dataclass(slots=True)
class Section:
    """One table as it stands: the lines of its parts."""

    line: int
    keywords: list[tuple[str, str]] = field(default_factory=list)
    fields: list[str] = field(default_factory=list)
    lines: list[tuple[int, str]] = field(default_factory=list)
    """The data lines with their numbers."""

    def value_of(self, keyword: str) -> str:
        """The last value of a keyword; empty where it is missing."""
        return next((v for k, v in reversed(self.keywords) if k == keyword), "")


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


def read_sections(text: str, name: str) -> list[Section]:
    """Every table of a file; raises InputError where one is cut off or has no format."""
    lines = iter(enumerate(lines_of(text), 1))
    sections: list[Section] = []
    while section := next_section(lines, name):
        section.fields = section.fields or (sections[-1].fields if sections else [])
        if not section.fields:
            raise refuse(f"data without {FORMAT}", name, section.line)
        sections.append(section)
    if not sections:
        raise refuse(f"there is no {DATA}: no data in it, or it is cut off", name)
    return sections


def next_section(lines: Iterator[tuple[int, str]], name: str) -> Section | None:
    section = Section(0)
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
            return section
        elif found[0] != "KEYWORD":
            section.keywords.append((found[0].upper(), " ".join(found[1:])))
            if len(section.keywords) > MOST_KEYWORDS:
                raise refuse(f"more than {MOST_KEYWORDS:,} keywords in one table", name, number)
    return None


def words_at(number: int, line: str, name: str) -> list[str]:
    try:
        return words(line)
    except LooseQuoteError as error:
        raise refuse("a quotation mark is never closed", name, number) from error


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
    """The data lines up to END_DATA."""
    result = [(start, first.strip()[len(DATA) :])]
    for number, line in lines:
        if line.strip().startswith(END_DATA):
            return result
        result.append((number, line))
        if len(result) > MOST_ROWS:
            raise refuse(f"more than {MOST_ROWS:,} lines of data; nothing was read", name)
    raise refuse(f"the file ends before {END_DATA}: it is cut off", name, start)


def as_table(section: Section) -> Table:
    """The data of a section as rows of as many cells as it has fields.

    A set may run over several lines. A line that fits nowhere is rejected.
    """
    rows: list[Row] = []
    rejected: list[RejectedRow] = []
    width = len(section.fields)
    for start, cells in sets(section.lines, width):
        if len(cells) == width and all(len(cell) <= LONGEST_CELL for cell in cells):
            rows.append(Row(start, cells))
        else:
            reason = f"{len(cells)} values where there are {width} fields"
            rejected.append(RejectedRow(start, reason, clean_text(" ".join(cells)[:SHOWN])))
    headers = tuple(clean_text(name) for name in section.fields)
    notes = count_note(section, len(rows) + len(rejected))
    return Table(headers, tuple(rows), " ", has_header=True, rejected=tuple(rejected), notes=notes)


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


def count_note(section: Section, found: int) -> tuple[str, ...]:
    announced = section.value_of("NUMBER_OF_SETS")
    if announced.isascii() and announced.isdecimal() and announced.lstrip("0") != str(found or ""):
        return (f"the file announces {announced[:9]} sets and holds {found}",)
    return ()


SHOWN_CHARACTERS = 40
CONDITION_WORDS = ("WEIGHTING", "ILLUM", "OBSERVER", "MEASUREMENT", "FILTER", "COMPUTATION")
NO_SURFACE = re.compile(r"emission|emissive|transmi|ambient|radian", re.IGNORECASE)
DISPLAY_FILES = {"CCSS", "CCMX"}
"""The first words of files that correct a meter for a kind of display."""
ILLUMINATION = re.compile(r"illum\w*\s*[=,:]\s*([\w-]+)", re.IGNORECASE)
OBSERVER = re.compile(r"observer\w*\s*[=,:]\s*(\d+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Conditions:
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
        light, _, angle = GRAPHIC_ARTS.partition("/")
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
        if keyword.startswith(CONDITION_WORDS):
            light, angle = pair_in(keyword, value)
            illuminant = illuminant_of(light)
            found = Conditions(
                illuminant or found.illuminant,
                observer_of(angle) or found.observer,
                m_condition_of(value) or found.m,
                light if light and not illuminant else found.unknown,
            )
    return found


def pair_in(keyword: str, value: str) -> tuple[str, str]:
    """The illuminant and the observer as a keyword names them; empty where it does not."""
    if whole := observed_of(value):
        illuminant, _, observer = whole.partition("/")
        return illuminant, observer
    lights, angles = ILLUMINATION.search(value), OBSERVER.search(value)
    light = value if keyword.startswith("ILLUM") else lights[1] if lights else ""
    angle = value if keyword.startswith("OBSERVER") else angles[1] if angles else ""
    return light, angle


def observed_of_table(
    mapping: Sequence[Column], conditions: Conditions, given: str | None, name: str
) -> str:
    """What Lab and XYZ of a table refer to; raises InputError for an unknown illuminant."""
    if conditions.unknown and not given and needs_observer(mapping):
        raise refuse(
            f"measured under {shown(conditions.unknown)}, which is no CIE illuminant; say which "
            "illuminant and observer its values refer to, such as D50/2",
            name,
        )
    return conditions.observed or given or GRAPHIC_ARTS


def needs_observer(mapping: Sequence[Column]) -> bool:
    """Whether the colour of a table depends on the light it was computed for."""
    meanings = {column.meaning for column in mapping}
    return bool(meanings & WITH_OBSERVER) and not any(m.endswith(NM) for m in meanings)


def condition_notes(mapping: Sequence[Column], conditions: Conditions, observed: str) -> list[str]:
    notes = [ABOUT_M[conditions.m]] if conditions.m else []
    if not needs_observer(mapping):
        return [*notes, "spectra need no illuminant: colour is computed for D65 and 10 degrees"]
    if conditions.observed == observed:
        return [*notes, f"measured under {observed}"]
    return [*notes, f"nothing says under which light: taken as {observed}"]


Part = tuple[Section, Table, Conditions]

NAMES = {"STRING", "LABEL", "SAMPLE_LOC", "SAMPLE_LOCATION", "SAMPLE_LABEL", "DESCRIPTION"}
"""Fields of CGATS.17 with the name of a sample, beside the headers that tables have as well."""
OF_A_DEVICE = {"red", "green", "blue", "rgb", "hex"}
PAIRED_NM, PAIRED_VALUE = "SPECTRAL_NM", {"SPECTRAL_PCT": True, "SPECTRAL_DEC": False}
SHOWN_FIELDS = 20


def read_cgats(text: str, name: str, given: Given = NOTHING_GIVEN) -> DeckReading:
    """Every sample of every table that gives colours as a paint; other tables are named.

    Where the same samples were measured under several of M0..M3, one is taken and the others are
    named. Raises InputError for a file that is cut off, is no reflection measurement or holds no
    colour.
    """
    every_part = read_parts(text, name)
    check_columns(
        given.columns, [header for _, table, _ in every_part for header in table.headers], name
    )
    coloured = [part for part in every_part if has_colour(part[1], given.columns)]
    if not coloured:
        raise no_colour(every_part[0][1], every_part[0][0], name)
    left_out = [no_colour_note(part) for part in every_part if part not in coloured]
    parts, notes = best_measured(coloured)
    notes += left_out
    harvest: Harvest | None = None
    for section, table, conditions in parts:
        mapping = mapping_of(table, given.columns)
        under = observed_of_table(mapping, conditions, given.observed, name)
        assumed = not (given.observed or conditions.observed)
        percent = percent_named(section)
        facts = replace(given, observed=under, percent=percent, assumed=assumed)
        source, worked_out = source_of(table, mapping, facts)
        notes += [*table.notes, *condition_notes(mapping, conditions, under), *worked_out]
        found = harvested(table, mapping, source)
        harvest = harvest.joined(found) if harvest else found
    assert harvest, "a file has at least one table"
    every = {
        column.header: column
        for _, table, _ in parts
        for column in mapping_of(table, given.columns)
    }
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


def percent_named(section: Section) -> bool | None:
    """Whether reflectance is percent, if the field names or SPECTRAL_NORM say."""
    for header in section.fields:
        for start, percent in PAIRED_VALUE.items():
            if header.upper().startswith(start):
                return percent
    norm = section.value_of("SPECTRAL_NORM")
    return rough_value(norm) > 1 if is_number(norm) else None


def mapping_of(table: Table, given: Mapping[str, str]) -> tuple[Column, ...]:
    counted = is_count(table)
    columns = []
    seen: set[str] = set()
    for i, header in enumerate(table.headers):
        meaning = meaning_of(header)
        if (meaning == "code" and counted) or meaning in {*seen, *given.values()}:
            meaning = ""
        meaning = given.get(header, meaning)
        seen.add(meaning)
        columns.append(Column(header, meaning, example=first_cell(table, i)))
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


def is_count(table: Table) -> bool:
    """Whether SAMPLE_ID only counts the samples, and names stand beside it."""
    meanings = [meaning_of(header) for header in table.headers]
    if "name" not in meanings or "code" not in meanings:
        return False
    at = meanings.index("code")
    return [row.cells[at] for row in table.rows] == [str(n) for n in range(1, len(table.rows) + 1)]


def first_cell(table: Table, index: int) -> str:
    return clean_text(table.rows[0].cells[index], SHOWN_CHARACTERS) if table.rows else ""


def has_colour(table: Table, given: Mapping[str, str]) -> bool:
    return gives_colour(column.meaning for column in mapping_of(table, given))


def no_colour(table: Table, section: Section, name: str) -> InputError:
    return refuse(
        "neither a spectrum nor Lab nor XYZ in it (RGB and CMYK are a device's own values); "
        f"found {', '.join(shown_fields(table))}",
        name,
        section.line,
    )


def no_colour_note(part: Part) -> str:
    section, table, _ = part
    fields = ", ".join(shown_fields(table))
    return f"the table at line {section.line} gives no colour: left out ({fields})"


def shown_fields(table: Table) -> list[str]:
    return [clean_text(header, SHOWN_CHARACTERS) for header in table.headers[:SHOWN_FIELDS]]


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
