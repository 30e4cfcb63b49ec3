"""The schedule as a page of the program, and writing it to a file."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType

from housemap.errors import HousemapError
from housemap.file.paths import typed_path
from housemap.tui.commands import SCHEDULE
from housemap.tui.keys import bindings_of
from housemap.tui.questions import Choice, Prompt, Question
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.screens.painted_before import BeforeScreen
from housemap.tui.screens.paper import BoardScreen, PaperRows
from housemap.tui.tasks.schedule_drawing import ScheduleView, schedule_rows
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.schedule.document import Schedule


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


class ScheduleScreen(BeforeScreen):
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
                self._write_new(schedule, typed_path(answer))

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
        from housemap.schedule.publishing import write_schedule  # noqa: PLC0415 - it has been made

        try:
            write_schedule(schedule, path)
        except HousemapError as error:
            self.say(str(error))
        else:
            self.say(f"Written to {path.absolute()}")
