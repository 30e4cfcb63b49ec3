"""From the cells of one row, by meaning, to a paint with an id."""

import zlib
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from housemap.deck.colours import (
    GREY,
    Cells,
    Units,
    colour_from,
    grey_of,
    has_colour,
    illuminant_of,
    known_observed,
    observer_of,
)
from housemap.deck.columns import has_letter
from housemap.deck.numbers import coverage, is_blank, number_within, price, tins
from housemap.deck.reading import Column, DeckReading, Format, RejectedRow, RowError, by_reason
from housemap.errors import InputError, Problem
from housemap.model.edits import free_id
from housemap.model.house import ColourSource, Notation, Paint, Srgb
from housemap.model.text import NAME_LENGTH, NOTES_LENGTH, clean_text, counted, shown


def with_ids(paints: Iterable[Paint]) -> dict[str, Paint]:
    """Paints by id: from the code, else the name; "-2", "-3" where an id is taken.

    A code of digits alone says nothing to a reader: then the name is taken. A name without a
    Latin letter or digit gives "paint-" and a checksum, so that it gives the same id every time.
    """
    result: dict[str, Paint] = {}
    reached: dict[str, int] = {}
    for paint in paints:
        stem = stem_of(paint)
        number = reached.get(stem, 0) + 1
        while (id_ := numbered(stem, number)) in result:
            number += 1
        reached[stem] = number
        result[id_] = paint
    return result


def stem_of(paint: Paint) -> str:
    by_name = free_id(paint.name, (), f"paint-{zlib.crc32(paint.name.encode()):08x}")
    return free_id(paint.code, (), by_name) if has_letter(paint.code) else by_name


def numbered(stem: str, number: int) -> str:
    return stem if number == 1 else f"{stem}-{number}"


HUNDRED = 100.0
SHOWN = 80
REASONS_SHOWN = 5


@dataclass(frozen=True, slots=True)
class Source:
    """What holds for every row of a source."""

    units: Units = field(default_factory=Units)
    headers: Mapping[str, str] = field(default_factory=dict)
    """The header of each meaning; units may stand in it."""
    lrv_factor: float = 1.0
    """100 where LRV is printed 0..1."""
    deck: str = ""
    """What the deck is called, for rows that do not say."""


@dataclass(slots=True)
class Harvest:
    """The paints and rejected rows so far, and how often each note was due."""

    source: Source
    paints: list[Paint] = field(default_factory=list)
    rejected: list[RejectedRow] = field(default_factory=list)
    counts: Counter[str] = field(default_factory=Counter)

    def take(self, line: int, cells: Mapping[str, str], text: str) -> None:
        """Make a paint of a row, or reject it."""
        try:
            paint, notes = paint_from(filled(cells), self.source)
        except RowError as error:
            self.rejected.append(RejectedRow(line, str(error), clean_text(text, SHOWN)))
        else:
            self.add(paint, notes)

    def add(self, paint: Paint, notes: tuple[str, ...]) -> None:
        self.paints.append(paint)
        self.counts.update(notes)

    def reading(
        self, format_: Format, mapping: tuple[Column, ...], notes: tuple[str, ...], name: str
    ) -> DeckReading:
        """The whole source as read; raises InputError where not one row gives a paint."""
        self.rejected.sort(key=lambda row: row.line)
        if not self.paints:
            raise InputError([Problem("it holds no paint", file=name), *self.reasons(name)])
        due = (f"{counted(n, 'paint')}: {note}" for note, n in self.counts.items())
        return DeckReading(
            with_ids(self.paints), format_, mapping, tuple(self.rejected), (*notes, *due)
        )

    def joined(self, other: "Harvest") -> "Harvest":
        """Both, as of one source."""
        return Harvest(
            self.source,
            [*self.paints, *other.paints],
            [*self.rejected, *other.rejected],
            self.counts + other.counts,
        )

    def reasons(self, name: str) -> list[Problem]:
        """Why rows were rejected, equal reasons once with the first line and a count."""
        return [
            Problem(
                f"{rows[0].reason} ({len(rows):,} rows)" if len(rows) > 1 else rows[0].reason,
                file=name,
                line=rows[0].line,
            )
            for rows in by_reason(self.rejected)[:REASONS_SHOWN]
        ]


def filled(cells: Mapping[str, str]) -> dict[str, str]:
    """The cells that are not blank."""
    return {meaning: cell for meaning, cell in cells.items() if not is_blank(cell)}


def paint_from(cells: Cells, source: Source) -> tuple[Paint, tuple[str, ...]]:
    """A paint and notes about it; raises RowError where the row gives none."""
    comma = source.units.comma

    def amount(make: Callable[..., float], meaning: str) -> float | None:
        header = source.headers.get(meaning, "")
        return make(cells[meaning], header, comma=comma) if meaning in cells else None

    observed = row_observed(cells, source.units.observed)
    given = {**cells, "observed": observed} if observed else cells
    printed = lrv(cells["LRV"], source) if "LRV" in cells else None
    taken_from, colour, notes = _colour(given, source.units, printed)
    text, dropped = texts(cells)
    paint = Paint(
        name=text["name"] or text["code"] or name_of(colour),
        colour=colour,
        code=text["code"],
        lrv=printed,
        deck=text["deck"] or source.deck,
        coverage=amount(coverage, "coverage"),
        tins=tins(cells["tins"], comma=comma) if "tins" in cells else (),
        price=amount(price, "price"),
        notes=text["notes"],
        derived=GREY if taken_from == GREY else "",
    )
    return paint, (f"colour from {taken_from}", *notes, *dropped)


def _colour(
    cells: Cells, units: Units, printed: float | None
) -> tuple[str, ColourSource, tuple[str, ...]]:
    """As `colour_from`; where there is nothing but an LRV, a grey of it."""
    if printed is not None and not has_colour(cells, units):
        return GREY, grey_of(printed), ()
    return colour_from(cells, units)


def row_observed(cells: Cells, usual: str) -> str | None:
    """The illuminant and observer that a row names; None where it names none."""
    if "observed" in cells:
        return known_observed(cells["observed"])
    if "illuminant" not in cells and "observer" not in cells:
        return None
    illuminant, _, observer = usual.partition("/")
    light, angle = cells.get("illuminant", illuminant), cells.get("observer", observer)
    return known_observed(f"{illuminant_of(light) or light}/{observer_of(angle) or angle}")


def lrv(cell: str, source: Source) -> float:
    value = number_within(cell, comma=source.units.comma) * source.lrv_factor
    if not 0 <= value <= HUNDRED:
        raise RowError(f"LRV {shown(cell)} is not between 0 and 100")
    return round(value, 4)


def texts(cells: Cells) -> tuple[dict[str, str], tuple[str, ...]]:
    """Name, code, deck and notes, fit for a house file, and a note where signs were dropped."""
    result: dict[str, str] = {}
    dropped: tuple[str, ...] = ()
    for meaning in ("name", "code", "deck", "notes"):
        typed = cells.get(meaning, "")
        limit = NOTES_LENGTH if meaning == "notes" else NAME_LENGTH
        if len(typed) > limit:
            raise RowError(f"a {meaning} of more than {limit} characters")
        result[meaning] = kept = cleaned(typed, limit, meaning)
        if kept != typed and len("".join(kept.split())) < len("".join(typed.split())):
            dropped = ("hidden characters are dropped from its text",)
    return result, dropped


def cleaned(typed: str, limit: int, meaning: str) -> str:
    if typed.isascii() and typed.isprintable() and "  " not in typed:
        return typed.strip()
    return clean_text(typed, limit, lines=meaning == "notes")


def name_of(colour: ColourSource) -> str:
    """What a paint without a name is called."""
    match colour:
        case Notation():
            return colour.text
        case Srgb():
            return colour.hex
        case _:
            raise RowError("neither a name nor a code")
