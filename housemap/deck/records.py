"""From the cells of one row, by meaning, to a paint with an id."""

import zlib
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from housemap.deck import colours
from housemap.deck.columns import has_letter
from housemap.deck.numbers import coverage, is_blank, number_within, price, tins
from housemap.deck.reading import Column, DeckReading, Format, RejectedRow, RowError
from housemap.deck.table import Table
from housemap.errors import InputError, Problem
from housemap.model.edits import free_id
from housemap.model.grouping import grouped
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
        stem = free_id(paint.name, (), f"paint-{zlib.crc32(paint.name.encode()):08x}")
        if has_letter(paint.code):
            stem = free_id(paint.code, (), stem)
        number = reached.get(stem, 0) + 1
        id_ = stem if number == 1 else f"{stem}-{number}"
        while id_ in result:
            number += 1
            id_ = f"{stem}-{number}"
        reached[stem] = number
        result[id_] = paint
    return result


HUNDRED = 100.0
SHOWN = 80
REASONS_SHOWN = 5


@dataclass(slots=True)
class Harvest:
    """The paints and rejected rows so far, and how often each note was due."""

    rejected: list[RejectedRow] = field(default_factory=list)
    paints: list[Paint] = field(default_factory=list)
    counts: Counter[str] = field(default_factory=Counter)

    def take_table(self, table: Table, mapping: Sequence[Column], source: colours.Source) -> None:
        """Make a paint of each row, or reject it."""
        used = [(i, column.meaning) for i, column in enumerate(mapping) if column.meaning]
        for row in table.rows:
            cells = {meaning: row.cells[i] for i, meaning in used}
            try:
                self.add(*paint_from(cells, source))
            except RowError as error:
                text = clean_text(table.delimiter.join(row.cells), SHOWN)
                self.rejected.append(RejectedRow(row.line, str(error), text))

    def add(self, paint: Paint, notes: tuple[str, ...]) -> None:
        self.paints.append(paint)
        self.counts.update(notes)

    def reading(
        self, format_: Format, mapping: tuple[Column, ...], notes: tuple[str, ...], name: str
    ) -> DeckReading:
        """The whole source as read; InputError with the reasons where no row gives a paint."""
        self.rejected.sort(key=lambda row: row.line)
        if not self.paints:
            problems = [Problem("it holds no paint", file=name)]
            for rows in [*grouped((row.reason, row) for row in self.rejected).values()][
                :REASONS_SHOWN
            ]:
                times = f" ({len(rows):,} rows)" if len(rows) > 1 else ""
                problems.append(Problem(f"{rows[0].reason}{times}", file=name, line=rows[0].line))
            raise InputError(problems)
        due = (f"{counted(n, 'paint')}: {note}" for note, n in self.counts.items())
        return DeckReading(
            with_ids(self.paints), format_, mapping, tuple(self.rejected), (*notes, *due)
        )


def paint_from(row: colours.Cells, source: colours.Source) -> tuple[Paint, tuple[str, ...]]:
    """A paint and notes about it; raises RowError where the row gives none."""
    cells = {meaning: cell for meaning, cell in row.items() if not is_blank(cell)}
    comma = source.comma

    def amount(make: Callable[..., float], meaning: str) -> float | None:
        header = source.headers.get(meaning, "")
        return make(cells[meaning], header, comma=comma) if meaning in cells else None

    if observed := row_observed(cells, source.observed):
        cells["observed"] = observed
    printed = lrv(cells["LRV"], source) if "LRV" in cells else None
    taken_from: str
    colour: ColourSource
    notes: tuple[str, ...]
    if printed is not None and not colours.has_colour(cells, source):
        taken_from, colour, notes = colours.GREY, colours.grey_of(printed), ()
    else:
        taken_from, colour, notes = colours.colour_from(cells, source)
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
        derived=colours.GREY if taken_from == colours.GREY else "",
    )
    return paint, (f"colour from {taken_from}", *notes, *dropped)


def row_observed(cells: colours.Cells, usual: str) -> str | None:
    """The illuminant and observer that a row names; None where it names none."""
    if "observed" in cells:
        return colours.known_observed(cells["observed"])
    if "illuminant" not in cells and "observer" not in cells:
        return None
    illuminant, _, observer = usual.partition("/")
    light, angle = cells.get("illuminant", illuminant), cells.get("observer", observer)
    return colours.known_observed(
        f"{colours.illuminant_of(light) or light}/{colours.observer_of(angle) or angle}"
    )


def lrv(cell: str, source: colours.Source) -> float:
    value = number_within(cell, comma=source.comma) * source.lrv_factor
    if not 0 <= value <= HUNDRED:
        raise RowError(f"LRV {shown(cell)} is not between 0 and 100")
    return round(value, 4)


def texts(cells: colours.Cells) -> tuple[dict[str, str], tuple[str, ...]]:
    """Name, code, deck and notes, fit for a house file, and a note where signs were dropped."""
    result: dict[str, str] = {}
    dropped: tuple[str, ...] = ()
    for meaning in ("name", "code", "deck", "notes"):
        typed = cells.get(meaning, "")
        limit = NOTES_LENGTH if meaning == "notes" else NAME_LENGTH
        if len(typed) > limit:
            raise RowError(f"a {meaning} of more than {limit} characters")
        plain = typed.isascii() and typed.isprintable() and "  " not in typed
        kept = typed.strip() if plain else clean_text(typed, limit, lines=meaning == "notes")
        result[meaning] = kept
        if kept != typed and len("".join(kept.split())) < len("".join(typed.split())):
            dropped = ("hidden characters are dropped from its text",)
    return result, dropped


def name_of(colour: ColourSource) -> str:
    match colour:
        case Notation():
            return colour.text
        case Srgb():
            return colour.hex
        case _:
            raise RowError("neither a name nor a code")
