"""Decks and readings over the house: opened from it, and found again as they were left."""

from typing import TYPE_CHECKING

from housemap.session import Reporter, Session
from housemap.tui.screens.lighting import Lighting

if TYPE_CHECKING:
    from housemap.tui.deck_desk import Desk
    from housemap.tui.screens.meter import Form


class Decks(Lighting):
    """Actions that open them."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self.desk: Desk | None = None
        """The deck that was open last."""
        self._meter_form: Form | None = None

    def action_decks(self) -> None:
        """Open the deck that was open last, else the built-in one."""
        from housemap.tui.screens.deck import DeckScreen  # noqa: PLC0415 - brings numpy in
        from housemap.tui.screens.deck_base import built_in_desk  # noqa: PLC0415 - the same

        self.app.push_screen(DeckScreen(self, self.desk or built_in_desk()))

    def remember_desk(self, desk: "Desk") -> None:
        """Keep a deck whose colours are all known for the next time."""
        self.desk = desk

    def action_reading(self) -> None:
        self.open_meter()

    def open_meter(self) -> None:
        """Open the form for readings of a meter, as it was left."""
        from housemap.tui.screens.meter import Form, MeterScreen  # noqa: PLC0415 - brings numpy in

        self._meter_form = self._meter_form or Form()
        self.app.push_screen(MeterScreen(self, self._meter_form))
