"""The heart of the main screen: a session on show, changed in one place.

The parts of the main screen (`moving`, `filing`, ...) are classes on top of this one, each a file
of actions for one task; `house.HouseScreen` puts them together. Panels and the map report by
message. Whoever handles one calls `apply`, `try_out`, `select` or a panel method here.
"""

import asyncio
from typing import TYPE_CHECKING

from textual.widget import Widget

from housemap.errors import EditError
from housemap.model.house import House
from housemap.tui.background import ReportReady, WidgetRunner
from housemap.tui.describe import (
    SCREEN_IS_NOT_PAINT,
    as_sentence,
    name_of,
    notes_of,
    place_of,
    sights_of,
)
from housemap.tui.lines import Bar, Foot
from housemap.tui.map.card import Card
from housemap.tui.map.drawing import Scene, Sight
from housemap.tui.map.house_map import HouseMap
from housemap.tui.panel import Panel
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.shades import blocks_of, shades_of
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.strips import show_together
from housemap.tui.textual_fixes import draw_now
from housemap.workbench.reporting import Reporting
from housemap.workbench.session import Edit, Reporter, Session

if TYPE_CHECKING:
    from collections.abc import Iterator

    from housemap.checks import Finding, Report
    from housemap.choose.remedies import Trial
    from housemap.workbench.session import Standing

TRAILING_S = 0.05
"""How long after the selection its card and lines of sight follow."""


class HouseBase(ProgramScreen):
    """Shows a session, and is the only one to change it."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__()
        self._session = session
        self._reporting = Reporting(WidgetRunner(self), session, reporter)
        self._message = ""
        self.fault = ""
        """Shown for as long as it is not empty, wherever nothing else is said."""
        self._panel: Panel | None = None
        self._map_shown = False
        self._trailing = False
        self._shown_level = 0
        self.sightlines_on = True

    @property
    def session(self) -> Session:
        return self._session

    @property
    def map(self) -> HouseMap:
        return self.query_one("#map", HouseMap)

    @property
    def main(self) -> Widget:
        """What has the keys while no panel is open: the map, or the walk in its place."""
        return self.map

    @property
    def home(self) -> Panel:
        """What stands beside it while no panel is open."""
        return self.query_one("#card", Card)

    @property
    def standing(self) -> bool:
        """Whether the screen has its widgets: not any more while the program ends."""
        return bool(self.query("#map"))

    @property
    def panel(self) -> Panel:
        """What stands beside the map."""
        return self._panel or self.home

    # Showing the session

    def follow(self) -> None:
        """Show the session as it is now, and have it reported on."""
        room = self.session.selection.room
        self.map.show(self.scene(), room, self._sights(), self._standing())
        self._draw_rest()
        if self._map_shown:
            self._reporting.request()

    def on_house_map_shown(self) -> None:
        """Begin to report: what that imports would keep the map from its first frame."""
        self._map_shown = True
        self._reporting.request()

    def follow_selection(self) -> None:
        """Show that something else is selected: the map at once, the rest as soon as may be."""
        if self.session.selection.level != self._shown_level:
            self.follow()
            return
        self.map.select(self.session.selection.room)
        draw_now(self.map)
        if not self._trailing:
            # The event loop's own timer: one of Textual's costs a tenth of a key.
            self._trailing = True
            asyncio.get_running_loop().call_later(TRAILING_S, self.call_next, self._trail)

    def _trail(self) -> None:
        self._trailing = False
        if not self.standing:
            return
        self.map.look_from(self._sights(), self._standing())
        self._draw_rest()

    def _draw_rest(self) -> None:
        self.panel.follow(self.session)
        self.draw_head()
        self._draw_status()
        self.draw_keys()

    def scene(self) -> Scene:
        """What the map shows of the session."""
        session = self.session
        self._shown_level = session.selection.level
        blocks = blocks_of(shades_of(session))
        show_together(
            coat.colour for block in blocks.values() for coat in block.shown_coats if coat.colour
        )
        return Scene(session.shown, session.plan, session.selection.level, blocks, self.look)

    def _sights(self) -> tuple[Sight, ...]:
        return tuple(sights_of(self.session)) if self.sightlines_on else ()

    def _standing(self) -> "Standing | None":
        """Where one stands and how far one sees, where the map is to show it."""
        return None

    def draw_head(self) -> None:
        session, look = self.session, self.look
        name = name_of(session)
        notes, right = [*notes_of(session)], place_of(session)
        self.query_one("#head", Bar).show(lambda width: head_line(name, notes, right, width, look))

    def _draw_status(self) -> None:
        told = self._message or self.fault
        text, loud = (told, True) if told else (SCREEN_IS_NOT_PAINT, False)
        words, look = self.program.depth.words, self.look
        self.query_one(Foot).show_status(
            lambda width: status_line(text, words, width, look, loud=loud)
        )

    def say(self, text: str) -> None:
        """Tell something in the status line, until the next key."""
        self._message = text
        self._draw_status()

    def on_key(self) -> None:
        if self._message:
            self.say("")

    def on_report_ready(self, message: ReportReady) -> None:
        message.stop()
        if not self.standing:
            return
        self._reporting.take(message.outcome)
        if message.outcome.fault:
            self.say(message.outcome.fault)
        elif self.session.report_is_current:
            self.follow()

    def look_changed(self) -> None:
        for panel in self.query(Panel):
            panel.show_look(self.look)
        self.follow()

    # Changing the session

    def apply(self, change: Edit | House, label: str, report: "Report | None" = None) -> bool:
        """Make an edit, or tell why it does not fit; whether anything changed.

        `report`: that of the new house, where it has been made already.
        """
        try:
            changed = self.session.apply(change, label)
        except EditError as error:
            self.say(as_sentence(error))
            return False
        if report is not None:
            self._reporting.know(report)
        self.follow()
        if changed:
            self.say(label)
        return changed

    def try_out(self, house: House | None, report: "Report | None" = None) -> None:
        """Show a house that is not decided on; None shows the decided one again.

        `report`: that of the house, where it has been made already.
        """
        self.session.try_out(house)
        if report is not None:
            self._reporting.know(report)
        self.follow()

    def remedies_elsewhere(self, finding: "Finding", base: "Report") -> "Iterator[Trial]":  # noqa: ARG002 - for those who have some
        """What clears a finding beside the house's own means: there may be a deck."""
        yield from ()

    def select(self, room: str) -> None:
        """Select a room; one that is not there (any more) is left alone."""
        if room in self.session.shown.rooms:
            self.session.select(room)
            self.follow_selection()

    # The panel beside the map

    def open_panel(self, panel: Panel) -> None:
        """Put a panel in the place of the card, with the focus in it."""
        if not self.is_attached:  # the program ends, and a thread had found something before
            return
        self.close_panel()
        self._panel = panel
        self.home.display = False
        self.mount(panel, after=self.home)
        self.set_focus(panel)  # at once: the next key is meant for it
        self.call_after_refresh(self._enter_panel, panel)

    def _enter_panel(self, panel: Panel) -> None:
        if panel is self._panel:
            panel.enter()
            panel.follow(self.session)
            self.draw_keys()

    def close_panel(self) -> None:
        """Show the card again, and the house as it is decided."""
        if self._panel is None:
            return
        self._panel.remove()
        self._panel = None
        self.home.display = True
        self.main.focus()
        self.try_out(None)

    def on_resize(self) -> None:
        """Give the keys back to what lost them while the terminal was too small for it."""
        self.call_after_refresh(self._give_keys_back)

    def _give_keys_back(self) -> None:
        if self.focused is not None:
            return
        if self._panel is not None:
            self._panel.enter()
        else:
            self.set_focus(self.main)

    def action_close_panel(self) -> None:
        self.close_panel()
