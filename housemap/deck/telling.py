"""A reading in plain lines, as it is shown before its paints are taken."""

from collections.abc import Iterator, Sequence

from housemap.deck.columns import NM
from housemap.deck.reading import Column, DeckReading

MOST_REJECTED = 20
LEFT_OUT = "left out"


def lines_about(reading: DeckReading, most_rejected: int = MOST_REJECTED) -> Iterator[str]:
    """The mapping, the notes and the rejected rows of a reading, one line each."""
    yield f"{counted(len(reading.paints), 'paint')}, read as {reading.format}"
    yield from mapping_lines(reading.mapping)
    yield from reading.notes
    for row in reading.rejected[:most_rejected]:
        yield f"{row} | {row.text}" if row.text else str(row)
    if (more := len(reading.rejected) - most_rejected) > 0:
        yield f"and {counted(more, 'more rejected row')}"


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


def counted(number: int, what: str) -> str:
    return f"{number:,} {what}" if number == 1 else f"{number:,} {what}s"
