"""The panel that lists what was found. It shows and reports; the screen decides."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.events import Click
from textual.message import Message

from housemap.tui.commands import FINDING, FINDINGS
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.panel import RowsPanel
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line
from housemap.tui.tasks.findings_drawing import (
    FindingView,
    Search,
    Sifting,
    findings_head,
    judged,
    matter_rows,
    nothing_rows,
    told,
)
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Matter, Report, Severity
    from housemap.choose.remedies import Remedy


GRAVER: "dict[Severity, Severity]" = {"note": "warn", "warn": "fault", "fault": "note"}


class FindingsPanel(ListPanel):
    """Everything found, or what is asked for of it."""

    CONTEXT: ClassVar[str] = FINDINGS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FINDINGS)]

    @dataclass
    class Looked(Message):
        """Another matter is chosen."""

        matter: "Matter"

    @dataclass
    class Opened(Message):
        """A matter is to be told in full."""

        matter: "Matter"

    @dataclass
    class PaintAsked(Message):
        """A place of a matter is to have another paint."""

        matter: "Matter"

    @dataclass
    class Left(Message):
        """Enough was seen."""

    def __init__(
        self, session: Session, look: Look, sifting: Sifting, chosen: object = None
    ) -> None:
        """`chosen`: the key of the matter to begin with, or a room that it is to name."""
        super().__init__(session, look)
        self.sifting = sifting
        self._report: Report | None = None
        self._matters: tuple[Matter, ...] = ()
        self._first = chosen

    def follow(self, session: Session) -> None:
        """List the findings of the newest report of the decided house."""
        report = session.base
        if self.sifting.room is not None and self.sifting.room not in session.house.rooms:
            self.sifting = replace(self.sifting, room=None)
        if report is not self._report or report is None:
            self._report = report
            self._list(self.chosen)

    def _list(self, chosen: object) -> None:
        self._matters = self.sifting.matters(self._report) if self._report else ()
        keys = [matter.first.key for matter in self._matters]
        if chosen not in keys:
            chosen = self._first_of(keys)
        self.show_entries(keys, chosen)
        self.redraw()
        self.moved()

    def _first_of(self, keys: list[tuple[object, ...]]) -> object:
        """What the panel was opened for, while that is there."""
        if self._first in keys:
            return self._first
        naming = (m.first.key for m in self._matters if self._first in m.rooms)
        return next(naming, None)

    @property
    def matter(self) -> "Matter | None":
        number = self.chosen_number
        return None if number is None else self._matters[number]

    # Drawing

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return findings_head(self.sifting, self._report, self.session.house, self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        assert self._report is not None
        line = Line(self.look, width, chosen)
        return matter_rows(self._matters[number], self._report.house, line)

    def nothing(self, width: int) -> Sequence[Row]:
        return nothing_rows(self.sifting, self._report, self.look, width)

    # What the user does

    def moved(self) -> None:
        if self.matter is not None:
            self.post_message(self.Looked(self.matter))

    def picked(self) -> None:
        self.action_finding_open()

    def action_finding_open(self) -> None:
        if self.matter is not None:
            self.post_message(self.Opened(self.matter))

    def action_finding_paint(self) -> None:
        if self.matter is not None:
            self.post_message(self.PaintAsked(self.matter))

    def action_findings_leave(self) -> None:
        self.post_message(self.Left())

    def action_findings_scope(self) -> None:
        """Change between the selected room and the whole house."""
        room = None if self.sifting.room is not None else self.session.selection.room
        self.sifting = replace(self.sifting, room=room)
        self._list(self.chosen)

    def action_findings_grave(self) -> None:
        self.sifting = replace(self.sifting, least=GRAVER[self.sifting.least])
        self._list(self.chosen)


# The panel that tells one finding in full. It shows and reports; the screen decides.

NONE = -1
"""Above the first remedy: none is on show."""


class FindingPanel(RowsPanel):
    """A matter of the newest report, with its remedies as they are found."""

    CONTEXT: ClassVar[str] = FINDING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FINDING)]

    @dataclass
    class Looked(Message):
        """Another matter is on show, or the same in another house: remedies are wanted."""

        matter: "Matter"

    @dataclass
    class Tried(Message):
        """A remedy is to be shown on the map; None shows the house as it is."""

        remedy: "Remedy | None"

    @dataclass
    class Applied(Message):
        """A remedy is to be made."""

        remedy: "Remedy"

    @dataclass
    class PaintAsked(Message):
        """A place of the matter is to have another paint."""

        matter: "Matter"

    @dataclass
    class LimitAsked(Message):
        """Another limit is wanted, or the default."""

        matter: "Matter"
        default: bool = False

    @dataclass
    class NoneYet(Message):
        """A remedy was to be applied, and none is known (yet)."""

        done: bool
        """Whether everything was tried."""

    @dataclass
    class Left(Message):
        """Back to the list; `gone` where the matter is no longer found."""

        gone: bool = False

    def __init__(
        self, session: Session, look: Look, sifting: Sifting, key: tuple[object, ...]
    ) -> None:
        super().__init__(session, look)
        self.sifting = sifting
        self._key = key
        self._view: FindingView | None = None
        self._places: list[range] = []

    @property
    def matter(self) -> "Matter | None":
        return self._view.matter if self._view else None

    # Following the house

    def follow(self, session: Session) -> None:
        """Tell the same matter of the newest report of the decided house."""
        self.session = session
        report = session.base
        if report is None or not session.base_is_current:
            return
        if self._view is None or self._view.report is not report:
            self._show(report)
        else:
            self.redraw()

    def _show(self, report: "Report") -> None:
        matters = self.sifting.matters(report)
        number = next((i for i, m in enumerate(matters) if self._key in _keys(m)), None)
        if number is None:
            self.post_message(self.Left(gone=True))
            return
        matter = matters[number]
        seen = judged(matter.first, report)
        self._view = FindingView(
            report, matter, number + 1, len(matters), seen, Search(), None, self.look
        )
        self.redraw()
        self.post_message(self.Looked(matter))

    def look_again(self) -> None:
        """Ask for the remedies once more."""
        if self._view is not None:
            self.post_message(self.Looked(self._view.matter))

    def show_search(self, matter: "Matter", search: Search) -> None:
        """Show how far the search for remedies is, and what it found."""
        if self._view is not None and matter is self._view.matter:
            self._view = replace(self._view, search=search)
            self.redraw()

    def draw(self, width: int) -> Sequence[Row]:
        if self._view is None:
            return ()
        self._view = replace(self._view, look=self.look)
        drawn = told(self._view, width)
        self._places = drawn.remedies
        return drawn.rows

    # What the user does

    def action_remedy_step(self, by: int) -> None:
        """Show another remedy on the map; scroll where there is none that way."""
        view = self._view
        count = len(view.search.remedies) if view else 0
        wanted = by - 1 if view is None or view.chosen is None else view.chosen + by
        if 0 <= wanted < count:
            self._choose(wanted)
        else:
            self.scroll_rows(by)
            if wanted == NONE and view is not None:
                self._view = replace(view, chosen=None)
                self.redraw()
                self.post_message(self.Tried(None))

    def _choose(self, number: int) -> None:
        assert self._view is not None
        self._view = replace(self._view, chosen=number)
        self.redraw()
        for place in self._places[number : number + 1]:  # none where there is no room to draw
            self.reveal(place.stop)
            self.reveal(place.start)
        self.post_message(self.Tried(self._view.search.remedies[number]))

    def action_remedy(self) -> None:
        """Apply the remedy on show; show the first where none is."""
        view = self._view
        if view is None:
            return
        if not view.search.remedies:
            self.post_message(self.NoneYet(view.search.done))
        elif view.chosen is None:
            self._choose(0)
        else:
            self.post_message(self.Applied(view.search.remedies[view.chosen]))

    def action_page(self, by: int) -> None:
        self.scroll_pages(by)

    def action_finding_step(self, by: int) -> None:
        """Tell the next matter of the list, or the one before."""
        if self._view is None:
            return
        matters = self.sifting.matters(self._view.report)
        number = self._view.number - 1 + by
        if 0 <= number < len(matters):
            self._key = matters[number].first.key
            self.scroll_rows(-self.top)
            self._show(self._view.report)

    def action_finding_repaint(self) -> None:
        if self.matter is not None:
            self.post_message(self.PaintAsked(self.matter))

    def action_limit(self) -> None:
        if self.matter is not None:
            self.post_message(self.LimitAsked(self.matter))

    def action_limit_default(self) -> None:
        if self.matter is not None:
            self.post_message(self.LimitAsked(self.matter, default=True))

    def action_finding_leave(self) -> None:
        self.post_message(self.Left())

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self)
        row = at.y + self.top if at else -1
        number = next((i for i, place in enumerate(self._places) if row in place), None)
        if number is not None and self._view is not None:
            if number == self._view.chosen:
                self.action_remedy()
            else:
                self._choose(number)


def _keys(matter: "Matter") -> list[tuple[object, ...]]:
    return [finding.key for finding in matter.findings]
