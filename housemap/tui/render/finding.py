"""One finding in full: the sentence, the colours, what would clear it, the limit and the reason."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from housemap.tui.render.choosing import change_text, harmony_text, title_row
from housemap.tui.render.findings import mark_of
from housemap.tui.render.judged import Judged
from housemap.tui.render.listing import Line, names_below, side_by_side
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.text import wrap

if TYPE_CHECKING:
    from housemap.checks import Check, Finding, Limit, Matter, Report
    from housemap.choose.remedies import Remedy

IN_LIGHT = {"reference": "under the reference light", "day": "by day", "evening": "in the evening"}

NO_REMEDY = (
    "No single change of a paint, sheen, opening or lamp of this house clears it without raising"
    " something as grave, nor a paint of the deck that was open last. Still possible: open another"
    " deck with d, c another paint for a place of it, l another limit, or leave it knowingly."
)


@dataclass(frozen=True, slots=True)
class Search:
    """How far the search for remedies is."""

    remedies: tuple["Remedy", ...] = ()
    tried: int = 0
    count: int = 0
    done: bool = False


@dataclass(frozen=True, slots=True)
class FindingView:
    """Everything that is told of a matter."""

    report: "Report"
    """Of the decided house."""
    matter: "Matter"
    number: int
    """Its place in the list, from 1, of `count`."""
    count: int
    judged: Judged
    search: Search
    chosen: int | None
    """Which remedy is on show."""
    look: Look

    @property
    def finding(self) -> "Finding":
        return self.matter.first

    @property
    def check(self) -> "Check":
        from housemap.checks import check_of  # noqa: PLC0415 - a report is there, so is this

        return check_of(self.matter.check)


@dataclass(frozen=True, slots=True)
class Told:
    """The rows of a finding, and which of them each remedy takes."""

    rows: list[Row]
    remedies: list[range]


def told(view: FindingView, width: int) -> Told:
    page = Page(view.look, width)
    rows = [*_head(view, page), *_colours(view, page), *_heading_of_remedies(view, page)]
    places: list[range] = []
    for number, remedy in enumerate(view.search.remedies):
        start = len(rows)
        rows += _remedy_rows(view, remedy, Line(view.look, width, number == view.chosen))
        places.append(range(start, len(rows)))
    rows += [*_limits(view, page), *_numbers(view, page), *_reason(view, page)]
    return Told(rows, places)


def _head(view: FindingView, page: Page) -> Iterator[Row]:
    line = Line(view.look, page.width)
    title = f"{mark_of(view.finding.severity, view.look)} {view.check.title}"
    yield title_row(title, f"{view.number} of {view.count}", line)
    yield from page.text(view.check.tell(view.finding, view.report.house))


def _colours(view: FindingView, page: Page) -> Iterator[Row]:
    """Side by side and touching, in the light in which they were judged."""
    seen = view.judged
    if not seen.places:
        return
    if not page.narrow:
        yield page.blank()
    row = side_by_side(seen.coats, page.width, view.look)
    yield row
    yield row
    names = [_colour_name(view, place.paint, place.finish) for place in seen.places]
    yield names_below(names, page.width, view.look)
    room = view.report.house.rooms.get(seen.eye or "")
    light = IN_LIGHT[view.finding.light]
    where = f", seen from {room.name}" if room and view.finding.light != "reference" else ""
    yield from page.text(f"{light}{where}", quiet=True)


def _colour_name(view: FindingView, paint: str, finish: str) -> str:
    house = view.report.house
    entity = house.paints.get(paint) if paint else house.finishes.get(finish)
    return entity.name if entity else ""


# Remedies


def _heading_of_remedies(view: FindingView, page: Page) -> Iterator[Row]:
    search = view.search
    if search.done and not search.remedies:
        yield from page.heading("What would clear it")
        yield from page.text(NO_REMEDY)
        return
    how = ""
    if not search.done:
        tried = f"tried {search.tried} of {search.count} changes"
        how = f": {tried}" if search.count else ": once the light is known"
    yield from page.heading(f"What would clear it{how}")


def _remedy_rows(view: FindingView, remedy: "Remedy", line: Line) -> Iterator[Row]:
    """What changes, and what that does to the findings of the house."""
    before, after = len(view.report.findings), len(remedy.report.findings)
    change = change_text(before, after, view.look)
    lead: Sequence[str] = wrap(remedy.change.label, line.width - len(change) - 4)
    for number, text in enumerate(lead):
        first = number == 0
        mark = line.mark() if first else line.run(" ")
        yield line.row((mark,), text, change if first else "", strong=line.chosen)


# Limit, numbers, reason


def _limits(view: FindingView, page: Page) -> Iterator[Row]:
    limits = limits_of(view.finding, view.check)
    if not limits:
        return
    yield from page.heading("The limit")
    held = view.check.limits_in(view.report.house)
    for limit in limits:
        own = held[limit.kind] != limit.default
        default = f", set for this house (default {limit.default:g})" if own else ""
        yield from page.text(f"{limit.kind}: {held[limit.kind]:g} {limit.unit}{default}")
        yield from page.text(limit.source, quiet=True, indent=2)


def limits_of(finding: "Finding", check: "Check") -> tuple["Limit", ...]:
    """The limits that decide on a finding, the one that it broke first.

    A check whose limits tell openings apart is decided by the one alone.
    """
    broken = tuple(limit for limit in check.limits if limit.kind == finding.kind)
    if broken and len(check.limits) > MOST_TOGETHER:
        return broken
    return broken + tuple(limit for limit in check.limits if limit not in broken)


MOST_TOGETHER = 3


TOLD_BY_DIFFERENCE = frozenset({"lightness", "chroma", "hue"})


def _numbers(view: FindingView, page: Page) -> Iterator[Row]:
    finding, apart = view.finding, view.judged.difference
    yield from page.heading("In numbers")
    if finding.value is not None:
        limit = f", limit {finding.limit:g}" if finding.limit is not None else ""
        yield from page.text(f"{finding.value:.2f} {finding.unit}{limit}")
    if apart is not None:
        yield from page.text(
            f"CAM16-UCS {apart.ucs:.1f} (lightness {apart.ucs_lightness:.1f}, chroma"
            f" {apart.ucs_chroma:.1f}, hue {apart.ucs_hue:.1f}); CIEDE2000 {apart.de00:.1f};"
            f" LRV {apart.lrv:.1f} points; hues {apart.hue_apart_deg:.0f} deg apart;"
            f" harmony {harmony_text(apart.harmony)} (Ou & Luo)"
        )
    parts = [
        f"{name} {value:.1f}"
        for name, value in finding.parts.items()
        if apart is None or name not in TOLD_BY_DIFFERENCE
    ]
    if parts:
        yield from page.text("; ".join(parts))


def _reason(view: FindingView, page: Page) -> Iterator[Row]:
    others = view.matter.findings[1:]
    if others:
        yield from page.heading("Also found")
        rooms = view.report.house.rooms
        for finding in others:
            names = " - ".join(rooms[room].name for room in finding.rooms if room in rooms)
            yield from page.text(f"{mark_of(finding.severity, view.look)} {names}")
    yield from page.heading("Why it matters")
    yield from page.text(view.check.help)
