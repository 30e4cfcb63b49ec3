"""The list of what has a form: the kind at the left, its name, and what tells it from others."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import cell_len
from textual.binding import BindingType
from textual.message import Message

from housemap.tui.commands import PARTS
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Row, cut, fit, plain
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line, Page
from housemap.workbench.forms.targets import Part, Target, parts_of_house, parts_of_room
from housemap.workbench.session import Session

GROUP_COLUMNS = 10
LEAST_WORDS = 4
"""Columns below which words say nothing."""


def part_row(part: Part, line: Line) -> Row:
    """One line of the list."""
    lead = (line.mark(), line.run(f"{fit(part.group, GROUP_COLUMNS - 1)} ", quiet=True))
    room = line.width - GROUP_COLUMNS - 4 - cell_len(plain(part.title))
    words = cut(part.words, room, line.look.glyphs.more) if room >= LEAST_WORDS else ""
    return line.row(lead, part.title, words, quiet=part.is_new)


def parts_head(title: str, scope: str, look: Look, width: int) -> Sequence[Row]:
    line = Line(look, width)
    return [line.row((line.run(" "),), title, scope, strong=True), Page(look, width).blank()]


def nothing_rows(look: Look, width: int) -> Sequence[Row]:
    return [*Page(look, width).text("There is nothing here yet.", quiet=True)]


# The list of what has a form, of the selected room or of the whole house.


class PartsPanel(ListPanel):
    """Shows and reports; the screen opens forms and deletes."""

    CONTEXT: ClassVar[str] = PARTS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(PARTS)]
    ENTRY_ROWS: ClassVar[int] = 1

    @dataclass
    class Opened(Message):
        """A form is wanted."""

        part: Part
        whole: bool
        """Whether the list was of the whole house."""

    @dataclass
    class Doomed(Message):
        """Something is to be deleted."""

        target: Target

    @dataclass
    class Left(Message):
        """The list is to be closed."""

    def __init__(
        self, session: Session, look: Look, *, whole: bool = False, at: Target | None = None
    ) -> None:
        super().__init__(session, look)
        self.whole = whole
        """Whether the whole house is listed."""
        self._wanted = at
        self._parts: Sequence[Part] = ()

    def follow(self, session: Session) -> None:
        room = session.selection.room
        if self.whole or room not in session.house.rooms:
            self._parts = parts_of_house(session.house, session.selection.level)
        else:
            self._parts = parts_of_room(session.house, str(room))
        chosen = self._wanted or self.chosen
        self._wanted = None
        self.show_entries([part.target for part in self._parts], chosen)
        self.redraw()

    @property
    def part(self) -> Part | None:
        number = self.chosen_number
        return None if number is None else self._parts[number]

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        house, room = self.session.house, self.session.selection.room
        if self.whole or room not in house.rooms:
            return parts_head(house.name or "House", "whole house", self.look, width)
        return parts_head(house.rooms[str(room)].name, "this room", self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        return [part_row(self._parts[number], Line(self.look, width, chosen))]

    def nothing(self, width: int) -> Sequence[Row]:
        return nothing_rows(self.look, width)

    def picked(self) -> None:
        self.action_parts_open()

    # What the user does

    def action_parts_open(self) -> None:
        if self.part is not None:
            self.post_message(self.Opened(self.part, self.whole))

    def action_parts_leave(self) -> None:
        self.post_message(self.Left())

    def action_parts_scope(self) -> None:
        self.whole = not self.whole
        self.follow(self.session)

    def action_parts_add(self) -> None:
        """Open a form for another of the chosen kind, where there may be another."""
        kind = self.part.target.kind if self.part else ""
        new = next((p for p in self._parts if p.is_new and p.target.kind == kind), None)
        if new is not None:
            self.post_message(self.Opened(new, self.whole))

    def action_parts_delete(self) -> None:
        if self.part is not None and not self.part.is_new:
            self.post_message(self.Doomed(self.part.target))
