"""The panel that lists what was found. It shows and reports; the screen decides."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.tui.commands import FINDINGS
from housemap.tui.keys import bindings_of
from housemap.tui.render.findings import Sifting, findings_head, matter_rows, nothing_rows
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Row
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Matter, Report, Severity

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
