"""The earlier saves as a list: moving shows each on the map, enter takes it up."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.tui.keys import bindings_of
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.revisions import Earlier, revision_rows, revisions_head
from housemap.tui.render.runs import Row
from housemap.tui.share_commands import REVISIONS
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.session import Session


class RevisionsPanel(ListPanel):
    """Reports which save is looked at or taken up."""

    CONTEXT: ClassVar[str] = REVISIONS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(REVISIONS)]

    @dataclass
    class Looked(Message):
        """The map is to show it."""

        earlier: Earlier

    @dataclass
    class Left(Message):
        """The list is to be closed; the save is to be taken up, or none."""

        taken: Earlier | None

    def __init__(self, session: Session, look: Look, kept: Sequence[Earlier]) -> None:
        super().__init__(session, look)
        self._kept = kept
        self.show_entries([each.when for each in kept], None)

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return revisions_head(len(self._kept), self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        return revision_rows(self._kept[number], Line(self.look, width, chosen))

    def nothing(self, width: int) -> Sequence[Row]:
        text = "No save of this file is kept yet: each save from now on is, the newest thirty."
        return [*Page(self.look, width).text(text)]

    def _chosen(self) -> Earlier | None:
        number = self.chosen_number
        return None if number is None else self._kept[number]

    def moved(self) -> None:
        if chosen := self._chosen():
            self.post_message(self.Looked(chosen))

    def picked(self) -> None:
        self.action_leave_revisions(1)

    def action_leave_revisions(self, take: int) -> None:
        self.post_message(self.Left(self._chosen() if take else None))
