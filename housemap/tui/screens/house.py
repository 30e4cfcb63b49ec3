"""The main screen: the map of the open house, and one panel beside it."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from housemap.tui.background import ReportReady
from housemap.tui.commands import HOUSE
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.map.card import Card
from housemap.tui.map.house_map import HouseMap
from housemap.tui.preload import import_panels
from housemap.tui.screens.decks import Decks
from housemap.tui.screens.editing import Editing
from housemap.tui.screens.filling import Filling
from housemap.tui.screens.sampling import Sampling
from housemap.tui.screens.touring import Touring
from housemap.tui.scroller import TooSmall


class HouseScreen(Touring, Decks, Sampling, Editing, Filling):
    """All tasks of the main screen; to add one, write a class on HouseBase and name it here."""

    CONTEXT: ClassVar[str] = HOUSE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(HOUSE)]

    def compose(self) -> ComposeResult:
        """Without containers: every widget under the map costs time at each key."""
        yield Bar(id="head")
        yield HouseMap(self.scene(), id="map")
        yield Card(self.session, self.look, id="card")
        yield TooSmall(id="small")
        yield Foot()

    def on_mount(self) -> None:
        self.set_focus(self.map)
        self.follow()
        self.watch_file()
        self.begin()

    def on_report_ready(self, message: ReportReady) -> None:
        """Have the panels imported once there is nothing else to do."""
        if message.outcome.lane == "light":
            self.run_worker(import_panels, thread=True, group="imports")
