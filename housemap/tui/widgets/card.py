"""The panel beside the map that tells what is known of the selected room."""

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType

from housemap.tui.commands import CARD
from housemap.tui.keys import bindings_of
from housemap.tui.render.runs import Row
from housemap.tui.render.session_card import session_card
from housemap.tui.widgets.panel import RowsPanel


class Card(RowsPanel, can_focus=False):
    """The card of the selected room."""

    CONTEXT: ClassVar[str] = CARD
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CARD)]

    def draw(self, width: int) -> Sequence[Row]:
        return session_card(self.session, self.look, width)
