"""What the pages drawn from the schedule share; and the one of all paints in proportion."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from housemap.tui.background import WorkFailed, work_beside
from housemap.tui.commands import BOARD
from housemap.tui.describe import SCREEN_IS_NOT_PAINT
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades, shades_under
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.scroller import Rows
from housemap.tui.tasks.schedule_drawing import BoardView, board_rows
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.schedule.document import Schedule
    from housemap.schedule.existing import Before

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
            self.ask(report)
        self._draw()

    @property
    def before(self) -> "Before | None":
        """How the house is painted now, where that is known."""
        return None

    def ask(self, report: "Report") -> None:
        """Have the schedule of a report made."""
        self._asked = report
        before = self.before
        work_beside(self, GROUP, lambda: _schedule(report, before))

    def on_work_failed(self, message: WorkFailed) -> None:
        message.stop()
        self.say(message.fault)

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


def _schedule(report: "Report", before: "Before | None") -> Iterator[Message]:
    """In a thread."""
    from housemap.schedule.document import schedule_of  # noqa: PLC0415 - in the thread
    from housemap.schedule.publishing import today  # noqa: PLC0415 - in the thread

    yield ScheduleMade(report, schedule_of(report, today(), before))


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
