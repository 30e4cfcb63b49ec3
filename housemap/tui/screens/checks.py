"""About the checks: the list of them, and the chosen one in full with its two examples."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from housemap.checks import CHECKS as ALL_CHECKS
from housemap.checks import Check, report_of
from housemap.tui.background import work_beside
from housemap.tui.commands import CHECKS
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.cells import Row
from housemap.tui.render.check import CheckView, check_rows
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.scroller import Rows
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report

TITLE = "About the checks"


class CheckList(ListPanel):
    """The titles of all checks, in the order in which findings are told."""

    CONTEXT: ClassVar[str] = CHECKS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CHECKS)]
    ENTRY_ROWS = 1

    @dataclass
    class Looked(Message):
        """Another check is chosen."""

        check: Check

    @dataclass
    class Paged(Message):
        """More of the chosen check is to be read."""

        pages: int

    @dataclass
    class Left(Message):
        """Enough was read."""

    def on_mount(self) -> None:
        self.show_entries([check.id for check in ALL_CHECKS], self.chosen)
        self.moved()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del width, height
        return ()

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        line = Line(self.look, width, chosen)
        return (line.row((line.mark(),), ALL_CHECKS[number].title, strong=chosen),)

    def nothing(self, width: int) -> Sequence[Row]:
        del width
        return ()

    def moved(self) -> None:
        self.post_message(self.Looked(ALL_CHECKS[self.chosen_number or 0]))

    def action_page(self, pages: int) -> None:
        self.post_message(self.Paged(pages))

    def action_checks_leave(self) -> None:
        self.post_message(self.Left())


class CheckPage(Rows):
    """The chosen check in full."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self.view: CheckView | None = None

    def draw(self, width: int) -> Sequence[Row]:
        return check_rows(self.view, width) if self.view else ()


@dataclass
class ExamplesMade(Message):
    """The reports of a check's two examples are there."""

    check: Check
    reports: "tuple[Report, Report]"


class ChecksScreen(ProgramScreen):
    """A list and a page beside each other."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._examples: dict[str, tuple[Report, Report]] = {}

    @property
    def session(self) -> Session:
        return self._session

    def compose(self) -> ComposeResult:
        look = self.look
        yield Bar(lambda width: head_line(TITLE, (), "", width, look), id="head")
        yield CheckList(self._session, look)
        yield CheckPage(look)
        yield Foot()

    def on_mount(self) -> None:
        self.query_one(CheckList).focus()
        look, words = self.look, self.program.depth.words
        text = "No source named: common practice, or an assumption of ours."
        self.query_one(Foot).show_status(lambda width: status_line(text, words, width, look))
        self.draw_keys()

    def on_check_list_looked(self, message: CheckList.Looked) -> None:
        self._show(message.check, top=True)
        check = message.check
        if check.id in self._examples:
            return

        def steps() -> Iterator[Message]:
            reports = report_of(check.clean.house), report_of(check.caught.house)
            yield ExamplesMade(check, reports)

        work_beside(self, "examples", steps)

    def on_examples_made(self, message: ExamplesMade) -> None:
        message.stop()
        self._examples[message.check.id] = message.reports
        view = self.query_one(CheckPage).view
        if view is not None and view.check is message.check:
            self._show(message.check, top=False)

    def _show(self, check: Check, *, top: bool) -> None:
        page = self.query_one(CheckPage)
        examples = self._examples.get(check.id)
        page.view = CheckView(check, self._session.house, examples, self.look)
        page.redraw()
        if top:
            page.scroll_rows(-page.top)

    def on_check_list_paged(self, message: CheckList.Paged) -> None:
        self.query_one(CheckPage).scroll_pages(message.pages)

    def on_check_list_left(self) -> None:
        self.dismiss()

    def look_changed(self) -> None:
        super().look_changed()
        self.query_one(CheckList).show_look(self.look)
        page = self.query_one(CheckPage)
        page.look = self.look
        if page.view is not None:
            self._show(page.view.check, top=False)
