"""What a check looks for and why, its limits, and its two examples as small maps."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from housemap.model.house import House
from housemap.tui.map.drawing import small_map
from housemap.tui.render.cells import Row, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Block, Mark, blocks_of, shades_under
from housemap.tui.tasks.findings_drawing import mark_of

if TYPE_CHECKING:
    from housemap.checks import Check, Finding, Limit, Report

PICTURE = 44, 9
"""Columns and rows of an example."""


@dataclass(frozen=True, slots=True)
class CheckView:
    """Everything that is told of a check."""

    check: "Check"
    house: House | None
    """The open house, whose own limits hold."""
    examples: "tuple[Report, Report] | None"
    """Of the house that passes and of the one that is caught; None while they are made."""
    look: Look


def check_rows(view: CheckView, width: int) -> list[Row]:
    page, check = Page(view.look, width), view.check
    return [
        *page.title(check.title),
        page.line(f"{check.id}, in a house file", quiet=True),
        *page.text(check.help),
        *_limits(view, page),
        *_example(view, page, 0, f"Passes. {check.clean.words}"),
        *_example(view, page, 1, f"Is caught. {check.caught.words}"),
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


def _limit_text(limit: "Limit", held: float) -> str:
    here = f" ({held:g} in this house)" if held != limit.default else ""
    return f"{limit.kind} {limit.default:g} {limit.unit}{here}"


def _example(view: CheckView, page: Page, number: int, words: str) -> Iterator[Row]:
    yield page.blank()
    yield from page.text(words, quiet=True)
    if view.examples is None:
        yield page.line("drawing the example", quiet=True)
        return
    report = view.examples[number]
    found = [finding for finding in report.findings if finding.check == view.check.id]
    size = min(PICTURE[0], page.inner), PICTURE[1]
    blocks = _blocks(report, found)
    for row in small_map(report.house, report.study.plan, blocks, view.look, size):
        yield page.run(" "), *row
    for finding in found:
        yield from _sentence(view, finding, report.house, page)


def _blocks(report: "Report", found: "Sequence[Finding]") -> dict[str, Block]:
    """The rooms of an example, marked with what this check found and nothing else."""
    rooms = [(room, finding.severity) for finding in found for room in finding.rooms]
    counts = Counter(room for room, _ in rooms)
    marks = {room: Mark(severity, counts[room]) for room, severity in rooms}
    blocks = blocks_of(shades_under("reference", report.house, report))
    return {room: block._replace(mark=marks.get(room)) for room, block in blocks.items()}


def _sentence(view: CheckView, finding: "Finding", house: House, page: Page) -> Iterator[Row]:
    lead = f" {mark_of(finding.severity, view.look)} "
    for line in wrap(view.check.tell(finding, house), page.inner - 3):
        yield page.run(lead, strong=True), page.run(line)
        lead = "    "
