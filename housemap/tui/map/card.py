"""The panel beside the map that tells what is known of the selected room."""

from collections.abc import Sequence

from housemap.tui.map.card_drawing import session_card
from housemap.tui.panel import RowsPanel
from housemap.tui.render.cells import Row


class Card(RowsPanel, can_focus=False):
    """The card of the selected room."""

    def draw(self, width: int) -> Sequence[Row]:
        return session_card(self.session, self.look, width)
