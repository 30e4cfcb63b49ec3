"""The paint schedule and all paints in proportion as screens; writing it for a reader."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from housemap.errors import HousemapError
from housemap.file.paths import typed_path
from housemap.model.house import EDITIONS
from housemap.tui.background import WorkFailed, work_beside
from housemap.tui.commands import BOARD, SCHEDULE
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.program_screen import ReadingScreen
from housemap.tui.questions import Choice, Prompt, Question
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades, shades_under
from housemap.tui.scroller import Rows
from housemap.tui.task import Task
from housemap.tui.tasks.files import file_stem
from housemap.tui.tasks.schedule_drawing import BoardView, ScheduleView, board_rows, schedule_rows
from housemap.workbench.folders import state_folder
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.model.house import Edition, House
    from housemap.schedule.document import Schedule
    from housemap.schedule.existing import Before


GROUP, WRITING = "schedule", "writing"

READERS: Mapping["Edition", str] = {
    "full": "full, all in one", "painter": "painter", "client": "client", "supplier": "supplier",
}  # fmt: skip


@dataclass
class Written(Message):
    """The files that the schedule was written to."""

    paths: tuple[Path, ...]


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


class PaperScreen(ReadingScreen):
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
        self.draw_status()
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
        schedule = self.rows.schedule
        name = f"{self._session.house.name or 'House'}: {self.TITLE_WORDS}"
        right = f"revision {schedule.revision}" if schedule else ""
        light = {"reference": "reference light", "day": "by day", "evening": "in the evening"}
        notes = [light[self._session.selection.light]]
        self.show_head(name, notes, right)
        self.rows.redraw()

    def look_changed(self) -> None:
        self.rows.look = self.look
        self._draw()
        super().look_changed()


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
    BAR: ClassVar[tuple[str, ...]] = ("view", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(BOARD)]
    TITLE_WORDS: ClassVar[str] = "all paints"

    def new_rows(self) -> BoardPage:
        return BoardPage(self._session, self.look)

    def action_view(self) -> None:
        page = self.query_one(BoardPage)
        page.by_view = not page.by_view
        page.redraw()


# Asking how the house is painted now, so that coats follow the step from old to new colours.

SAVES = "saves"
FILE, UNKNOWN = "file", "unknown"


@dataclass
class SavesRead(Message):
    """The earlier saves that can be taken, by their names."""

    saves: "Mapping[str, Before]"


def _saves(path: Path | None, house: "House") -> Iterator[Message]:
    """In a thread."""
    from housemap.schedule.existing import names_of, saves_before  # noqa: PLC0415 - in the thread

    saves = saves_before(state_folder(), path, house) if path else ()
    each = (save.before for save in saves)
    yield SavesRead(dict(zip(names_of(saves), each, strict=True)))


# The schedule as a page of the program, and writing it to a file.


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
    """The schedule over the colours before, and writing it."""

    CONTEXT: ClassVar[str] = SCHEDULE
    BAR: ClassVar[tuple[str, ...]] = ("save", "edit", "next", "view", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SCHEDULE)]
    TITLE_WORDS: ClassVar[str] = "paint schedule"

    def __init__(
        self, session: Session, before: "Before | None", took: "Callable[[Before | None], None]"
    ) -> None:
        super().__init__(session)
        self._before, self._took = before, took

    @property
    def before(self) -> "Before | None":
        return self._before

    def action_edit(self) -> None:
        """Read the earlier saves, and ask."""
        file, house = self._session.file, self._session.house
        path = file.path if file else None
        work_beside(self, SAVES, lambda: _saves(path, house))

    def on_saves_read(self, message: SavesRead) -> None:
        message.stop()
        saves = message.saves
        choices = [Choice(str(number), name, name) for number, name in enumerate(saves, 1)]
        choices.append(Choice("f", "file", FILE))
        if self._before is not None:
            choices.append(Choice("n", "not known", UNKNOWN))

        def answered(answer: str | None) -> None:
            if answer == FILE:
                self._ask_file()
            elif answer:
                self._take(saves.get(answer))

        known = "an earlier save, or in a house file" if saves else "a house file"
        text = f"What is on the walls now? As in {known}: it sets the number of coats."
        self.app.push_screen(Question(text, choices, "stay", self.look), answered)

    def _ask_file(self) -> None:
        file = self._session.file
        folder = file.path.parent if file else Path()

        def named(answer: str | None) -> None:
            if answer:
                self._take_file(folder / typed_path(answer))

        beside = f" (beside {file.path.name}, or its path)" if file else ""
        text = f"Which house file shows what is on the walls now{beside}?"
        self.app.push_screen(Prompt(text, "", self.look), named)

    def _take_file(self, path: Path) -> None:
        from housemap.file import read_house  # noqa: PLC0415 - when first needed
        from housemap.schedule.existing import Before  # noqa: PLC0415 - it has been made

        try:
            house = read_house(path)
        except HousemapError as error:
            self.say(str(error).splitlines()[0])
        else:
            self._take(Before(house, path.name))

    def _take(self, before: "Before | None") -> None:
        self._before = before
        self._took(before)
        if self._asked is not None:
            self.ask(self._asked)
        told = f"those of {before.told}" if before else "not known"
        self.say(f"The colours before are {told}.")

    def on_work_failed(self, message: WorkFailed) -> None:
        """A house before whose colours mean nothing is not taken."""
        if message.group == GROUP and self._before is not None:
            self._take(None)
        super().on_work_failed(message)

    def new_rows(self) -> SchedulePage:
        return SchedulePage(self._session, self.look)

    def action_next(self, by: int) -> None:
        self.query_one(SchedulePage).go(by)

    def action_view(self) -> None:
        self.app.push_screen(BoardScreen(self._session))

    def action_copy(self) -> None:
        """Give the terminal the shopping list to paste elsewhere."""
        from housemap.schedule.clipboard import NOT_COPIED, shopping_list  # noqa: PLC0415 - as made

        if self.rows.schedule is None:
            self.say("The schedule is still being made. Try again in a moment.")
            return
        self.app.copy_to_clipboard(shopping_list(self.rows.schedule))
        self.say(f"Copied the shopping list. {NOT_COPIED}")

    def action_save(self) -> None:
        """Ask who reads it, then for the file."""
        schedule = self.rows.schedule
        if schedule is None:
            self.say("The schedule is still being made. Try again in a moment.")
            return

        def answered(answer: str | None) -> None:
            for edition in EDITIONS:
                if edition == answer:
                    self._ask_where(schedule, edition)

        choices = [Choice(edition[0], READERS[edition], edition) for edition in EDITIONS]
        text = "Who reads it? Each gets the pages that they need."
        self.app.push_screen(Question(text, choices, "back", self.look), answered)

    def _ask_where(self, schedule: "Schedule", edition: "Edition") -> None:
        text = "Write it to which file? The name ends in .html, .pdf, .md or .csv"

        def named(answer: str | None) -> None:
            if answer:
                self._write_new(schedule, typed_path(answer), edition)

        self.app.push_screen(Prompt(text, str(self._beside(edition)), self.look), named)

    def _beside(self, edition: "Edition") -> Path:
        """A name beside the house file."""
        ending = "schedule.html" if edition == "full" else f"{edition}.html"
        file = self._session.file
        if file is None:
            return Path(f"{file_stem(self._session.house.name)}-{ending}")
        return file.path.with_name(f"{file.path.stem}-{ending}")

    def _write_new(self, schedule: "Schedule", path: Path, edition: "Edition") -> None:
        """Write it; ask before a file is replaced that may be anything."""
        from housemap.schedule.publishing import files_of  # noqa: PLC0415 - it has been made

        try:
            there = [each for each in files_of(path, edition) if each.exists()]
        except HousemapError as error:
            self.say(str(error))
            return
        if not there:
            self._write(schedule, path, edition)
            return
        name = there[0].name
        text = f"There is a file {name} already (writing over it keeps it as {name}~)."
        choices = (Choice("o", "write over it", "over"),)

        def answered(answer: str | None) -> None:
            if answer:
                self._write(schedule, path, edition)

        self.app.push_screen(Question(text, choices, "leave it", self.look), answered)

    def _write(self, schedule: "Schedule", path: Path, edition: "Edition") -> None:
        """Beside the keys: pictures and a PDF take seconds."""
        self.say(f"Writing {path.name}")
        work_beside(self, WRITING, lambda: _written(schedule, path, edition))

    def on_written(self, message: Written) -> None:
        message.stop()
        first, *others = message.paths
        more = f" and {len(others)} more beside it" if others else ""
        self.say(f"Written to {first.absolute()}{more}")


def _written(schedule: "Schedule", path: Path, edition: "Edition") -> Iterator[Message]:
    """In a thread."""
    from housemap.schedule.publishing import write_schedule  # noqa: PLC0415 - it has been made

    yield Written(write_schedule(schedule, path, edition))


class ScheduleTask(Task):
    """Opens the paint schedule, and all paints in their proportions."""

    NAME: ClassVar[str] = "schedule"
    _before: "Before | None" = None
    """How the house is painted now, once that was said on the schedule."""

    def open(self) -> None:
        def took(before: "Before | None") -> None:
            self._before = before

        self._show(ScheduleScreen(self.session, self._before, took))

    def open_board(self) -> None:
        self._show(BoardScreen(self.session))

    def _show(self, screen: PaperScreen) -> None:
        """Have the house reported on, be the map covered before it was ever shown."""
        self.desk.request_report()
        self.desk.push(screen, lambda _: self.desk.follow())
