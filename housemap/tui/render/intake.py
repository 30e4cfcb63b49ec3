"""What a file of paints holds, before it is taken as a deck."""

from collections.abc import Iterator, Sequence

from housemap.deck.columns import MEANINGS
from housemap.deck.reading import DeckReading
from housemap.deck.telling import counted, mapping_lines
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page


def intake_rows(reading: DeckReading, look: Look, width: int) -> list[Row]:
    """The mapping, what had to be assumed, and every rejected row."""
    page = Page(look, width)
    return [
        *page.heading(f"{counted(len(reading.paints), 'paint')}, read as {reading.format}"),
        *_lines(reading.notes, page),
        *_section("What its columns are taken to mean", [*mapping_lines(reading.mapping)], page),
        *_section(_rejected_title(reading), list(_rejected(reading)), page),
        *_section("Its first paints", [*_first(reading)], page),
    ]


MOST_FIRST = 8


def _first(reading: DeckReading) -> Iterator[str]:
    for paint in [*reading.paints.values()][:MOST_FIRST]:
        lrv = "" if paint.lrv is None else f", LRV {paint.lrv:g}"
        yield f"{paint.name} {paint.code}".strip() + lrv


def _rejected_title(reading: DeckReading) -> str:
    return f"Rejected: {counted(len(reading.rejected), 'row')}"


def _rejected(reading: DeckReading) -> Iterator[str]:
    for row in reading.rejected:
        yield f"{row} | {row.text}" if row.text else str(row)


def _section(title: str, lines: Sequence[str], page: Page) -> Iterator[Row]:
    if lines:
        yield from page.heading(title)
        yield from _lines(lines, page)


def _lines(lines: Sequence[str], page: Page) -> Iterator[Row]:
    for line in lines:
        yield from page.text(line, indent=2)


def fault_rows(lines: Sequence[str], look: Look, width: int) -> list[Row]:
    """Why a file cannot be taken."""
    page = Page(look, width)
    return [*page.heading("Nothing can be taken"), *_lines(lines, page)]


def meaning_words() -> str:
    """What a column can mean, for the question."""
    return ", ".join(MEANINGS)
