"""The panel beside the map that tells what is known of the selected room."""

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType

from housemap.tui.commands import CARD
from housemap.tui.keys import bindings_of
from housemap.tui.render.card import CardView, card_rows
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import shades_of
from housemap.tui.widgets.panel import RowsPanel

EMPTY = "No rooms yet. Press a and type the first one, such as Hall 1.8 x 5.2."


class Card(RowsPanel, can_focus=False):
    """The card of the selected room."""

    CONTEXT: ClassVar[str] = CARD
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CARD)]

    def draw(self, width: int) -> Sequence[Row]:
        session = self.session
        room = session.selection.room
        if room is None:
            return [*Page(self.look, width).text(EMPTY)]
        report = session.report if session.report_is_current else None
        view = CardView(
            session.shown, room, session.selection.surface,
            shades_of(session), report, self.look,
        )  # fmt: skip
        return card_rows(view, width)
