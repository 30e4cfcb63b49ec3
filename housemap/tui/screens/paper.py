"""Pages that are drawn from the schedule: the schedule itself, and all paints in proportion."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from housemap.errors import HousemapError
from housemap.session import Session
from housemap.tui.keys import bindings_of
from housemap.tui.paper_commands import BOARD, SCHEDULE
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.board import BoardView, board_rows
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.schedule import ScheduleView, schedule_rows
from housemap.tui.render.shades import Shades, shades_under
from housemap.tui.screens.asking import Choice, Prompt, Question
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.telling import SCREEN_IS_NOT_PAINT
from housemap.tui.widgets.bar import Bar, Foot
from housemap.tui.widgets.rows import Rows
from housemap.tui.working import work_beside

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.schedule.document import Schedule

GROUP = "schedule"


@dataclass
class ScheduleMade(Message):
    """The schedule of a report."""

    report: "Report"
    schedule: "Schedule"


class PaperRows(Rows, can_focus=True):
    """The rows of a page; a subclass draws them once there is a schedule."""

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__(look, id="page")
        self.session = session
        self.schedule: Schedule | None = None

    def draw(self, width: int) -> Sequence[Row]:
        if self.schedule is None:
            page = Page(self.look, width)
            return [page.blank(), page.line("measuring, and looking round in every room")]
        return self.draw_schedule(self.schedule, width)

    def draw_schedule(self, schedule: "Schedule", width: int) -> Sequence[Row]:
        raise NotImplementedError

    def shades(self, schedule: "Schedule") -> Shades:
        return shades_under(self.session.selection.light, schedule.house, schedule.report)


class PaperScreen(ProgramScreen):
    """Has the schedule of the decided house made beside the screen whenever it changes."""

    TITLE_WORDS: ClassVar[str] = ""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._asked: Report | None = None

    @property
    def session(self) -> Session:
        return self._session

    @property
    def rows(self) -> PaperRows:
        return self.query_one(PaperRows)

    def new_rows(self) -> PaperRows:
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield self.new_rows()
        yield Foot()

    def on_mount(self) -> None:
        self.rows.focus()
        self.say(SCREEN_IS_NOT_PAINT)
        self.session_changed()
        self.draw_keys()

    def session_changed(self) -> None:
        """Ask for the schedule of a report that is new, and draw in the light that is shown."""
        session = self._session
        report = session.base if session.base_is_current else None
        if report is not None and report.deep is not None and report is not self._asked:
            self._asked = report
            work_beside(self, GROUP, lambda: _schedule(report))
        self._draw()

    def on_schedule_made(self, message: ScheduleMade) -> None:
        message.stop()
        if message.report is self._asked:
            self.rows.schedule = message.schedule
            self._draw()

    def _draw(self) -> None:
        look, schedule = self.look, self.rows.schedule
        name = f"{self._session.house.name or 'House'}: {self.TITLE_WORDS}"
        right = f"revision {schedule.revision}" if schedule else ""
        light = {"reference": "reference light", "day": "by day", "evening": "in the evening"}
        notes = [light[self._session.selection.light]]
        self.query_one("#head", Bar).show(lambda width: head_line(name, notes, right, width, look))
        self.rows.redraw()

    def say(self, text: str) -> None:
        look, words = self.look, self.program.depth.words
        loud = text != SCREEN_IS_NOT_PAINT
        self.query_one(Foot).show_status(
            lambda width: status_line(text, words, width, look, loud=loud)
        )

    def look_changed(self) -> None:
        self.rows.look = self.look
        self._draw()
        super().look_changed()

    def action_page(self, pages: int) -> None:
        self.rows.scroll_pages(pages)

    def action_line(self, lines: int) -> None:
        self.rows.scroll_rows(lines)

    def action_back(self) -> None:
        self.dismiss()


def _schedule(report: "Report") -> Iterator[Message]:
    """In a thread."""
    from housemap.schedule.document import schedule_of  # noqa: PLC0415 - in the thread
    from housemap.schedule.writing import today  # noqa: PLC0415 - in the thread

    yield ScheduleMade(report, schedule_of(report, today()))


# The schedule


class SchedulePage(PaperRows):
    """Room by room, to buy, where colours meet, samples, what is open."""

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__(session, look)
        self._starts: Sequence[int] = ()

    def draw_schedule(self, schedule: "Schedule", width: int) -> Sequence[Row]:
        made = schedule_rows(ScheduleView(schedule, self.shades(schedule), self.look), width)
        self._starts = made.starts
        return made.rows

    def go(self, by: int) -> None:
        """Show the next part from its beginning (above 0), or the one before."""
        after = [start for start in self._starts if start > self.top]
        before = [start for start in self._starts if start < self.top]
        wanted = after[:1] if by > 0 else before[-1:]
        for start in wanted:
            self.scroll_rows(start - self.top)


class ScheduleScreen(PaperScreen):
    """The schedule, and writing it."""

    CONTEXT: ClassVar[str] = SCHEDULE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SCHEDULE)]
    TITLE_WORDS: ClassVar[str] = "paint schedule"

    def new_rows(self) -> SchedulePage:
        return SchedulePage(self._session, self.look)

    def action_part(self, by: int) -> None:
        self.query_one(SchedulePage).go(by)

    def action_schedule_board(self) -> None:
        self.app.push_screen(BoardScreen(self._session))

    def action_schedule_write(self) -> None:
        schedule = self.rows.schedule
        if schedule is None:
            self.say("The schedule is still being made.")
            return
        text = "Write the schedule to which file? It ends in .html, .md or .csv"

        def named(answer: str | None) -> None:
            if answer:
                self._write_new(schedule, Path(answer).expanduser())

        self.app.push_screen(Prompt(text, str(self._beside()), self.look), named)

    def _beside(self) -> Path:
        """A name beside the house file."""
        from housemap.tui.screens.filing import file_stem  # noqa: PLC0415 - they open this one

        file = self._session.file
        if file is None:
            return Path(f"{file_stem(self._session.house.name)}-schedule.html")
        return file.path.with_name(f"{file.path.stem}-schedule.html")

    def _write_new(self, schedule: "Schedule", path: Path) -> None:
        """Write it; ask before a file is replaced that may be anything."""
        if not path.exists():
            self._write(schedule, path)
            return
        text = f"There is a file {path.name} already (writing over it keeps it as {path.name}~)."
        choices = (Choice("o", "write over it", "over"),)

        def answered(answer: str | None) -> None:
            if answer:
                self._write(schedule, path)

        self.app.push_screen(Question(text, choices, "leave it", self.look), answered)

    def _write(self, schedule: "Schedule", path: Path) -> None:
        from housemap.schedule.writing import write_schedule  # noqa: PLC0415 - it has been made

        try:
            write_schedule(schedule, path)
        except HousemapError as error:
            self.say(str(error))
        else:
            self.say(f"Written to {path.absolute()}")


# All paints


class BoardPage(PaperRows):
    """All paints in their proportions, over the whole height."""

    by_view = False

    def draw_schedule(self, schedule: "Schedule", width: int) -> Sequence[Row]:
        view = BoardView(schedule, self.shades(schedule), self.by_view, self.look)
        return board_rows(view, width, self.size.height)


class BoardScreen(PaperScreen):
    """The paints by area or by view."""

    CONTEXT: ClassVar[str] = BOARD
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(BOARD)]
    TITLE_WORDS: ClassVar[str] = "all paints"

    def new_rows(self) -> BoardPage:
        return BoardPage(self._session, self.look)

    def action_board_by(self) -> None:
        page = self.query_one(BoardPage)
        page.by_view = not page.by_view
        page.redraw()
