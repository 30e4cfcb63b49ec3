"""What is shown of a deck that was read: its mapping and notes, and what looks wrong in its data.

Near-equal colours are not seen here.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from operator import attrgetter
from typing import NamedTuple

from housemap.deck.columns import HEX, NM
from housemap.deck.numbers import is_number
from housemap.deck.reading import Column, DeckReading, RejectedRow
from housemap.model.grouping import grouped
from housemap.model.house import Lab, Paint, Reflectance, Srgb, Xyz
from housemap.model.text import counted

MOST_REJECTED = 20
MOST_LINES = 8
"""So many lines are named that were rejected for one reason."""
LEFT_OUT = "left out"


def lines_about(reading: DeckReading, most_rejected: int = MOST_REJECTED) -> Iterator[str]:
    """The mapping, the notes and the rejected rows of a reading, one line each."""
    yield f"{counted(len(reading.paints), 'paint')}, read as {reading.format}"
    yield from mapping_lines(reading.mapping)
    yield from reading.notes
    groups = [*grouped((row.reason, row) for row in reading.rejected).values()]
    for rows in groups[:most_rejected]:
        yield rejected_line(rows)
    if more := sum(map(len, groups[most_rejected:])):
        yield f"and {counted(more, 'more rejected row')}"


def rejected_line(rows: Sequence[RejectedRow]) -> str:
    first = rows[0]
    text = f" | {first.text}" if first.text else ""
    if len(rows) == 1:
        return f"{first}{text}"
    lines = ", ".join(str(row.line) for row in rows[:MOST_LINES])
    more = ", ..." if len(rows) > MOST_LINES else ""
    return f"{counted(len(rows), 'row')}: {first.reason}; lines {lines}{more}{text}"


def mapping_lines(mapping: Sequence[Column]) -> Iterator[str]:
    """A line for each column; spectral ones share a line."""
    spectral = [column for column in mapping if column.meaning.endswith(NM)]
    for column in mapping:
        if column not in spectral:
            guess = " (a guess from its cells)" if column.guessed else ""
            example = f", such as {column.example}" if column.example else ""
            yield f"{column.header} -> {column.meaning or LEFT_OUT}{guess}{example}"
        elif column is spectral[0]:
            last = spectral[-1]
            yield (
                f"{column.header} .. {last.header} -> spectrum, {column.meaning} to "
                f"{last.meaning} ({counted(len(spectral), 'column')})"
            )


LEAST_COVERAGE, MOST_COVERAGE = 4.0, 20.0
"""Square metres per litre and coat of house paint; common practice, no source."""
SMALLEST_TIN, LARGEST_TIN = 0.05, 25.0
"""Litres; common practice, no source."""
PLACEHOLDERS = {"#000000", "#ffffff", "#ff00ff", "#808080"}
"""Colours that programs put in where one is missing; our assumption."""


class Oddity(NamedTuple):
    kind: str
    """One of "same code", "same name", "same colour", "field" and "conditions"."""
    paints: tuple[str, ...]
    text: str


def deck_report(paints: Mapping[str, Paint]) -> tuple[Oddity, ...]:
    """Everything in a deck that looks like a mistake, doubles first; equal faults are one."""
    faults = grouped((text, id_) for id_, paint in paints.items() for text in field_faults(paint))
    return (
        *doubles(paints, "same code", "share the code", lambda paint: paint.code.casefold()),
        *doubles(paints, "same name", "share the name", lambda paint: paint.name.casefold()),
        *doubles(paints, "same colour", "have exactly the same colour data", attrgetter("colour")),
        *(Oddity("field", tuple(ids), text) for text, ids in faults.items()),
        *odd_conditions(paints),
    )


def doubles(
    paints: Mapping[str, Paint], kind: str, words: str, key_of: Callable[[Paint], object]
) -> Iterator[Oddity]:
    for key, ids in grouped((key_of(paint), id_) for id_, paint in paints.items()).items():
        if key and len(ids) > 1:
            what = f' "{key}"' if isinstance(key, str) else ""
            yield Oddity(kind, tuple(ids), f"{len(ids)} paints {words}{what}")


def field_faults(paint: Paint) -> Iterator[str]:
    is_own_hex = isinstance(paint.colour, Srgb) and paint.name == paint.colour.hex
    if is_number(paint.name) or (HEX.fullmatch(paint.name) and not is_own_hex):
        yield "its name looks like a value, not a name"
    if is_placeholder(paint):
        yield "programs often write its colour where one is missing"
    if paint.lrv in {0.0, 100.0}:
        yield f"a printed LRV of {paint.lrv:g} belongs to no paint"
    if paint.coverage is not None and not LEAST_COVERAGE <= paint.coverage <= MOST_COVERAGE:
        yield f"{paint.coverage:g} m2 per litre is unusual for a house paint"
    if any(not SMALLEST_TIN <= tin <= LARGEST_TIN for tin in paint.tins):
        yield f"tins of {', '.join(f'{tin:g}' for tin in paint.tins)} litres are unusual"
    if paint.price == 0:
        yield "a price of 0"


def is_placeholder(paint: Paint) -> bool:
    match paint.colour:
        case Srgb(hex=text):
            return text in PLACEHOLDERS
        case Lab(lab100=values) | Xyz(xyz100=values):
            return values in {(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 100.0, 100.0)}
        case Reflectance(values=values):
            return set(values) in ({0.0}, {1.0})
        case _:
            return False


def odd_conditions(paints: Mapping[str, Paint]) -> Iterator[Oddity]:
    """Paints that were measured under other conditions than most of the deck."""
    groups = grouped(
        (paint.colour.observed, id_)
        for id_, paint in paints.items()
        if isinstance(paint.colour, Lab | Xyz)
    )
    usual = max(groups, key=lambda observed: len(groups[observed]), default="")
    for observed, ids in groups.items():
        if observed != usual:
            words = "1 paint is" if len(ids) == 1 else f"{len(ids)} paints are"
            text = f"{words} given under {observed}, most under {usual}"
            yield Oddity("conditions", tuple(ids), text)
