"""The grammar of ISO 28178 / ANSI CGATS.17 text files: keywords, data formats and data, as tables.

Words stand between white space, text in double quotes (a doubled quote is one), and "#" starts a
comment. A file holds one or more tables; a later one may leave out its data format and then has
that of the one before.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from housemap.deck.csv_table import LONGEST_CELL, MOST_COLUMNS, MOST_ROWS, SHOWN, Row, Table
from housemap.deck.decoding import lines_of, refuse
from housemap.deck.reading import RejectedRow
from housemap.model.text import clean_text

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

    def told(self, keyword: str) -> str:
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
    told = section.told("NUMBER_OF_SETS")
    if told.isascii() and told.isdecimal() and told.lstrip("0") != str(found).lstrip("0"):
        return (f"the file announces {told[:9]} sets and holds {found}",)
    return ()
