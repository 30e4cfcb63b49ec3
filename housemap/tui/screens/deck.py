"""The screen of a deck: thousands of paints, charted or listed, beside the house."""

from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType

from housemap.tui.background import work_beside
from housemap.tui.commands import DECK
from housemap.tui.keys import bindings_of
from housemap.tui.screens.deck_asking import DeckAsking
from housemap.tui.screens.deck_taking import DeckTaking

if TYPE_CHECKING:
    from housemap.tui.screens.deck_faults import FaultsFound


class DeckScreen(DeckAsking, DeckTaking):
    """All tasks of a deck's screen."""

    CONTEXT: ClassVar[str] = DECK
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(DECK)]

    def action_deck_shelf(self) -> None:
        """Show the decks that there are."""
        from housemap.tui.screens.shelf import ShelfScreen  # noqa: PLC0415 - when first needed

        self.app.push_screen(ShelfScreen(self))

    def action_deck_reading(self) -> None:
        self.house.open_meter()

    def action_deck_faults(self) -> None:
        """Show everything that looks wrong in the deck."""
        from housemap.tui.screens.deck_faults import find_faults  # noqa: PLC0415 - seldom needed

        self.say("looking the deck through ...")
        work_beside(self, "faults", lambda: find_faults(self.desk))

    def on_faults_found(self, message: "FaultsFound") -> None:
        from housemap.tui.screens.deck_faults import faults_page  # noqa: PLC0415 - it is there

        message.stop()
        self.say("")
        self.app.push_screen(faults_page(message, self.look))
