"""The paint schedule as a page of the program."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from housemap.checks.words import room_name
from housemap.schedule import telling, wording
from housemap.tui.render.findings import mark_of
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Row, width_of
from housemap.tui.render.shades import Shades
from housemap.tui.render.text import fit, wrap

if TYPE_CHECKING:
    from housemap.schedule.document import Schedule
    from housemap.schedule.quantities import Line, Need

WIDE, MOST_COLUMNS = 100, 120
"""Columns from which on sheen and LRV stand in the lines of rooms too; and beyond which the two
ends of a line no longer read as one."""


@dataclass(frozen=True, slots=True)
class ScheduleView:
    """The schedule, and how its paints are shown."""

    schedule: "Schedule"
    shades: Shades
    look: Look


@dataclass(frozen=True, slots=True)
class ScheduleRows:
    """The rows, and in which of them a part begins."""

    rows: list[Row]
    starts: list[int]


def schedule_rows(view: ScheduleView, width: int) -> ScheduleRows:
    page = Page(view.look, min(width, MOST_COLUMNS))
    schedule, house = view.schedule, view.schedule.house
    parts: list[tuple[str, Iterable[Row]]] = [
        ("", _facts(view, page)),
        ("Cautions", _texts(schedule.cautions, page)),
        *((room_name(house, room), _room(view, page, room)) for room in house.rooms),
        ("To buy", _needs(view, page)),
        (
            "Where colours meet",
            _texts((telling.meeting(house, m) for m in schedule.meetings), page),
        ),
        ("Samples to put up", _texts((telling.tester(house, t) for t in schedule.testers), page)),
        ("Samples seen", _texts((telling.sample(house, s) for s in house.samples.values()), page)),
        ("Still open", _matters(view, page)),
    ]
    made = ScheduleRows([], [])
    for title, rows in parts:
        body = list(rows)
        if body:
            made.starts.append(len(made.rows))
            made.rows.extend([*(page.title(title) if title else ()), *body, page.blank()])
    return made


def _facts(view: ScheduleView, page: Page) -> Iterator[Row]:
    told = ", ".join(f"{name} {value}" for name, value in telling.heading(view.schedule))
    yield page.blank()
    yield from page.text(told, quiet=True)


def _texts(texts: Iterable[str], page: Page) -> Iterator[Row]:
    for text in texts:
        lead = f"{page.look.glyphs.dot} "
        for line in wrap(text, page.inner - len(lead)):
            yield page.run(f" {lead}", quiet=True), page.run(line)
            lead = "  "


def _room(view: ScheduleView, page: Page, room: str) -> Iterator[Row]:
    for line in view.schedule.lines_of(room):
        yield _surface(view, page, line)


def _surface(view: ScheduleView, page: Page, line: "Line") -> Row:
    """Swatch, surface and paint at the left; coats, area, litres and the sample at the right."""
    schedule, units, wide = view.schedule, view.schedule.house.units, page.inner >= WIDE
    tried = schedule.tried(line.paint, line.room)
    figures = (
        f"{line.coats} coats {wording.area(line.area_m2, units):>12}"
        f" {wording.volume(line.litres, units):>12}  {view.look.glyphs.tried[tried]:2}"
    )
    ends = [page.run(figures, quiet=True)]
    if wide:
        lrv = f" LRV {schedule.swatch(line.paint).lrv:3.0f}  "
        ends[:0] = [page.run(f"{lrv}{fit(line.sheen or wording.NO_SHEEN, 12)}", quiet=True)]
        ends.append(page.run(f" {fit(telling.TRIED[tried], 8)}"))
    surface = fit(wording.wall_of_surface(line.surface), 14 if wide else 8)
    room = page.inner - SWATCH - 2 - len(surface) - sum(width_of((run,)) for run in ends)
    swatch = page.patch(view.shades.on(line.room, line.surface, line.paint), SWATCH)
    paint = fit(wording.paint(schedule.house, line.paint), room)
    return page.run(" "), swatch, page.run(f" {surface} {paint}"), *ends


def _needs(view: ScheduleView, page: Page) -> Iterator[Row]:
    for need in view.schedule.quantities.needs:
        yield _need(view, page, need)
    yield from page.text(telling.cost(view.schedule))
    yield from page.text(telling.measured_how(view.schedule), quiet=True)
    if unmeasured := telling.unmeasured(view.schedule):
        yield from page.text(unmeasured)


def _need(view: ScheduleView, page: Page, need: "Need") -> Row:
    house = view.schedule.house
    units = house.units
    tins = fit(wording.tins(need.purchase, units), 30 if page.inner >= WIDE else 20)
    ends = f" {wording.volume(need.litres, units):>9}  {tins} {_money(need):>9}"
    name = f"{wording.paint(house, need.paint)}, {need.sheen or 'sheen ' + wording.NO_SHEEN}"
    room = page.inner - SWATCH - 1 - len(ends)
    swatch = page.patch(view.shades.plain.coat(need.paint), SWATCH)
    return page.run(" "), swatch, page.run(f" {fit(name, room)}"), page.run(ends, quiet=True)


def _money(need: "Need") -> str:
    return "" if need.cost is None else wording.money(need.cost)


def _matters(view: ScheduleView, page: Page) -> Iterator[Row]:
    for matter in view.schedule.matters:
        lead = f" {mark_of(matter.severity, view.look)} "
        for line in wrap(matter.tell(view.schedule.house), page.inner - len(lead)):
            yield page.run(lead, strong=True), page.run(line)
            lead = " " * len(lead)
