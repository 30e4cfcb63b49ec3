"""The conflicts of two edits as a list; each is settled by one key and shown on the map."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.model.kinds import Path
from housemap.tui.keys import bindings_of
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.settling import Sides, conflict_rows, settling_head
from housemap.tui.share_commands import SETTLING
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.file.merge import Conflict, Side


class SettlingPanel(ListPanel):
    """Reports what is chosen; decides nothing by itself."""

    CONTEXT: ClassVar[str] = SETTLING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SETTLING)]
    ENTRY_ROWS: ClassVar[int] = 5

    @dataclass
    class Settled(Message):
        """One conflict was settled, this way."""

        path: Path
        side: "Side"

    @dataclass
    class Finished(Message):
        """All is to be saved as settled, or to be left as it is on disk."""

        save: bool

    @dataclass
    class Looked(Message):
        """Another conflict is chosen."""

        path: Path

    def __init__(
        self,
        session: Session,
        look: Look,
        conflicts: "Sequence[Conflict]",
        sides: Sides,
    ) -> None:
        super().__init__(session, look)
        self._conflicts, self._sides = conflicts, sides
        self.choices: Mapping[Path, Side] = {}
        self.show_entries([conflict.path for conflict in conflicts], None)

    @property
    def unsettled(self) -> int:
        return len(self._conflicts) - len(self.choices)

    def show_choices(self, choices: "Mapping[Path, Side]") -> None:
        self.choices = choices
        self.redraw()

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return settling_head(len(self._conflicts), len(self.choices), self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        conflict, line = self._conflicts[number], Line(self.look, width, chosen)
        settled = self.choices.get(conflict.path)
        return [
            *conflict_rows(conflict, self._sides, settled, line),
            Page(self.look, width).blank(),
        ]

    def nothing(self, width: int) -> Sequence[Row]:
        return [*Page(self.look, width).text("Nothing is in conflict.")]

    def moved(self) -> None:
        number = self.chosen_number
        if number is not None:
            self.post_message(self.Looked(self._conflicts[number].path))

    def action_settle(self, side: "Side") -> None:
        """Settle the chosen conflict, and go to the next one."""
        number = self.chosen_number
        if number is not None:
            self.post_message(self.Settled(self._conflicts[number].path, side))
            self.step(1)

    def action_finish_settling(self, save: int) -> None:
        self.post_message(self.Finished(bool(save)))
