"""The painter's schedule and the colours in proportion, and writing it for a reader."""

from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path

from housemap.errors import HousemapError
from housemap.file.paths import typed_path
from housemap.model.house import EDITIONS, Edition
from housemap.schedule.clipboard import NOT_COPIED, room_line, shopping_list
from housemap.schedule.document import Schedule
from housemap.schedule.existing import Before
from housemap.tui.background import work_beside
from housemap.tui.house_screen import HouseScreen, Task
from housemap.tui.program_screen import PageScreen
from housemap.tui.questions import Choice
from housemap.tui.render.bars import SCREEN_IS_NOT_PAINT
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades
from housemap.tui.tasks.schedule_drawing import BoardView, ScheduleView, board_rows, schedule_rows
from housemap.workbench.papers import Papers
from housemap.workbench.session import Session

MAKING, WRITING, SAVES = "making", "writing", "saves"
NOT_YET = "The schedule is still being made. Try again in a moment."

READERS: Mapping[Edition, str] = {
    "full": "full, all in one", "painter": "painter", "client": "client", "supplier": "supplier",
}  # fmt: skip
VIEWS = ("paint schedule", "paints by area", "paints by view")
"""What the screen shows, one after the other."""


class ScheduleScreen(PageScreen):
    CONTEXT = "schedule"
    BAR = ("save", "edit", "next", "view", "back")
    HINT = SCREEN_IS_NOT_PAINT
    session: Session

    def __init__(self, papers: Papers, view: int = 0) -> None:
        super().__init__("", self._draw)
        self._papers, self.session, self._view = papers, papers.session, view
        self._starts: Sequence[int] = ()

    def on_mount(self) -> None:
        self.session_changed()

    # What it shows

    def session_changed(self) -> None:
        """Ask for the schedule of a report that is new, and draw in the light that is shown."""
        if self._papers.next_report():
            self._make()
        self._show()

    def _show(self) -> None:
        self.draw_head()
        self.rows.redraw()

    def draw_head(self) -> None:
        schedule = self._papers.schedule
        right = f"draft of {schedule.date:%-d %B %Y}" if schedule else ""
        light = {"reference": "reference light", "day": "by day", "evening": "in the evening"}
        notes = [light[self.session.selection.light]]
        self.show_head(f"{self.session.house.name or 'House'}: {VIEWS[self._view]}", notes, right)

    def _draw(self, page: Page) -> Sequence[Row]:
        schedule = self._papers.schedule
        if schedule is None:
            return [page.blank(), page.line("Measuring, and looking round in every room.")]
        shades = Shades(self.session.selection.light, schedule.house, schedule.report)
        if self._view:
            board = BoardView(schedule, shades, VIEWS[self._view] == "paints by view", page.look)
            return board_rows(board, page.width, self.rows.size.height)
        made = schedule_rows(ScheduleView(schedule, shades, page.look), page.width)
        self._starts = made.starts
        return made.rows

    def action_view(self) -> None:
        self._view = (self._view + 1) % len(VIEWS)
        self._show()
        self.rows.go_to_end(-1)

    def action_next(self, by: int) -> None:
        """Show the next part from its beginning (above 0), or the one before."""
        top = self.rows.top
        after = [start for start in self._starts if start > top]
        before = [start for start in self._starts if start < top]
        for start in after[:1] if by > 0 else before[-1:]:
            self.rows.scroll_rows(start - top)

    # Making it

    def _make(self) -> None:
        papers = self._papers
        papers.asked = report = papers.session.base
        before = papers.before
        if report is not None:
            make = partial(papers.make, report, before)
            work_beside(self, MAKING, make, self._take_schedule, self._could_not_make)

    def _take_schedule(self, schedule: Schedule) -> None:
        self._papers.take(schedule)
        self._show()

    def _could_not_make(self, fault: str) -> None:
        """A house before whose colours mean nothing is not taken."""
        if self._papers.before is not None:
            self._take(None)
        self.say(fault)

    # Asking what is on the walls now, so that coats follow the step from old to new colours

    def action_edit(self) -> None:
        work_beside(self, SAVES, self._papers.earlier_saves, self._ask_before)

    def _ask_before(self, saves: Mapping[str, Before]) -> None:
        choices = [
            Choice(str(number), name, partial(self._take, saves[name]))
            for number, name in enumerate(saves, 1)
        ]
        choices.append(Choice("f", "file", self._ask_file))
        if self._papers.before is not None:
            choices.append(Choice("n", "not known", lambda: self._take(None)))
        known = "an earlier save, or in a house file" if saves else "a house file"
        text = f"What is on the walls now? As in {known}: it sets the number of coats."
        self.ask(text, choices, "stay")

    def _ask_file(self) -> None:
        text = "Which house file shows what is on the walls now? Its name, or its path."
        self.ask_line(text, "", lambda line: self._take_file(typed_path(line)))

    def _take_file(self, path: Path) -> None:
        try:
            self._take(self._papers.before_in(path))
        except HousemapError as error:
            self.say(str(error).splitlines()[0])

    def _take(self, before: Before | None) -> None:
        self._papers.before = before
        if self._papers.asked is not None:
            self._make()
        told = f"those of {before.source}" if before else "not known"
        self.say(f"The colours before are {told}.")

    # Giving it away

    def action_copy(self) -> None:
        """Give the terminal the shopping list to paste elsewhere."""
        if self._papers.schedule is None:
            self.say(NOT_YET)
            return
        self.app.copy_to_clipboard(shopping_list(self._papers.schedule))
        self.say(f"Copied the shopping list. {NOT_COPIED}")

    def action_save(self) -> None:
        if self._papers.schedule is None:
            self.say(NOT_YET)
            return
        choices = [
            Choice(edition[0], READERS[edition], partial(self._ask_where, edition))
            for edition in EDITIONS
        ]
        self.ask("Who reads it? Each gets the pages that they need.", choices, "back")

    def _ask_where(self, edition: Edition) -> None:
        text = "Write it to which file? The name ends in .html, .pdf, .md or .csv"
        name = str(self._papers.file_for(edition))
        self.ask_line(text, name, lambda line: self._write_new(line, edition))

    def _write_new(self, line: str, edition: Edition) -> None:
        """Write it; ask before a file is replaced that may be anything."""
        path = typed_path(line)
        try:
            there = self._papers.in_the_way(path, edition)
        except HousemapError as error:
            self.say(str(error))
            return
        if there is None:
            self._write(path, edition)
            return
        name = there.name
        text = f"There is a file {name} already (writing over it keeps it as {name}~)."
        over = Choice("o", "write over it", lambda: self._write(path, edition))
        self.ask(text, [over], "leave it")

    def _write(self, path: Path, edition: Edition) -> None:
        self.say(f"Writing {path.name}")
        work_beside(self, WRITING, lambda: self._papers.write(path, edition), self._say_written)

    def _say_written(self, paths: Sequence[Path]) -> None:
        first, *others = paths
        more = f" and {len(others)} more beside it" if others else ""
        self.say(f"Written to {first.absolute()}{more}")


class ScheduleTask(Task):
    """Opens the painter's schedule, and all paints in their proportions."""

    def __init__(self, desk: HouseScreen) -> None:
        super().__init__(desk)
        self._papers = Papers(self.session)

    def open(self, view: int = 0) -> None:
        """Have the house reported on too, be the map covered before it was ever shown."""
        self.desk.request_report()
        self.desk.push(ScheduleScreen(self._papers, view), lambda _: self.desk.follow())

    def copy_room(self) -> None:
        """Give the terminal the paints of the selected room to paste elsewhere."""
        house, room = self.session.house, self.session.selection.room
        if room in house.rooms:
            self.desk.app.copy_to_clipboard(room_line(house, str(room)))
            self.say(f"Copied the paints of {house.rooms[str(room)].name}. {NOT_COPIED}")
