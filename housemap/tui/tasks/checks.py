"""What a check looks for and why, its limits, and its two examples as small maps."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from housemap.checks import CHECKS as ALL_CHECKS
from housemap.checks import Check, Finding, Limit, Report, report_of
from housemap.checks.words import unit_words
from housemap.model.house import House
from housemap.tui.background import work_beside
from housemap.tui.commands import CHECKS
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.map.drawing import small_map
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.render.bars import head_line
from housemap.tui.render.cells import Row, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line, Page
from housemap.tui.render.shades import Block, Mark, blocks_of, shades_under
from housemap.tui.scroller import Bar, Foot, Rows
from housemap.tui.tasks.findings_drawing import mark_of
from housemap.workbench.session import Session

PICTURE = 44, 9
"""Columns and rows of an example."""


@dataclass(frozen=True, slots=True)
class CheckView:
    """Everything that is told of a check."""

    check: Check
    house: House | None
    """The open house, whose own limits hold."""
    examples: tuple[Report, Report] | None
    """Of the house that passes and of the one that is caught; None while they are made."""
    look: Look


def check_rows(view: CheckView, width: int) -> list[Row]:
    page, check = Page(view.look, width), view.check
    return [
        *page.title(check.title),
        page.line(f"{check.id}, in a house file", quiet=True),
        *page.text(check.help),
        *_limits(view, page),
        *_example(view, page, 0, f"Passes: {check.clean.words}"),
        *_example(view, page, 1, f"Fails: {check.caught.words}"),
    ]


def _limits(view: CheckView, page: Page) -> Iterator[Row]:
    check = view.check
    if not check.limits:
        return
    yield from page.heading("Limits")
    held = check.limits_in(view.house) if view.house else check.defaults
    for source, limits in groupby(check.limits, lambda limit: limit.source):
        words = (_limit_text(limit, held[limit.kind]) for limit in limits)
        yield from page.text(", ".join(words))
        yield from page.text(source, quiet=True, indent=2)


def _limit_text(limit: Limit, held: float) -> str:
    here = f" ({held:g} in this house)" if held != limit.default else ""
    return f"{limit.kind} {limit.default:g} {unit_words(limit.unit)}{here}"


def _example(view: CheckView, page: Page, number: int, words: str) -> Iterator[Row]:
    yield page.blank()
    yield from page.text(words, quiet=True)
    if view.examples is None:
        yield page.line("drawing the example", quiet=True)
        return
    report = view.examples[number]
    every = (*report.findings, *report.to_do)
    found = [finding for finding in every if finding.check == view.check.id]
    size = min(PICTURE[0], page.inner), PICTURE[1]
    blocks = _blocks(report, found)
    for row in small_map(report.house, report.study.plan, blocks, view.look, size):
        yield page.run(" "), *row
    for finding in found:
        yield from _sentence(view, finding, report.house, page)


def _blocks(report: Report, found: Sequence[Finding]) -> dict[str, Block]:
    """The rooms of an example, marked with what this check found and nothing else."""
    rooms = [(room, finding.severity) for finding in found for room in finding.rooms]
    counts = Counter(room for room, _ in rooms)
    marks = {room: Mark(severity, counts[room]) for room, severity in rooms}
    blocks = blocks_of(shades_under("reference", report.house, report))
    return {room: block._replace(mark=marks.get(room)) for room, block in blocks.items()}


def _sentence(view: CheckView, finding: Finding, house: House, page: Page) -> Iterator[Row]:
    lead = f" {mark_of(finding.severity, view.look)} "
    for line in wrap(view.check.tell(finding, house), page.inner - 3):
        yield page.run(lead, strong=True), page.run(line)
        lead = "    "


# About the checks: the list of them, and the chosen one in full with its two examples.

TITLE = "About the checks"


class CheckList(ListPanel):
    """The titles of all checks, in the order in which findings are told."""

    CONTEXT: ClassVar[str] = CHECKS
    BAR: ClassVar[tuple[str, ...]] = ("page-down", "back")
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

    def action_back(self) -> None:
        self.post_message(self.Left())


class CheckPage(Rows):
    """The chosen check in full."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self.view: CheckView | None = None

    def draw(self, width: int) -> Sequence[Row]:
        return check_rows(self.view, width) if self.view else ()


class ChecksScreen(ProgramScreen):
    """A list and a page beside each other."""

    HINT: ClassVar[str] = "No source named: common practice, or an assumption of ours."

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._examples: dict[str, tuple[Report, Report]] = {}

    @property
    def session(self) -> Session:
        return self._session

    def compose(self) -> ComposeResult:
        look = self.look
        yield Bar(lambda width: head_line(TITLE, (), (), width, look), id="head")
        yield CheckList(self._session, look)
        yield CheckPage(look)
        yield Foot()

    def on_mount(self) -> None:
        self.query_one(CheckList).focus()
        self.draw_status()
        self.draw_keys()

    def on_check_list_looked(self, message: CheckList.Looked) -> None:
        self._show(message.check, top=True)
        check = message.check
        if check.id in self._examples:
            return

        def show(reports: tuple[Report, Report]) -> None:
            self._examples[check.id] = reports
            view = self.query_one(CheckPage).view
            if view is not None and view.check is check:
                self._show(check, top=False)

        houses = check.clean.house, check.caught.house
        work_beside(self, "examples", lambda: (report_of(houses[0]), report_of(houses[1])), show)

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
