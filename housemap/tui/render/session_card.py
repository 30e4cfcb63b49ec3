"""The card of the room that is selected in a session."""

from collections.abc import Sequence

from housemap.tui.render.card import CardView, card_rows
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import shades_of
from housemap.workbench.session import Session

EMPTY = "No rooms yet. Press a and type the first one, such as Hall 1.8 x 5.2."


def session_card(session: Session, look: Look, width: int) -> Sequence[Row]:
    """What is known of the room as it is shown; in an empty house, how to begin."""
    room = session.selection.room
    if room is None:
        return [*Page(look, width).text(EMPTY)]
    report = session.report if session.report_is_current else None
    surface, shades = session.selection.surface, shades_of(session)
    return card_rows(CardView(session.shown, room, surface, shades, report, look), width)
