"""Filling the house: the search runs in a process of its own, the map shows what it finds."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from textual.message import Message

from housemap.errors import HousemapError
from housemap.model.house import House
from housemap.tui.background import drop_work, work_beside
from housemap.tui.render.shades import shades_of
from housemap.tui.screens.house_base import HouseBase
from housemap.workbench.searching import Searching
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.tui.tasks.fill import Fill, FillPanel, Wish

SEARCH = "fill"
"""The group of its work."""

NOTHING_FITS = "no choice keeps to the limit"
SECONDS = 30.0
"""Then the best so far is kept, and how good it is at least is told."""


@dataclass
class FillFound(Message):
    """The search came further."""

    wish: "Wish"
    fill: "Fill"
    report: "Report | None" = None
    """Of the filled house, at the end."""


class Filling(HouseBase):
    """Actions on the whole house at once."""

    _fill_wish: "Wish"
    _fill: "Fill"
    """Both are there from the first search on."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._fill_search: Searching | None = None
        self._filled_report: Report | None = None
        self._fill_before = False
        """Whether the map shows the house as it is."""

    def action_fill(self) -> None:
        """Look for the best wall paints of the bare rooms, or of all where none is bare."""
        from housemap.tui.tasks.fill import FillPanel, Wish  # noqa: PLC0415 - when first needed

        rooms = self.session.house.rooms.values()
        bare = any(room.use != "outdoor" and room.paints.walls is None for room in rooms)
        wish = Wish(every=not bare)
        self.open_panel(FillPanel(self.session, self.look, shades_of(self.session), wish))
        self._search_fill(wish)

    def _search_fill(self, wish: "Wish") -> None:
        """Begin anew with what is asked for now."""
        from housemap.tui.tasks.fill import Fill  # noqa: PLC0415 - it is there by now

        house, base = self.session.house, self.session.base
        self._end_search()
        self._fill_wish, self._fill, self._filled_report = wish, Fill(), None
        search = self._fill_search = Searching(SECONDS)
        self._show_fill()
        work_beside(self, SEARCH, lambda: _fill_steps(house, base, wish, search))

    def on_fill_found(self, message: FillFound) -> None:
        if self._fill_panel() is None or message.wish != self._fill_wish:
            return
        self._fill, self._filled_report = message.fill, message.report
        self._show_fill()

    def _show_fill(self) -> None:
        """Show how far it is: in the panel, and on the map unless that shows the present."""
        panel = self._fill_panel()
        if panel is not None:
            panel.show_fill(self._fill_wish, self._fill)
            shown = None if self._fill_before else self._fill.house
            self.try_out(shown, self._filled_report if shown is not None else None)

    def on_fill_panel_wished(self, message: "FillPanel.Wished") -> None:
        self._search_fill(message.wish)

    def on_fill_panel_looked(self, message: "FillPanel.Looked") -> None:
        self.select(message.room)

    def on_fill_panel_asked(self, message: "FillPanel.Asked") -> None:
        match message.what:
            case "take":
                self._take_fill()
            case "stop" if self._fill_search is not None:
                self._fill_search.stop()
            case "before":
                self._fill_before = not self._fill_before
                self._show_fill()
            case "leave":
                self.close_panel()

    def _take_fill(self) -> None:
        house, report = self._fill.house, self._filled_report
        if house is None:
            self.say("Nothing is chosen yet.")
            return
        count = len(self._fill.progress.assignment) if self._fill.progress else 0
        self.close_panel()
        self.apply(house, f"Fill {count} rooms", report)

    def close_panel(self) -> None:
        if self._fill_panel() is not None:
            self._end_search()
            self._fill_before = False
        super().close_panel()

    def _end_search(self) -> None:
        drop_work(self, SEARCH)
        if self._fill_search is not None:
            self._fill_search.close()
            self._fill_search = None

    def _fill_panel(self) -> "FillPanel | None":
        from housemap.tui.tasks.fill import FillPanel  # noqa: PLC0415 - small

        return self.panel if isinstance(self.panel, FillPanel) else None


def _fill_steps(
    house: House, known: "Report | None", wish: "Wish", search: Searching
) -> Iterator[Message]:
    """In a thread: the search's reports, then the report of the filled house."""
    from housemap.choose.house_problem import filled, problem_of  # noqa: PLC0415
    from housemap.tui.tasks.fill import Fill  # noqa: PLC0415 - it is there by now
    from housemap.workbench.reporting import lit_report  # noqa: PLC0415 - in the thread

    fill, base = Fill(), lit_report(house, known)
    try:
        problem = problem_of(base, wish.kept if wish.every else None, wish.limit)
        for progress in search(problem):
            chosen = filled(house, progress.assignment)
            fill = Fill(progress, chosen if progress.assignment else None)
            yield FillFound(wish, fill)
    except HousemapError as error:
        yield FillFound(wish, Fill(fault=str(error).partition("\n")[0], running=False))
        return
    if fill.house is None:
        fault = "stopped before a first choice" if search.stopped else NOTHING_FITS
        yield FillFound(wish, replace(fill, running=False, fault=fault))
        return
    report = base.after(fill.house)
    findings = len(base.findings), len(report.findings)
    yield FillFound(wish, replace(fill, findings=findings, running=False), report)
