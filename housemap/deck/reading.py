"""What reading a deck gives: its paints, and all that a person should be told about them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from housemap.model.house import Paint

Format = Literal["csv", "tsv", "cgats", "cxf", "json", "palette", "list", "deck"]
"""What a source turned out to be; "deck" is a TOML file of `[paint.*]` tables."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column, field or element of the source, and what it is taken to mean."""

    header: str
    meaning: str
    """A word of `columns.MEANINGS`, a wavelength such as "400 nm", or "" where it is left out."""
    guessed: bool = False
    """Whether the meaning comes from what the cells look like, not from the header."""
    example: str = ""
    """The first cell that is not empty."""


@dataclass(frozen=True, slots=True)
class RejectedRow:
    """A row that gives no paint, and why."""

    line: int
    """Counted from 1, in the source."""
    reason: str
    text: str = ""
    """The start of the row as it stands in the source."""

    def __str__(self) -> str:
        return f"line {self.line}: {self.reason}"


@dataclass(frozen=True, slots=True)
class DeckReading:
    """A whole source, read: every row is either a paint or rejected."""

    paints: Mapping[str, Paint]
    """By id, in the order of the source."""
    format: Format
    mapping: tuple[Column, ...]
    """To be shown before the paints are taken."""
    rejected: tuple[RejectedRow, ...] = ()
    notes: tuple[str, ...] = ()
    """One sentence each: encoding, units, measurement conditions, what was left out."""

    def with_notes(self, first: tuple[str, ...]) -> "DeckReading":
        return replace(self, notes=(*first, *self.notes))


class RowError(Exception):
    """A row that gives no paint; its text is the reason. Never leaves this package."""
