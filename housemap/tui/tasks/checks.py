"""What a check looks for and why, its limits, and its two examples as small maps."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from textual.app import ComposeResult

from housemap.checks import CHECKS, Check, Report, report_of
from housemap.checks.words import unit_words
from housemap.model.house import House
from housemap.tui.background import work_beside
from housemap.tui.map.drawing import small_map
from housemap.tui.panels import ListPanel
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Mark, Shades, blocks_of
from housemap.tui.scroller import DrawnRows
from housemap.tui.tasks.findings_drawing import mark_of
from housemap.workbench.session import Session

PICTURE = 44, 9
"""Columns and rows of an example."""


Examples = tuple[Report, Report]
"""Of the house that passes and of the one that is caught."""


def check_rows(
    check: Check, house: House | None, examples: Examples | None, page: Page
) -> list[Row]:
    """With the limits of the open house; without examples while they are made."""
    return [
        *page.title(check.title),
        page.line(f"{check.id}, in a house file", quiet=True),
        *page.text(check.help),
        *_limits(check, house, page),
        *_example(check, examples[0] if examples else None, page, f"Passes: {check.clean.words}"),
        *_example(check, examples[1] if examples else None, page, f"Fails: {check.caught.words}"),
    ]


def _limits(check: Check, house: House | None, page: Page) -> Iterator[Row]:
    if not check.limits:
        return
    yield from page.heading("Limits")
    held = check.limits_in(house) if house else check.defaults
    for (source, unit), limits in groupby(check.limits, lambda limit: (limit.source, limit.unit)):
        words = []
        for limit in limits:
            own = held[limit.kind] != limit.default
            here = f" ({held[limit.kind]:g} in this house)" if own else ""
            words.append(f"{limit.kind} {limit.default:g}{here}")
        yield from page.text(f"{', '.join(words)} {unit_words(unit)}")
        yield from page.text(source, quiet=True, indent=2)


def _example(check: Check, report: Report | None, page: Page, words: str) -> Iterator[Row]:
    yield page.blank()
    yield from page.text(words, quiet=True)
    if report is None:
        yield page.line("drawing the example", quiet=True)
        return
    every = (*report.findings, *report.to_do)
    found = [finding for finding in every if finding.check == check.id]
    size = min(PICTURE[0], page.inner), PICTURE[1]
    # The rooms are marked with what this check found and nothing else.
    rooms = [(room, finding.severity) for finding in found for room in finding.rooms]
    counts = Counter(room for room, _ in rooms)
    marks = {room: Mark(severity, counts[room]) for room, severity in rooms}
    blocks = blocks_of(Shades("reference", report.house, report))
    marked = {room: block._replace(mark=marks.get(room)) for room, block in blocks.items()}
    for row in small_map(report.house, report.study.plan, marked, page.look, size):
        yield page.run(" "), *row
    for finding in found:
        mark = f" {mark_of(finding.severity, page.look)} "
        yield from page.hanging(mark, check.describe(finding, report.house))


# About the checks: the list of them, and the chosen one in full with its two examples.


class CheckList(ListPanel[Check]):
    owner: "ChecksScreen"
    CONTEXT = "checks"
    BAR = ("page-down", "back")
    ENTRY_ROWS = 1

    def on_mount(self) -> None:
        self.show_entries(CHECKS)
        self.moved()

    def entry(self, item: Check, page: Page) -> Sequence[Row]:
        return (page.row((page.mark(),), item.title, strong=page.chosen),)

    def moved(self) -> None:
        self.owner.look_at(self.items[self.chosen_number or 0])

    def action_page(self, by: int) -> None:
        self.owner.page.scroll_pages(by)


class ChecksScreen(ProgramScreen):
    TITLE = "About the checks"
    HINT = "No source named: common practice, or an assumption of ours."

    session: Session

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._check = CHECKS[0]
        self._examples: dict[str, Examples] = {}

    def body(self) -> ComposeResult:
        yield CheckList(self)
        yield DrawnRows(self._draw, self.look)

    def on_mount(self) -> None:
        self.query_one(CheckList).focus()

    @property
    def page(self) -> DrawnRows:
        return self.query_one(DrawnRows)

    def _draw(self, page: Page, _height: int) -> list[Row]:
        check = self._check
        return check_rows(check, self.session.house, self._examples.get(check.id), page)

    def look_at(self, check: Check) -> None:
        self._check = check
        self.page.redraw()
        self.page.go_to_end(-1)
        if check.id in self._examples:
            return

        def keep(examples: Examples) -> None:
            self._examples[check.id] = examples
            self.page.redraw()

        def made() -> Examples:
            return report_of(check.clean.house), report_of(check.caught.house)

        work_beside(self, "examples", made, keep)
