"""Alternatives side by side, each tried on the map: schemes, another room's paints, tints."""

import datetime as dt
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.checks import Report
from housemap.model.edits import make_scheme, remove
from housemap.tui.background import drop_work, work_beside
from housemap.tui.commands import ALTERNATIVES, SCHEMES
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Row, plain
from housemap.tui.render.page import Line, Page
from housemap.tui.render.shades import Coat
from housemap.tui.task import Task, TaskMessage
from housemap.tui.tasks.choose_drawing import strip_row, title_row
from housemap.workbench.choosing import Target
from housemap.workbench.reporting import lit_report
from housemap.workbench.schemes import Alternative, rooms_like, schemes_of, tints_on
from housemap.workbench.session import Session

WORK = "alternatives"
"""The group of its work."""


def alternative_rows(one: Alternative, line: Line) -> Sequence[Row]:
    """The name; its colours in proportion; what it is, and costs."""
    gap = line.run("  ")
    parts = [(Coat("known", swatch.colour.srgb_hex), share) for swatch, share in one.colours]
    strip = (gap, *strip_row(parts, line.width - 4, line.look), gap) if parts else (gap,)
    return (
        line.row((line.mark(),), plain(one.name), one.state, strong=True),
        strip,
        line.row((line.run(" "),), one.words, one.cost, quiet=True),
    )


def schemes_today(base: Report) -> Iterator[Alternative]:
    return schemes_of(base, dt.date.today())  # noqa: DTZ011 - local


class AlternativesPanel(ListPanel):
    """Moving shows an alternative on the map, enter takes it."""

    CONTEXT: ClassVar[str] = ALTERNATIVES
    BAR: ClassVar[tuple[str, ...]] = ("open", "light", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(ALTERNATIVES)]
    ENTRY_ROWS: ClassVar[int] = 3

    def __init__(self, schemes: "SchemesTask", title: str, words: str) -> None:
        super().__init__(schemes.session, schemes.look)
        self.schemes, self.title, self.words = schemes, title, words
        self.each: Sequence[Alternative] | None = None
        """None while they are being worked out."""

    def show_each(self, each: Sequence[Alternative]) -> None:
        self.each = each
        self.show_entries([one.key for one in each], self.chosen)
        self.redraw()
        self.moved()

    @property
    def one(self) -> Alternative | None:
        number = self.chosen_number
        return None if number is None or self.each is None else self.each[number]

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        page, state = Page(self.look, width), "comparing" if self.each is None else ""
        title = title_row(plain(self.title), state, Line(self.look, width))
        return [title, *page.text(self.words, quiet=True), page.blank()]

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        assert self.each is not None
        return alternative_rows(self.each[number], Line(self.look, width, chosen))

    def nothing(self, width: int) -> Sequence[Row]:
        words = "" if self.each is None else "There is nothing to take here."
        return [*Page(self.look, width).text(words)]

    def moved(self) -> None:
        self.schemes.show(self.one)

    def picked(self) -> None:
        self.schemes.take(self.one)

    def action_back(self) -> None:
        self.schemes.desk.close_panel()


class SchemesPanel(AlternativesPanel):
    """The house as it is, then its schemes."""

    CONTEXT: ClassVar[str] = SCHEMES
    BAR: ClassVar[tuple[str, ...]] = ("open", "new", "delete", "light", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SCHEMES)]

    def action_new(self) -> None:
        self.schemes.keep()

    def action_delete(self) -> None:
        if self.one is not None:
            self.schemes.delete(self.one)


@dataclass
class Compared(TaskMessage):
    """The alternatives of a panel are worked out."""

    panel: AlternativesPanel
    each: tuple[Alternative, ...]


class SchemesTask(Task):
    """Keeps schemes of the house, and takes one, or another alternative."""

    NAME: ClassVar[str] = "schemes"

    def open(self) -> None:
        words = "The map shows the chosen one. n keeps the house as it is now as a scheme."
        self._open(SchemesPanel(self, "Schemes", words))

    def open_same_as(self) -> None:
        """Choose the room whose paints the selected room is to have."""
        room = self.session.selection.room
        if room is not None:
            title = f"{self.session.house.rooms[room].name}, the same as"
            words = "Walls, ceiling, trim and doors, with their sheens."
            self._open(AlternativesPanel(self, title, words), partial(rooms_like, room=room))

    def open_tints(self) -> None:
        """Choose a tint of the paint on the selected surface."""
        room, house = self.session.selection.room, self.session.house
        target = Target(room, self.session.selection.surface) if room is not None else None
        paint = target.paint_in(house) if target else None
        if target is None or paint is None:
            self.say("No paint is here to mix. Select a painted surface (1 to 4).")
            return
        title = f"Tints of {house.paints[paint].name}"
        words = "Computed: have the tint mixed, and put a sample up."
        self._open(AlternativesPanel(self, title, words), partial(tints_on, target=target))

    def _open(
        self, panel: AlternativesPanel,
        work: Callable[[Report], Iterator[Alternative]] = schemes_today,
    ) -> None:  # fmt: skip
        self.desk.open_panel(panel)
        self._compare(panel, work)

    def _compare(
        self, panel: AlternativesPanel, work: Callable[[Report], Iterator[Alternative]]
    ) -> None:
        house, base = self.session.house, self.session.base

        def steps() -> Iterator[Message]:
            yield Compared(panel, tuple(work(lit_report(house, base))))

        work_beside(self.desk.screen, WORK, steps)

    def on_compared(self, message: Compared) -> None:
        if message.panel is self.desk.panel:
            message.panel.show_each(message.each)

    def show(self, one: Alternative | None) -> None:
        """Show the house painted so."""
        if one is None or one.edit is None:
            self.desk.try_out(None)
        elif one.report is not None:
            self.desk.try_out(one.report.house, one.report)
        else:
            self.desk.try_out(one.edit(self.session.house))

    def take(self, one: Alternative | None) -> None:
        if one is None or one.edit is None:
            self.say("That is the house as it is.")
            return
        self.desk.close_panel()
        if self.desk.apply(one.edit, one.label):
            self.say(f"{plain(one.label)}. u undoes.")

    # Schemes

    def keep(self) -> None:
        """Keep the house as it is now as a scheme."""
        name = f"Scheme {chr(ord('A') + len(self.session.house.schemes) % 26)}"

        def named(name: str) -> None:
            if self.desk.apply(partial(make_scheme, name=name), f"Keep {name}"):
                self._again()

        question = "Keep the house as it is now as a scheme called:"
        self.desk.ask_line(question, name, named, replaces=True)

    def delete(self, one: Alternative) -> None:
        if not one.key:
            self.say("The house as it is: n keeps it as a scheme.")
        elif self.desk.apply(
            partial(remove, table="schemes", key=one.key), f"Delete {plain(one.name)}"
        ):
            self._again()

    def _again(self) -> None:
        if isinstance(self.desk.panel, SchemesPanel):
            self._compare(self.desk.panel, schemes_today)

    def closing(self) -> None:
        if isinstance(self.desk.panel, AlternativesPanel):
            drop_work(self.desk.screen, WORK)
