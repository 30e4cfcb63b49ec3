"""What was found, as a list: one entry for everything with one cause, gravest first."""

from collections.abc import Iterator, Sequence
from itertools import chain, groupby
from typing import NamedTuple

from rich.cells import cell_len

from housemap.checks import CHECKS, Cause, Check, Finding, Limit, Report, check_of
from housemap.checks.words import unit_words
from housemap.choose.remedies import Remedy
from housemap.model.house import LIGHT_WORDS, House
from housemap.model.severity import SHOWN, change_text, letter_of
from housemap.model.text import counted
from housemap.tui.render.cells import Row, width_of, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page, Parts
from housemap.tui.render.shades import Shades
from housemap.workbench.listed_findings import Judged, RemedySearch, limits_of, paint_targets


def mark_of(severity: str, look: Look) -> str:
    """A sign and a letter, as the map has them."""
    return f"{look.glyphs.marks[severity]}{letter_of(severity)}"


def value_text(finding: Finding) -> str:
    """The value and its limit, as in "52.1 (limit 40)"."""
    if finding.value is None:
        return ""
    value = f"{finding.value:.2f}" if abs(finding.value) < 10 else f"{finding.value:.1f}"  # noqa: PLR2004 - digits
    return value if finding.limit is None else f"{value} (limit {finding.limit:g})"


def rooms_text(matter: Cause, house: House) -> str:
    """The rooms it names; a paint where it names none, or a sample of it is to be looked at."""
    names = [house.rooms[room].name for room in matter.rooms if room in house.rooms]
    paints = [house.paints[p].name for p in matter.first.paints if p in house.paints]
    of_paint = not names or check_of(matter.check).to_do
    named = [", ".join(each) for each in (paints if of_paint else [], names) if each]
    return " in ".join(named) or "the house"


LONGEST_TITLE = max(cell_len(check.title) for check in CHECKS)
LONGEST_GRADE = max(map(cell_len, SHOWN.values()))
"""Where not both of them fit, no finding has its grade in words: all rows are alike."""


def matter_rows(matter: Cause, house: House, page: Page) -> tuple[Row, Row]:
    count = len(matter.findings)
    title = check_of(matter.check).title
    places = f"{count} places" if count > 1 else ""
    sign = page.run(f"{mark_of(matter.severity, page.look)} ", strong=True)
    lead = page.mark(), sign
    fits = width_of(lead) + LONGEST_TITLE + LONGEST_GRADE + 2 <= page.width
    grade = SHOWN[matter.severity] if fits else ""
    return (
        page.row(lead, title, grade, strong=page.chosen),
        page.whole((page.run("    "),), rooms_text(matter, house), places, quiet=True),
    )


# One finding in full: the sentence, the colours, what would clear it, the limit and the reason.

NO_REMEDY = "Nothing that was tried clears it without raising something as grave."


class FindingView(NamedTuple):
    report: Report
    """Of the decided house."""
    matter: Cause
    number: int
    """Its place in the list, from 1: first so many `findings`, then so many `to_do`."""
    findings: int
    to_do: int
    judged: Judged
    search: RemedySearch
    chosen: int | None
    """Which remedy is on show."""

    @property
    def finding(self) -> Finding:
        return self.matter.first

    @property
    def check(self) -> Check:
        return check_of(self.matter.check)


def finding_rows(view: FindingView, page: Page) -> Parts:
    """What was found, a part for each remedy, and what there is to know of it."""
    remedies = (
        _remedy_rows(view, remedy, page._replace(chosen=number == view.chosen))
        for number, remedy in enumerate(view.search.remedies)
    )
    above = chain(_head(view, page), _colours(view, page), _heading_of_remedies(view, page))
    below = chain(_limits(view, page), _reason(view, page), _numbers(view, page))
    return Parts.of((above, *remedies, below))


def _head(view: FindingView, page: Page) -> Iterator[Row]:
    title = f"{mark_of(view.finding.severity, page.look)} {view.check.title}"
    yield from page.text(title, strong=True)
    place = f"{view.number} of {counted(view.findings, 'finding')}"
    if view.number > view.findings:
        place = f"{view.number - view.findings} of {view.to_do} to do"
    yield page.line(place, quiet=True)
    yield from page.text(view.check.describe(view.finding, view.report.house))


def _colours(view: FindingView, page: Page) -> Iterator[Row]:
    """Side by side and touching, in the light in which they were judged."""
    seen = view.judged
    if not seen.places:
        return
    if not page.narrow:
        yield page.blank()
    shades = Shades(view.finding.light, view.report.house, view.report)
    coats = [shades.at(place, eye=seen.eye) for place in seen.places]
    yield from [page.side_by_side(coats)] * 2
    house, each = view.report.house, seen.places
    on = (house.paints.get(p.paint) if p.paint else house.finishes.get(p.finish) for p in each)
    yield page.names_below([entity.name if entity else "" for entity in on])
    room, light = house.rooms.get(seen.eye or ""), view.finding.light
    where = f", seen from {room.name}" if room and light != "reference" else ""
    yield from page.text(f"{LIGHT_WORDS[light]}{where}", quiet=True)


def _heading_of_remedies(view: FindingView, page: Page) -> Iterator[Row]:
    search = view.search
    if view.check.advice:
        yield from page.text(view.check.advice, strong=view.check.to_do)
    if not search.remedies and (view.check.to_do or (view.check.advice and search.done)):
        return  # what there is to do is said
    how = ""
    if not search.done:
        trying = f"trying change {search.tried} of {search.count}"
        how = f": {trying}" if search.count else ": once the light is known"
    yield from page.heading(f"What would clear it{how}")
    if search.done and not search.remedies:
        yield from page.text(f"{NO_REMEDY} {_other_ways(view)}")


def _other_ways(view: FindingView) -> str:
    """What else there is, with its key: of this finding, not of any."""
    ways = [
        *(["d to open a deck", "ctrl+p for another paint"] if paint_targets(view.matter) else ()),
        *(["e to set another limit"] if limits_of(view.finding, view.check) else ()),
    ]
    *most, last = ways or [""]
    return f"Press {', '.join(most)} or {last}." if most else last and f"Press {last}."


def _remedy_rows(view: FindingView, remedy: Remedy, page: Page) -> Iterator[Row]:
    """What changes, and what that does to the findings of the house."""
    change, label = change_text(view.report.tally, remedy.report.tally), remedy.change.label
    rooms, causes = {*view.matter.rooms}, remedy.report.causes
    serious = sum(each.severity == "fault" and bool(rooms & {*each.rooms}) for each in causes)
    if serious:
        label += f"; leaves {serious} serious here"
    mark = page.mark()
    for text in wrap(label, page.width - len(change) - 4):
        yield page.row((mark,), text, change, strong=page.chosen)
        mark, change = page.run(" "), ""


def _limits(view: FindingView, page: Page) -> Iterator[Row]:
    if limits := limits_of(view.finding, view.check):
        yield from page.heading("The limit, and where it comes from")
        yield from limit_rows(view.check, limits, view.report.house, page)


def limit_rows(
    check: Check, limits: Sequence[Limit], house: House | None, page: Page
) -> Iterator[Row]:
    """Limits as they hold in a house, then where those of one source come from."""
    held = check.limits_in(house) if house else check.defaults
    for source, group in groupby(limits, lambda limit: limit.source):
        words = []
        for limit in group:
            own = held[limit.kind] != limit.default
            default = f", set here (default {limit.default:g})" if own else ""
            words.append(f"{limit.kind}: {held[limit.kind]:g} {unit_words(limit.unit)}{default}")
        yield from page.texts(words)
        yield from page.text(source, quiet=True, indent=2)


PART_WORDS = {
    "strength": "how much the clash is seen (CAM16-UCS)",
    "paints": "hue angle between the paints alone (deg)",
    "lightest": "daylight factor with the lightest paint (%)",
    "apart": "walls apart (m)",
}
PARTS_OF_DIFFERENCE = frozenset({"lightness", "chroma", "hue"})


def _numbers(view: FindingView, page: Page) -> Iterator[Row]:
    finding, apart = view.finding, view.judged.difference
    if finding.value is not None or finding.parts or apart is not None:
        yield from page.heading("In numbers")
    if finding.value is not None:
        limit = f", limit {finding.limit:g}" if finding.limit is not None else ""
        yield from page.text(f"{finding.value:.2f} {unit_words(finding.unit)}{limit}")
    if apart is not None:
        yield from page.text(
            f"CAM16-UCS {apart.ucs:.1f} (lightness {apart.ucs_lightness:.1f}, chroma"
            f" {apart.ucs_chroma:.1f}, hue {apart.ucs_hue:.1f}); CIEDE2000 {apart.de00:.1f};"
            f" LRV {apart.lrv:.1f} points; hues differ by {apart.hue_apart_deg:.0f} deg"
        )
    parts = [
        f"{PART_WORDS.get(name, name)} {value:.1f}"
        for name, value in finding.parts.items()
        if value and (apart is None or name not in PARTS_OF_DIFFERENCE)
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
            yield from page.text(f"{mark_of(finding.severity, page.look)} {names}")
    yield from page.heading("Why it matters")
    yield from page.text(view.check.help)
