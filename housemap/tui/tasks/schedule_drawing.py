"""All paints in their proportions under a light, and the paint schedule, as rows."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import chain

from rich.cells import cell_len

from housemap.checks.words import room_name
from housemap.model.wishes import kept_rooms
from housemap.schedule import sections, wording
from housemap.schedule.blocks import Block, Bullets, Section, Table, Text
from housemap.schedule.blocks import Row as TableRow
from housemap.schedule.document import Schedule
from housemap.schedule.proportions import Share
from housemap.schedule.quantities import Line, Need
from housemap.tui.render.cells import Ink, Row, Run, fit, width_of
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.page import SWATCH, Page, columns_of
from housemap.tui.render.shades import LIGHT_WORDS, Coat, Shades
from housemap.tui.tasks.findings_drawing import mark_of

LEAST_STRIP = 5
"""Rows of the strip on a low screen."""
LRV, FIGURES = 9, 14
"""Columns of the LRV and of both shares in a line."""
FACT_NAME = 18
"""Columns of the name of a fact."""
MOST_COLUMNS = 100
"""Wider, the two ends of a line no longer read as one."""


@dataclass(frozen=True, slots=True)
class BoardView:
    """The paints, and by what they are laid out."""

    schedule: Schedule
    shades: Shades
    by_view: bool
    look: Look

    def share(self, share: Share) -> float:
        return share.of_view if self.by_view else share.of_area


def board_rows(view: BoardView, width: int, height: int) -> list[Row]:
    page, shares = Page(view.look, width), view.schedule.board
    lined = Page(view.look, min(width, MOST_COLUMNS))
    if not shares:
        return [page.blank(), *page.text("No surface has a paint yet.", quiet=True)]
    coats = {share.paint: _coat(view, share) for share in shares}
    lines = [
        row for n, share in enumerate(shares, 1) for row in _line(view, lined, n, share, coats)
    ]
    above = [*page.text(_what(view), quiet=True), page.blank()]
    room = max(height - len(above) - len(lines) - 1, LEAST_STRIP)
    strip = page.run(" "), *_strip(view, page.inner, coats)
    numbers = page.run(" "), *_numbers(view, page.inner, coats)
    return [*above, numbers, *[strip] * (room - 1), _heading(view, lined), *lines]


def _what(view: BoardView) -> str:
    light = LIGHT_WORDS[view.shades.light]
    if view.by_view:
        return f"By view {light}: of the paint seen by who stands in each room and looks round."
    return f"By area {light}: of all measured surfaces that are painted."


def _coat(view: BoardView, share: Share) -> Coat:
    """Where most of the paint is."""
    return _coat_of(view, _most(view, share))


def _most(view: BoardView, share: Share) -> Line:
    lines = [line for line in view.schedule.quantities.lines if line.paint == share.paint]
    return max(lines, key=lambda line: line.area_m2 or 0.0)


def _parts(view: BoardView, width: int) -> Iterator[tuple[int, Share, int]]:
    shares = view.schedule.board
    sizes = columns_of([view.share(share) for share in shares], width)
    yield from zip(range(1, len(shares) + 1), shares, sizes, strict=True)


def _strip(view: BoardView, width: int, coats: Mapping[str, Coat]) -> Row:
    page = Page(view.look, width)
    return tuple(page.patch(coats[share.paint], size) for _, share, size in _parts(view, width))


def _numbers(view: BoardView, width: int, coats: Mapping[str, Coat]) -> Row:
    """The first row of the strip: each part's number where it fits."""
    runs = []
    for number, share, size in _parts(view, width):
        colour = coats[share.paint].colour if view.look.colour else None
        text = str(number) if len(str(number)) < size else ""
        ink = Ink(text_on(colour), colour) if colour else Ink(bold=True)
        runs.append(Run(text.center(size), ink))
    return tuple(runs)


def _line(
    view: BoardView, page: Page, number: int, share: Share, coats: Mapping[str, Coat]
) -> Iterator[Row]:
    """Number, swatch, name, LRV and undertone; the shares of area and of view at the right."""
    swatch, name = view.schedule.swatch(share.paint), _name_columns(view, page)
    room = page.inner - SWATCH - name - LRV - FIGURES - 5
    yield (
        page.run(f" {number:2d} "),
        page.patch(coats[share.paint], SWATCH),
        page.run(f" {fit(swatch.name, name)}"),
        page.run(f" LRV {swatch.lrv:3.0f} ", quiet=True),
        page.run(fit(_tone(view, share), room)),
        page.run(f"{_percent(share.of_area)}{_percent(share.of_view)}"),
    )


def _heading(view: BoardView, page: Page) -> Row:
    left = SWATCH + _name_columns(view, page) + LRV + 5
    text = "under this light" if view.shades.light != "reference" else "undertone"
    room = page.inner - left - FIGURES
    return (page.run(" " * left), page.run(f"{fit(text, room)}{'area':>7}{'view':>7}", quiet=True))


def _percent(share: float) -> str:
    return f"{100 * share:5.0f} %"


def _name_columns(view: BoardView, page: Page) -> int:
    longest = max(cell_len(view.schedule.swatch(s.paint).name) for s in view.schedule.board)
    return min(longest, page.inner // 3)


def _tone(view: BoardView, share: Share) -> str:
    """The undertone where most of the paint is, under the light shown."""
    most = _most(view, share)
    if most.surface.startswith("part "):
        return view.schedule.swatch(share.paint).colour.undertone.words
    return view.shades.undertone(most.room, most.surface, share.paint)


# The paint schedule as a page of the program.

WIDE, MOST_COLUMNS = 100, 120
"""Columns from which on sheen and LRV stand in the lines of rooms too; and beyond which the two
ends of a line no longer read as one."""


@dataclass(frozen=True, slots=True)
class ScheduleView:
    """The schedule, and how its paints are shown."""

    schedule: Schedule
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
        _section(sections.caution_list(schedule), page),
        _section(sections.changes(schedule), page),
        *((room_name(house, room), _room(view, page, room)) for room in house.rooms),
        _section(sections.systems(schedule), page),
        ("To buy", _needs(view, page)),
        *(_section(part(schedule), page) for part in (sections.primer_list, sections.labour)),
        _section(sections.edges(schedule), page),
        *(
            _section(part(schedule), page)
            for part in (sections.samples_to_put_up, sections.samples_seen)
        ),
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
    """Who for and by whom, then what it comes to; two of them on a line where both fit."""
    parts = (sections.parties(view.schedule), sections.totals(view.schedule))
    facts = [pair for part in parts for pair in part.pairs if pair[1] != wording.NOT_GIVEN]
    half, row = page.inner // 2, list[Run]()
    yield page.blank()
    for name, value in facts:
        text = fit(value, max(half - FACT_NAME, len(value) + 2))
        cell = page.run(fit(name, FACT_NAME), quiet=True), page.run(text)
        if row and width_of((*row, *cell)) > page.inner:
            yield page.run(" "), *row
            row = []
        row += cell
    yield page.run(" "), *row


def _section(section: Section, page: Page) -> tuple[str, Iterable[Row]]:
    return section.title, chain.from_iterable(_block(block, page) for block in section.blocks)


def _block(block: Block, page: Page) -> Iterable[Row]:
    match block:
        case Table():
            return _texts((_row_text(block, row) for row in block.rows), page)
        case Bullets():
            return _texts(block.items, page)
        case Text():
            return page.text(block.text, quiet=block.quiet)
    return ()


def _row_text(table: Table, row: TableRow) -> str:
    """A row as a sentence: its head, then what the other columns say."""
    cells = zip(table.columns, row.cells, strict=True)
    head, *rest = [(column.name, cell.text) for column, cell in cells if cell.text]
    said = (f"{name}: {text}" for name, text in rest if text != wording.NOT_GIVEN)
    return f"{head[1]}; {'; '.join(said)}"


def _texts(texts: Iterable[str], page: Page) -> Iterator[Row]:
    for text in texts:
        yield from page.hanging(f" {page.look.glyphs.dot} ", text, quiet=True, strong=False)


def _room(view: ScheduleView, page: Page, room: str) -> Iterator[Row]:
    if room in kept_rooms(view.schedule.house):
        yield from page.text(sections.kept_text(view.schedule, room))
    for line in view.schedule.lines_of(room):
        yield _surface(view, page, line)


def _surface(view: ScheduleView, page: Page, line: Line) -> Row:
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
        ends.append(page.run(f" {fit(sections.TRIED[tried], 8)}"))
    name = wording.surface(schedule.house, line.room, line.surface)
    surface = fit(name, 20 if wide else 10)
    room = page.inner - SWATCH - 2 - len(surface) - sum(width_of((run,)) for run in ends)
    swatch = page.patch(_coat_of(view, line), SWATCH)
    paint = fit(wording.paint(schedule.house, line.paint), room)
    return page.run(" "), swatch, page.run(f" {surface} {paint}"), *ends


def _coat_of(view: "ScheduleView | BoardView", line: Line) -> Coat:
    """Light is not computed on parts of a room: they are shown as the paint is."""
    if line.surface.startswith("part "):
        return view.shades.plain(line.paint)
    return view.shades.on(line.room, line.surface, line.paint)


def _needs(view: ScheduleView, page: Page) -> Iterator[Row]:
    for need in view.schedule.quantities.needs:
        yield _need(view, page, need)
    for text in sections.sums(view.schedule):
        yield from page.text(text)
    for text in sections.measuring_rules(view.schedule):
        yield from page.text(text, quiet=True)


def _need(view: ScheduleView, page: Page, need: Need) -> Row:
    house = view.schedule.house
    units = house.units
    tins = fit(wording.tins(need.purchase, units), 30 if page.inner >= WIDE else 20)
    ends = f" {wording.volume(need.litres, units):>9}  {tins} {_money(view, need):>9}"
    name = f"{wording.paint(house, need.paint)}, {need.sheen or 'sheen ' + wording.NO_SHEEN}"
    room = page.inner - SWATCH - 1 - len(ends)
    swatch = page.patch(view.shades.plain(need.paint), SWATCH)
    return page.run(" "), swatch, page.run(f" {fit(name, room)}"), page.run(ends, quiet=True)


def _money(view: ScheduleView, need: Need) -> str:
    return "" if need.cost is None else wording.money(need.cost, view.schedule.house)


def _matters(view: ScheduleView, page: Page) -> Iterator[Row]:
    for matter in view.schedule.matters:
        mark = f" {mark_of(matter.severity, view.look)} "
        yield from page.hanging(mark, matter.describe(view.schedule.house))
