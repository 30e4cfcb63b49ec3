"""Everything that looks wrong in a deck, on a page of its own."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from textual.message import Message

from housemap.choose.deck.deck_faults import deck_faults
from housemap.deck.report import Oddity
from housemap.model.house import Paint
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.screens.page import PageScreen
from housemap.workbench.deck_browser import DeckBrowser

TITLES = {
    "impossible": "Colours that no surface can have",
    "label": "Printed LRVs that the colour contradicts",
    "field": "Odd entries",
    "conditions": "Measured under other conditions than the rest",
    "same code": "The same code twice",
    "same name": "The same name twice",
    "same colour": "Exactly the same colour twice",
    "near-equal": "Hardly different colours",
}
MOST_OF_A_KIND = 200
SHOWN_PAINTS = 3


@dataclass
class FaultsFound(Message):
    """A deck has been looked through."""

    deck: str
    names: dict[str, str]
    """Of its paints."""
    found: Sequence[Oddity]


def find_faults(desk: DeckBrowser) -> Iterator[Message]:
    """Look a deck through; takes up to half a second for thousands of paints."""
    chips = desk.chips
    paints = {s.id: s.entity for s in chips.swatches if isinstance(s.entity, Paint)}
    names = {id_: paint.name for id_, paint in paints.items()}
    yield FaultsFound(desk.deck.name, names, deck_faults(paints, chips))


def faults_page(message: FaultsFound, look: Look) -> PageScreen:
    count = len(message.found)
    title = f"Deck {message.deck}: {count:,} look{'s' if count == 1 else ''} wrong"

    def draw(width: int) -> Sequence[Row]:
        return [*faults_rows(message, Page(look, width))]

    return PageScreen(title, draw)


def faults_rows(message: FaultsFound, page: Page) -> Iterator[Row]:
    """Kind by kind, the gravest first."""
    if not message.found:
        yield page.blank()
        yield page.line("Nothing in this deck looks wrong.")
    for kind, title in TITLES.items():
        of_kind = [oddity for oddity in message.found if oddity.kind == kind]
        if not of_kind:
            continue
        yield from page.heading(f"{title}: {len(of_kind):,}")
        for oddity in of_kind[:MOST_OF_A_KIND]:
            yield from page.text(f"{_names(message, oddity)}: {oddity.text}", indent=2)
        if (more := len(of_kind) - MOST_OF_A_KIND) > 0:
            yield page.line(f"and {more:,} more", quiet=True, indent=2)


def _names(message: FaultsFound, oddity: Oddity) -> str:
    names = [message.names.get(id_, id_) for id_ in oddity.paints]
    more = ", ..." if len(names) > SHOWN_PAINTS else ""
    return f"{', '.join(names[:SHOWN_PAINTS])}{more}"
