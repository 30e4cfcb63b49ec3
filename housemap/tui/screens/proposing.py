"""A palette for the house out of a deck: looked for in a process of its own, shown on the map."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

from housemap.tui.background import drop_work, work_beside
from housemap.tui.screens.choosing import ASK_FOR_A_SAMPLE
from housemap.tui.screens.lighting import Lighting
from housemap.workbench.searching import Searching
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.choose.deck.chips import Chips
    from housemap.choose.palettes.asked import Asked
    from housemap.file.deck_file import DeckFile
    from housemap.tui.tasks.suggest import ProposePanel
    from housemap.workbench.suggesting import Offer, Offers

SEARCH = "palette"
"""The group of its work."""
SECONDS = 20.0
"""For each palette; then the best so far is kept, with its bound."""


@dataclass
class Proposed(Message):
    """The search came further."""

    search: "Searching"
    offers: "Offers"


class Proposing(Lighting):
    """Actions on palettes out of a deck."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._offer_search: Searching | None = None
        self._offer_before = False
        """Whether the map shows the house as it is."""
        self._offer_source: tuple[DeckFile, Chips | None] | None = None

    def propose(
        self, deck: "DeckFile", chips: "Chips | None", pinned: frozenset[str] = frozenset(),
        keep: frozenset[str] | None = frozenset(), paints: int | None = None,
    ) -> None:  # fmt: skip
        """Open the panel and look for palettes: of all rooms, unless some are kept."""
        from housemap.choose.palettes.asked import (  # noqa: PLC0415 - when first needed
            Asked,
            usual_paints,
        )
        from housemap.tui.tasks.suggest import ProposePanel  # noqa: PLC0415 - the same

        self._offer_source = deck, chips
        count = paints or usual_paints(self.session.house, keep)
        asked = Asked(count, keep, chips=pinned)
        self.open_panel(ProposePanel(self.session, self.look, asked))
        self._search_offers(asked)

    def _search_offers(self, asked: "Asked") -> None:
        """Begin anew with what is asked for now."""
        from housemap.workbench.suggesting import Offers  # noqa: PLC0415 - it is there by now

        assert self._offer_source is not None
        self._end_offers()
        search = self._offer_search = Searching(SECONDS)
        house, base = self.session.house, self.session.base
        deck, chips = self._offer_source
        self._show_offers(asked, Offers(deck.name))

        def steps() -> Iterator[Message]:
            from housemap.workbench.reporting import lit_report  # noqa: PLC0415 - in the thread
            from housemap.workbench.suggesting import offers_of  # noqa: PLC0415 - in the thread

            report = lit_report(house, base)
            for offers in offers_of(report, deck, chips, asked, search):
                yield Proposed(search, offers)

        work_beside(self, SEARCH, steps)

    def on_proposed(self, message: Proposed) -> None:
        panel = self._propose_panel()
        if panel is not None and message.search is self._offer_search:
            self._show_offers(panel.asked, message.offers)

    def _show_offers(self, asked: "Asked", offers: "Offers") -> None:
        panel = self._propose_panel()
        if panel is not None:
            panel.show_offers(asked, offers)
            self._show_offer(panel.offer)

    def _show_offer(self, offer: "Offer | None") -> None:
        """Show a palette on the map, unless that shows the present."""
        if offer is None or self._offer_before:
            self.try_out(None)
        else:
            self.try_out(offer.house, offer.report)

    def on_propose_panel_wished(self, message: "ProposePanel.Wished") -> None:
        self._search_offers(message.asked)

    def on_propose_panel_asking(self, message: "ProposePanel.Asking") -> None:
        panel = self._propose_panel()
        if panel is None:
            return
        match message.what:
            case "take":
                self._take_offer(panel.offer)
            case "stop" if self._offer_search is not None:
                self._offer_search.stop()
            case "before":
                self._offer_before = not self._offer_before
                self._show_offer(panel.offer)
            case "show":
                self._show_offer(panel.offer)
            case "leave":
                self.close_panel()

    def _take_offer(self, offer: "Offer | None") -> None:
        if offer is None:
            self.say("Nothing is chosen yet.")
            return
        count = sum(part.rooms > 0 for part in offer.parts)
        label = f"Palette of {count} wall paint{'' if count == 1 else 's'}"
        self.close_panel()
        if self.apply(offer.house, label, offer.report):
            self.say(f"{label}; {ASK_FOR_A_SAMPLE}")

    def close_panel(self) -> None:
        if self._propose_panel() is not None:
            self._end_offers()
            self._offer_before = False
        super().close_panel()

    def _end_offers(self) -> None:
        drop_work(self, SEARCH)
        if self._offer_search is not None:
            self._offer_search.close()
            self._offer_search = None

    def _propose_panel(self) -> "ProposePanel | None":
        from housemap.tui.tasks.suggest import ProposePanel  # noqa: PLC0415 - small

        return self.panel if isinstance(self.panel, ProposePanel) else None
