"""Decks and readings over the house: opened from it, and found again as they were left."""

from typing import TYPE_CHECKING

from housemap.tui.screens.proposing import Proposing
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from collections.abc import Iterator

    from housemap.checks import Finding, Report
    from housemap.choose.remedies import Trial
    from housemap.tui.screens.meter import Form
    from housemap.tui.tasks.fill import FillPanel
    from housemap.workbench.deck_browser import DeckBrowser


class Decks(Proposing):
    """Actions that open them."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self.desk: DeckBrowser | None = None
        """The deck that was open last."""
        self._meter_form: Form | None = None

    def action_decks(self) -> None:
        """Open the deck that was open last, else the built-in one."""
        from housemap.tui.screens.deck import DeckScreen  # noqa: PLC0415 - brings numpy in
        from housemap.tui.screens.deck_base import built_in_desk  # noqa: PLC0415 - the same

        self.app.push_screen(DeckScreen(self, self.desk or built_in_desk()))

    def remember_desk(self, desk: "DeckBrowser") -> None:
        """Keep a deck whose colours are all known for the next time."""
        self.desk = desk

    def remedies_elsewhere(self, finding: "Finding", base: "Report") -> "Iterator[Trial]":
        """Paints of the deck that was open last."""
        from housemap.choose.deck.remedies import deck_trials  # noqa: PLC0415 - in a thread

        if self.desk is not None:
            yield from deck_trials(finding, base, self.desk.chips, self.desk.deck.name)

    def propose_from(self, desk: "DeckBrowser") -> None:
        """Look for a palette in a deck; the paints picked there are pinned."""
        self.propose(desk.deck, desk.chips if desk.done else None, frozenset(desk.picked))

    def on_fill_panel_from_deck(self, message: "FillPanel.FromDeck") -> None:
        """Go on from filling the house with its own paints."""
        from housemap.tui.screens.deck_base import built_in_desk  # noqa: PLC0415 - brings numpy in

        desk = self.desk or built_in_desk()
        keep, limit = message.keep, message.limit
        self.propose(desk.deck, desk.chips if desk.done else None, keep=keep, paints=limit)

    def action_reading(self) -> None:
        self.open_meter()

    def open_meter(self) -> None:
        """Open the form for readings of a meter, as it was left."""
        from housemap.tui.screens.meter import Form, MeterScreen  # noqa: PLC0415 - brings numpy in

        self._meter_form = self._meter_form or Form()
        self.app.push_screen(MeterScreen(self, self._meter_form))
