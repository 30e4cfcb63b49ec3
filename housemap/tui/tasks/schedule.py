"""The painter's schedule and the colours in proportion, and writing it for a reader."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from math import dist
from pathlib import Path
from typing import NamedTuple

from rich.cells import cell_len

from housemap.checks.words import room_name
from housemap.file.paths import typed_path
from housemap.model.house import EDITIONS, LIGHT_WORDS, Edition, Light
from housemap.model.text import counted
from housemap.model.wishes import kept_rooms
from housemap.schedule import sections, wording
from housemap.schedule.as_text import NOT_COPIED, room_line, shopping_list
from housemap.schedule.blocks import Block, Bullets, Section, Table, Text
from housemap.schedule.blocks import Row as TableRow
from housemap.schedule.document import Schedule
from housemap.schedule.existing import Before
from housemap.schedule.proportions import Share
from housemap.schedule.quantities import Line
from housemap.tui.background import work_beside
from housemap.tui.house_screen import HouseScreen, Task
from housemap.tui.program_screen import PageScreen
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Ink, Row, Run, fit, plain, width_of
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.page import SWATCH, Page, Parts, columns_of, first_fitting
from housemap.tui.render.shades import Coat, Shades
from housemap.tui.tasks.findings_drawing import mark_of
from housemap.workbench.papers import Papers
from housemap.workbench.session import Session

DAY_AND_LAMP: tuple[Light, Light] = ("day", "evening")
LEAST_STRIP = 5
"""Rows of the strip on a low screen."""
LRV, FIGURES, SHIFT = 9, 14, 7
"""Columns of the LRV, of both shares in a line, and of the shift from day to lamplight."""
LEAST_SURFACE = 10
"""Columns that the name of a surface keeps beside the name of its paint."""
FACT_NAME = 18
"""Columns of the name of a fact."""
WIDE, MOST_COLUMNS = 100, 120
"""Columns from which on sheen and LRV stand in the lines of rooms too; and beyond which the two
ends of a line no longer read as one."""


class ScheduleView(NamedTuple):
    schedule: Schedule
    shades: Shades
    look: Look
    by_view: bool = False
    """Whether paints are in proportion to what is seen of them, not to their areas."""

    def share(self, share: Share) -> float:
        return share.of_view if self.by_view else share.of_area

    def shift(self, share: Share) -> float | None:
        """From day to lamplight where most of the paint is, in CAM16-UCS units; None if unknown."""
        most = _most(self, share)
        place = most.room, most.surface, share.paint
        day, lamp = (replace(self.shades, light=x).seen_ucs(*place) for x in DAY_AND_LAMP)
        return dist(day, lamp) if day and lamp else None

    def words(self, line: Line) -> tuple[str, ...]:
        """A surface, its paint, coats, area and litres."""
        house = self.schedule.house
        return (
            wording.surface(house, line.room, line.surface), wording.paint(house, line.paint),
            f"{wording.coats(line.system)} coats", wording.area(line.area_m2, house.units),
            wording.volume(line.litres, house.units),
        )  # fmt: skip

    def coat_of(self, line: Line) -> Coat:
        """Light is not computed on parts of a room: they are shown as the paint is."""
        if line.surface.startswith("part "):
            return self.shades.plain(line.paint)
        return self.shades.on(line.room, line.surface, line.paint)


def board_rows(view: ScheduleView, width: int, height: int) -> list[Row]:
    page, shares = Page(view.look, width), view.schedule.board
    lined = Page(view.look, min(width, MOST_COLUMNS))
    if not shares:
        return [page.blank(), *page.text("No surface has a paint yet.", quiet=True)]
    coats = {share.paint: view.coat_of(_most(view, share)) for share in shares}
    lines = [_line(view, lined, n, share, coats) for n, share in enumerate(shares, 1)]
    light = LIGHT_WORDS[view.shades.light]
    what = f"By area {light}: of all measured surfaces that are painted."
    if view.by_view:
        what = f"By view {light}: of the paint seen by who stands in each room and looks round."
    above = [*page.text(what, quiet=True), page.blank()]
    room = max(height - len(above) - len(lines) - 1, LEAST_STRIP)
    columns = columns_of([view.share(share) for share in shares], page.inner)
    parts = [*zip([coats[share.paint] for share in shares], columns, strict=True)]
    strip = page.run(" "), *(page.patch(*part) for part in parts)
    numbers = page.run(" "), *(_number(n, *part, view.look) for n, part in enumerate(parts, 1))
    return [*above, numbers, *[strip] * (room - 1), _heading(view, lined), *lines]


def _most(view: ScheduleView, share: Share) -> Line:
    lines = [line for line in view.schedule.quantities.lines if line.paint == share.paint]
    return max(lines, key=lambda line: line.area_m2 or 0.0)


def _number(number: int, coat: Coat, columns: int, look: Look) -> Run:
    """A part of the first row of the strip, with its number where that fits."""
    text = str(number) if len(str(number)) < columns else ""
    colour = coat.colour if look.colour else None
    return Run(text.center(columns), Ink(text_on(colour), colour) if colour else Ink(bold=True))


def _line(
    view: ScheduleView, page: Page, number: int, share: Share, coats: Mapping[str, Coat]
) -> Row:
    """Number, swatch, name, LRV and undertone; the shares of area and of view at the right."""
    swatch, name = view.schedule.swatch(share.paint), _name_columns(view, page)
    room = page.inner - SWATCH - name - LRV - FIGURES - SHIFT - 5
    shift = view.shift(share)
    return (
        page.run(f" {number:2d} "),
        page.patch(coats[share.paint], SWATCH),
        page.run(f" {fit(swatch.name, name)}"),
        page.run(f" LRV {swatch.lrv:3.0f} ", quiet=True),
        page.run(fit(_tone(view, share), room)),
        page.run(f"{_percent(share.of_area)}{_percent(share.of_view)}"),
        page.run(f"{'-' if shift is None else f'{shift:.1f}':>{SHIFT}}"),
    )


def _heading(view: ScheduleView, page: Page) -> Row:
    left = SWATCH + _name_columns(view, page) + LRV + 5
    text = "under this light" if view.shades.light != "reference" else "colour"
    room = page.inner - left - FIGURES - SHIFT
    heads = f"{fit(text, room)}{'area':>7}{'view':>7}{'shift':>{SHIFT}}"
    return (page.run(" " * left), page.run(heads, quiet=True))


def _percent(share: float) -> str:
    return f"{100 * share:5.0f} %"


def _name_columns(view: ScheduleView, page: Page) -> int:
    longest = max(cell_len(view.schedule.swatch(s.paint).name) for s in view.schedule.board)
    return min(longest, page.inner // 3)


def _tone(view: ScheduleView, share: Share) -> str:
    """The undertone where most of the paint is, under the light shown."""
    most = _most(view, share)
    if most.surface.startswith("part "):
        return view.schedule.swatch(share.paint).colour.undertone.words
    return view.shades.undertone(most.room, most.surface, share.paint)


# The paint schedule as a page of the program.


def schedule_rows(view: ScheduleView, width: int) -> Parts:
    page = Page(view.look, min(width, MOST_COLUMNS))
    schedule, house = view.schedule, view.schedule.house
    columns = [
        max(map(cell_len, each))
        for each in zip(*map(view.words, schedule.quantities.lines), strict=True)
    ]

    def of(*parts: Callable[[Schedule], Section]) -> Iterator[tuple[str, Iterable[Row]]]:
        for section in (part(schedule) for part in parts):
            yield section.title, [row for block in section.blocks for row in _block(block, page)]

    parts: list[tuple[str, Iterable[Row]]] = [
        ("", _facts(view, page)),
        *of(sections.caution_list, sections.changes),
        *((room_name(house, room), _room(view, page, room, columns)) for room in house.rooms),
        *of(sections.systems),
        ("To buy", _needs(view, page)),
        *of(sections.primer_list, sections.labour, sections.edges),
        *of(sections.samples_to_put_up, sections.samples_seen),
        ("Still open", _matters(view, page)),
    ]
    return Parts.of(
        [*(page.title(title) if title else ()), *body, page.blank()]
        for title, rows in parts
        if (body := list(rows))
    )


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


def _room(view: ScheduleView, page: Page, room: str, columns: Sequence[int]) -> Iterator[Row]:
    if room in kept_rooms(view.schedule.house):
        yield from page.text(sections.kept_text(view.schedule, room))
    for line in view.schedule.lines_of(room):
        yield _surface(view, page, line, columns)


def _surface(view: ScheduleView, page: Page, line: Line, columns: Sequence[int]) -> Row:
    """Swatch, surface and paint at the left; coats, area, litres and the sample at the right.

    `columns`: the longest of each of the line's words; the surface gives way to the paint.
    """
    schedule, wide = view.schedule, page.inner >= WIDE
    tried, (surface, paint, *figures) = schedule.tried(line.trying), view.words(line)
    ends = "".join(f"{text:>{n}}  " for text, n in zip(figures, columns[2:], strict=True))
    ends += f"{view.look.glyphs.tried[tried]:2}"
    sheen = line.sheen or f"sheen: {wording.NO_SHEEN}"
    if wide:
        lrv = f"LRV {schedule.swatch(line.paint).lrv:3.0f}  "
        ends = f"{lrv}{fit(sheen, 14)}{ends} {fit(sections.TRIED[tried], 9)}"
    elif line.sheen is None:
        ends = f"{sheen} {ends}"
    room = page.inner - SWATCH - 4 - cell_len(ends)
    of_surface = min(columns[0], max(LEAST_SURFACE, room - columns[1]))
    names = f" {fit(surface, of_surface)} {fit(paint, room - of_surface)} "
    swatch = page.patch(view.coat_of(line), SWATCH)
    return page.run(" "), swatch, page.run(names), page.run(f" {ends}", quiet=True)


def _needs(view: ScheduleView, page: Page) -> Iterator[Row]:
    """Each paint with its litres, tins and cost, then the sums."""
    house, units = view.schedule.house, view.schedule.house.units
    for need in view.schedule.quantities.needs:
        tins = fit(wording.tins(need.purchase, units), 30 if page.inner >= WIDE else 20)
        money = "" if need.cost is None else wording.money(need.cost, house)
        ends = f" {wording.volume(need.litres, units):>9}  {tins} {money:>9}"
        paint, sheen = wording.paint(house, need.paint), need.sheen or f"sheen: {wording.NO_SHEEN}"
        name = fit(f"{paint}, {sheen}", page.inner - SWATCH - 1 - len(ends))
        swatch = page.patch(view.shades.plain(need.paint), SWATCH)
        yield page.run(" "), swatch, page.run(f" {name}"), page.run(ends, quiet=True)
    yield from page.texts(sections.sums(view.schedule))
    yield from page.texts(sections.measuring_rules(view.schedule), quiet=True)


def _matters(view: ScheduleView, page: Page) -> Iterator[Row]:
    for matter in view.schedule.matters:
        mark = f" {mark_of(matter.severity, view.look)} "
        yield from page.hanging(mark, matter.describe(view.schedule.house))


# The screen

MAKING, WRITING, SAVES = "making", "writing", "saves"
NOT_YET = "The schedule is still being made. Try again in a moment."

READERS: Mapping[Edition, str] = {
    "full": "full, all in one", "painter": "painter", "client": "client", "supplier": "supplier",
}  # fmt: skip
VIEWS = ("paint schedule", "paints by area", "paints by view")
"""What the screen shows, one after the other."""


class ScheduleScreen(PageScreen):
    CONTEXT = "schedule"
    BAR = ("save", "edit", "next", "view", "back")
    session: Session

    def __init__(self, papers: Papers, view: int = 0) -> None:
        super().__init__("", self._draw)
        self._papers, self.session, self._view = papers, papers.session, view
        self._starts: Sequence[int] = ()

    def on_mount(self) -> None:
        self.session_changed()

    def session_changed(self) -> None:
        """Ask for the schedule of a report that is new, and draw in the light that is shown."""
        if self._papers.next_report():
            self._make()
        self._show()

    def _show(self) -> None:
        self.draw_head()
        self.rows.redraw()

    def draw_head(self) -> None:
        schedule = self._papers.schedule
        right = f"draft of {schedule.date:%-d %B %Y}" if schedule else ""
        notes = [LIGHT_WORDS[self.session.selection.light].removeprefix("under the ")]
        self.show_head(f"{self.session.house.name or 'House'}: {VIEWS[self._view]}", notes, right)

    def _draw(self, page: Page) -> Sequence[Row]:
        schedule = self._papers.schedule
        if schedule is None:
            return [page.blank(), page.line("Measuring, and looking round in every room.")]
        shades = Shades(self.session.selection.light, schedule.house, schedule.report)
        if self._view:
            board = ScheduleView(schedule, shades, page.look, VIEWS[self._view] == "paints by view")
            return board_rows(board, page.width, self.rows.size.height)
        made = schedule_rows(ScheduleView(schedule, shades, page.look), page.width)
        self._starts = [place.start for place in made.places]
        return made.rows

    def action_view(self) -> None:
        self._view = (self._view + 1) % len(VIEWS)
        self._show()
        self.rows.go_to_end(-1)

    def action_next(self, by: int) -> None:
        """Show the next part from its beginning (above 0), or the one before."""
        top = self.rows.top
        after = [start for start in self._starts if start > top]
        before = [start for start in self._starts if start < top]
        for start in after[:1] if by > 0 else before[-1:]:
            self.rows.scroll_rows(start - top)

    def _make(self) -> None:
        papers = self._papers
        papers.asked = report = papers.session.base
        if report is None:
            return

        def take(schedule: Schedule) -> None:
            papers.take(schedule)
            self._show()

        def failed(fault: str) -> None:
            if papers.before is not None:  # its colours mean nothing
                self._take(None)
            self.say(fault)

        make = partial(papers.make, report, papers.before)
        work_beside(self, MAKING, make, take, failed)

    # Asking what is on the walls now, so that coats follow the step from old to new colours

    def action_edit(self) -> None:
        work_beside(self, SAVES, self._papers.earlier_saves, self._ask_before)

    def _ask_before(self, saves: Mapping[str, Before]) -> None:
        each = enumerate(saves.items(), 1)
        choices = [Choice(str(n), name, partial(self._take, save)) for n, (name, save) in each]
        choices.append(Choice("f", "another house file", self._ask_file))
        if self._papers.before is not None:
            choices.append(Choice("n", "not known", lambda: self._take(None)))
        text = "How are the walls painted now? It sets the number of coats."
        self.ask(f"{text} Or note each on the map: n, walls now 5Y 8/1.", choices, "stay")

    def _ask_file(self) -> None:
        text = "Which house file shows what is on the walls now? Its name, or its path."
        before = self._papers.before_in
        self.ask_line(text, "", lambda line: self._take(before(typed_path(line))))

    def _take(self, before: Before | None) -> None:
        self._papers.before = before
        if self._papers.asked is not None:
            self._make()
        source = f"those of {before.source}" if before else "not known"
        self.say(f"The colours before are {source}.")

    def action_copy(self) -> None:
        """Give the terminal the shopping list to paste elsewhere."""
        if self._papers.schedule is None:
            self.say(NOT_YET)
            return
        self.app.copy_to_clipboard(shopping_list(self._papers.schedule))
        self.say(f"Copied the shopping list. {NOT_COPIED}")

    def action_save(self) -> None:
        if self._papers.schedule is None:
            self.say(NOT_YET)
            return
        ask = self._ask_where
        choices = [Choice(each[0], READERS[each], partial(ask, each)) for each in EDITIONS]
        self.ask("Who reads it? Each gets the pages that they need.", choices, "back")

    def _ask_where(self, edition: Edition) -> None:
        text = "Write it to which file? The name ends in .html, .pdf, .md or .csv"
        name = str(self._papers.file_for(edition))
        self.ask_line(text, name, lambda line: self._write_new(line, edition))

    def _write_new(self, line: str, edition: Edition) -> None:
        """Write it; ask before a file is replaced that may be anything."""
        path = typed_path(line)
        there = self._papers.in_the_way(path, edition)
        write = partial(self._write, path, edition)
        if there is None:
            write()
            return
        name = there.name
        text = f"There is a file {name} already (writing over it keeps it as {name}~)."
        self.ask(text, [Choice("o", "write over it", write)], "leave it")

    def _write(self, path: Path, edition: Edition) -> None:
        self.say(f"Writing {path.name}")

        def written(paths: Sequence[Path]) -> None:
            first, *others = paths
            more = f" and {len(others)} more beside it" if others else ""
            made = self._papers.schedule
            open_ = made.report.tally.serious if made else 0
            warning = f"{counted(open_, 'serious finding')} still open. " if open_ else ""
            self.say(f"{warning}Written to {first.absolute()}{more}")

        work_beside(self, WRITING, lambda: self._papers.write(path, edition), written)


class ScheduleTask(Task):
    """Opens the painter's schedule, and all paints in their proportions."""

    def __init__(self, desk: HouseScreen) -> None:
        super().__init__(desk)
        self._papers = Papers(self.session)

    def open(self, view: int = 0) -> None:
        """Have the house reported on too, be the map covered before it was ever shown."""
        self.desk.request_report()
        self.desk.push(ScheduleScreen(self._papers, view), lambda _: self.desk.follow())

    def copy_room(self) -> None:
        """Give the terminal the paints of the selected room to paste elsewhere."""
        house, room = self.session.house, self.session.selection.room
        if room in house.rooms:
            self.desk.app.copy_to_clipboard(room_line(house, str(room)))
            name = plain(house.rooms[str(room)].name)
            text = f"Copied {name} as text. To paint a room like it: ctrl+p, same as."
            self.say(first_fitting([f"{text} {NOT_COPIED}", text], self.desk.size.width))
