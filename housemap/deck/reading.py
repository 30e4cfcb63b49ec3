"""What reading a deck gives: its paints, and all that a person should know about them."""

import codecs
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from housemap.errors import InputError
from housemap.model.house import Paint

Format = Literal["csv", "tsv", "cgats", "cxf", "json", "palette", "list", "deck"]
"""What a source turned out to be; "deck" is a TOML file of `[paint.*]` tables."""


@dataclass(frozen=True, slots=True)
class Given:
    """What is said of a source beside what stands in it."""

    columns: Mapping[str, str] = field(default_factory=dict)
    """What columns mean by their header, in the words of `columns.MEANINGS`, or "400 nm" for a
    spectral one, or "" to leave it out; it overrides what would be found."""
    observed: str | None = None
    """Illuminant and observer of Lab and XYZ where the source does not say."""
    deck: str = ""
    """What the paints say they come from."""
    percent: bool | None = None
    """Whether reflectance is 0..100, where that is known."""
    assumed: bool = False
    """Whether `observed` is only what is usual."""


NOTHING_GIVEN = Given()


class Column(NamedTuple):
    """A column, field or element of the source, and what it is taken to mean."""

    header: str
    meaning: str
    """A word of `columns.MEANINGS`, a wavelength such as "400 nm", or "" where it is left out."""
    guessed: bool = False
    """Whether the meaning comes from what the cells look like, not from the header."""
    example: str = ""
    """The first cell that is not empty."""


class RejectedRow(NamedTuple):
    line: int
    """Counted from 1, in the source."""
    reason: str
    text: str = ""
    """The start of the row as it stands in the source."""

    def __str__(self) -> str:
        return f"line {self.line}: {self.reason}"


class DeckReading(NamedTuple):
    """A whole source, read: every row is either a paint or rejected."""

    paints: Mapping[str, Paint]
    """By id, in the order of the source."""
    format: Format
    mapping: tuple[Column, ...]
    """To be shown before the paints are taken."""
    rejected: tuple[RejectedRow, ...] = ()
    notes: tuple[str, ...] = ()
    """One sentence each: encoding, units, measurement conditions, what was left out."""


class RowError(Exception):
    """A row that gives no paint; its text is the reason. Never leaves this package."""


# From the bytes of a source to its text, with a note where the encoding had to be worked out.

LARGEST_BYTES = 32 * 1024 * 1024
"""A deck of 10,000 spectra takes about 4 MB as a table and 20 MB as CxF."""

LONGEST_LINE = 1_000_000
MOST_LINES = 500_000

NOT_TEXT = (
    (b"PK\x03\x04", "a workbook or archive: save the sheet as CSV"),
    (b"\xd0\xcf\x11\xe0", "an old workbook: save the sheet as CSV"),
    (b"%PDF", "a PDF: only its table, saved as CSV, can be read"),
    (b"\x1f\x8b", "compressed: unpack it first"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"ASEF", "a swatch file whose format was never published: export it as .gpl, CSV or CxF 3"),
)
MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig", ""),
    (codecs.BOM_UTF16_LE, "utf-16", "read as UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "read as UTF-16"),
)

refuse = InputError.of
"""The error for a source of which nothing can be used."""


def check_size(size: int, name: str) -> None:
    if size > LARGEST_BYTES:
        raise refuse(
            f"larger than {LARGEST_BYTES // 2**20} MB, which no deck needs to be; nothing was read",
            name,
        )


def decode(data: bytes, name: str) -> tuple[str, tuple[str, ...]]:
    """The text of a source and notes about its encoding.

    UTF-8, UTF-16 with a byte order mark, else Windows-1252, which holds all of Latin-1's letters.
    Raises InputError for what is empty, too large, cut off within a character or no text.
    """
    check_size(len(data), name)
    for magic, what in NOT_TEXT:
        if data.startswith(magic):
            raise refuse(f"this is {what}", name)
    encoding, note = next(
        ((encoding, note) for mark, encoding, note in MARKS if data.startswith(mark)), ("utf-8", "")
    )
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        if encoding == "utf-16" or "unexpected end" in error.reason:
            raise refuse("cut off in the middle of a character", name) from error
        text, note = windows_1252(data, name), "not UTF-8: read as Windows-1252 (Latin-1)"
    text = one_line_end(text)
    if not text.strip():
        raise refuse("the file is empty", name)
    if "\0" in text:
        raise refuse("it holds NUL bytes: not a text file, or UTF-16 without its mark", name)
    for line, row in enumerate(lines_of(text), 1):
        if len(row) > LONGEST_LINE:
            raise refuse("a line is far too long for a row of a table", name, line)
        if line > MOST_LINES:
            raise refuse(f"more than {MOST_LINES:,} lines; nothing was read", name)
    return text, (note,) if note else ()


def windows_1252(data: bytes, name: str) -> str:
    try:
        return data.decode("cp1252")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise refuse("neither UTF-8 nor Windows-1252 text", name, line) from error


def one_line_end(text: str) -> str:
    """The text with every line ended in one way, before anything is guessed from its lines."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def lines_of(text: str) -> Iterator[str]:
    """The lines of a text, whichever way they end."""
    return iter(io.StringIO(text, newline=None))
