"""The chart of a deck: a page of chips that scrolls, one of them chosen.

Every chip of the page is shown: the chips of one cell share it, and a row of cells grows where
they need more lines. Only the lines in view are ever made.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from math import ceil
from typing import NamedTuple

from textual.events import Click

from housemap.tui.keys import Keyed
from housemap.tui.render.cells import Ink, Row, Run, width_of
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Coat
from housemap.tui.scroller import LineByLine
from housemap.tui.tasks.deck_drawing import DeckShades
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.deck_browser import Page as ChartPage

LABELS = 5
"""Columns for the names of the rows, at the left."""
LEAST, MOST = 2, 10
"""Columns of a cell."""
GAPPED = 4
"""Columns from which cells stand apart."""
CHIP = 2
"""Columns of a chip where cells are full, a square; less by one where they do not come out."""
TALLEST = 3
"""Lines of a row of single chips."""


class Tile(NamedTuple):
    """Where a chip stands on the sheet, in cells of the screen."""

    chip: int
    x: int
    y: int
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole page laid out; its first line is 0."""

    height: int = 0
    tiles: Mapping[int, Tile] = field(default_factory=dict)
    """By chip."""
    lines: Sequence[Sequence[Tile]] = ()
    """The tiles of each line, from left to right."""
    row_labels: Mapping[int, str] = field(default_factory=dict)
    """By line."""
    column_labels: Sequence[tuple[int, str]] = ()
    """The middle of each column, and its label."""


def sheet_of(page: ChartPage, width: int, height: int) -> Sheet:
    """Lay a page out for a chart of so many columns and lines."""
    if not page.cells:
        return Sheet()
    wide = min(max((width - LABELS) // len(page.columns), LEAST), MOST)
    usable = wide - 1 if wide >= GAPPED else wide
    a_line = (usable + 1) // CHIP
    base = max(min(height // len(page.rows), TALLEST), 1)
    tiles: dict[int, Tile] = {}
    labels: dict[int, str] = {}
    y = 0
    for row, label in enumerate(page.rows):
        cells = [page.cells.get((row, column), ()) for column in range(len(page.columns))]
        tall = max(base, *(ceil(len(chips) / a_line) for chips in cells))
        for column, chips in enumerate(cells):
            box = Tile(-1, LABELS + column * wide, y, usable, tall)
            tiles.update((tile.chip, tile) for tile in _shared(box, chips, a_line))
        labels[y] = label
        y += tall
    lines: list[list[Tile]] = [[] for _ in range(y)]
    for tile in tiles.values():
        for line in range(tile.y, tile.y + tile.height):
            lines[line].append(tile)
    middles = [LABELS + column * wide + usable // 2 for column in range(len(page.columns))]
    return Sheet(y, tiles, lines, labels, [*zip(middles, page.columns, strict=True)])


def _shared(box: Tile, chips: Sequence[int], a_line: int) -> Iterator[Tile]:
    """The box divided among chips: line by line, as alike as can be."""
    if not chips:
        return
    lines = min(box.height, ceil(len(chips) / a_line))
    each = ceil(len(chips) / lines)
    for line, start in enumerate(range(0, len(chips), each)):
        top, bottom = (box.height * i // lines for i in (line, line + 1))
        here = chips[start : start + each]
        edges = [box.x + box.width * i // len(here) for i in range(len(here) + 1)]
        for chip, left, right in zip(here, edges, edges[1:], strict=False):
            yield Tile(chip, left, box.y + top, right - left, bottom - top)


def beside(sheet: Sheet, chip: int, step: int) -> int:
    """The next chip to the right (above 0) or left on its line; itself at the end."""
    tile = sheet.tiles[chip]
    line = sheet.lines[tile.y + (tile.height - 1) // 2]
    at = line.index(tile) + step
    return line[at].chip if 0 <= at < len(line) else chip


def above(sheet: Sheet, chip: int, step: int) -> int:
    """The nearest chip of the next line with any, downward (above 0) or up; itself at the end."""
    tile = sheet.tiles[chip]
    y = tile.y + tile.height if step > 0 else tile.y - 1
    middle = 2 * tile.x + tile.width
    while 0 <= y < sheet.height:
        if sheet.lines[y]:
            return min(sheet.lines[y], key=lambda each: abs(2 * each.x + each.width - middle)).chip
        y += step
    return chip


def chip_at(sheet: Sheet, x: int, y: int) -> int | None:
    line = sheet.lines[y] if 0 <= y < sheet.height else ()
    return next((tile.chip for tile in line if tile.x <= x < tile.x + tile.width), None)


WIDEST = 3
"""Columns of a page in the strip of pages."""
AXES = {
    "hue": "value down, chroma across", "value": "hue down, chroma across",
    "near-neutral": "chroma up to 3: value down, hue across, chroma within",
}  # fmt: skip


def chart_row(
    sheet: Sheet, y: int, page: Page, coat_of: Callable[[int], Coat], marks: Mapping[int, str]
) -> Row:
    """A line of chips; `marks` are characters on those that are chosen or picked."""
    runs = [page.run(f"{sheet.row_labels.get(y, ''):>{LABELS - 1}} ")]
    x = LABELS
    for tile in sheet.lines[y]:
        if tile.x > x:
            runs.append(page.run(" " * (tile.x - x)))
        mark = marks.get(tile.chip, "") if y == tile.y + (tile.height - 1) // 2 else ""
        runs.append(chip_run(coat_of(tile.chip), mark, tile.width, page.look))
        x = tile.x + tile.width
    return page.filled(runs)


def chip_run(coat: Coat, mark: str, width: int, look: Look) -> Run:
    text = f"{mark[:width]:^{width}}"
    if coat.colour is None or not look.colour:
        filled = text.replace(" ", "#" if coat.state == "known" else look.glyphs.dots)
        return Run(filled, Ink(look.greys.text, look.greys.bare, bold=bool(mark)))
    return Run(text, Ink(text_on(coat.colour) if mark else None, coat.colour, bold=bool(mark)))


def column_row(sheet: Sheet, page: Page) -> Row:
    """The names of the columns, as many as have room."""
    text = ""
    for middle, label in sheet.column_labels:
        at = max(middle - len(label) // 2, 0)
        if not text or at > len(text):
            text = f"{text:<{at}}{label}"
    return page.filled([page.run(text[: page.width])])


def strip_of_pages(
    labels: Sequence[str], coats: Sequence[Coat], chosen: int, axes: str, page: Page
) -> Row:
    """All pages side by side, the chosen one with its name on it; then what runs where.

    Where not all have room, those round the chosen one.
    """
    name = f" {labels[chosen]} "
    room = max(page.width - LABELS - len(name), 0)
    each = min(max(room // max(len(labels) - 1, 1), 1), WIDEST)
    first = min(max(chosen - room // 2, 0), max(len(labels) - 1 - room, 0))
    runs = [page.run(" " * LABELS)]
    for number in range(first, min(first + room + 1, len(labels)) if len(labels) > 1 else 0):
        wide, mark = (len(name), name) if number == chosen else (each, "")
        runs.append(chip_run(coats[number], mark, wide, page.look))
    left = page.width - width_of(runs) - 2
    if len(axes) <= left:
        runs.append(page.run(f"{axes:>{left}}", quiet=True))
    return page.filled(runs)


# The widget

HEAD = 2
"""Lines above the sheet: the strip of pages and the names of the columns."""
NARROW = 80
"""Columns below which hues stand in families."""


class DeckChart(Keyed, LineByLine, can_focus=True):
    """Draws the browser's page; `choose` is called with the chip moved to, `turn` with pages."""

    CONTEXT = "chart"

    def __init__(
        self, browser: DeckBrowser, shades: DeckShades, look: Look,
        choose: Callable[[int], None], turn: Callable[[int], None],
    ) -> None:  # fmt: skip
        super().__init__(look, id="chart")
        self.browser = browser
        self._shades, self._choose, self._turn = shades, choose, turn
        self._sheet = Sheet()
        self._marks: dict[int, str] = {}

    def fit(self) -> None:
        self.browser.set_narrow(narrow=self.size.width < NARROW)
        self._sheet = sheet_of(self.browser.shown_page, self.size.width, self._lines)
        self._shades.follow(self.browser.chips, self._sheet.tiles)
        self._marks = self._new_marks()
        self._reveal()
        self._strips.clear()

    def redraw_marks(self) -> None:
        """Another chip of the same page is chosen, or one was picked."""
        if not self.is_fitted:
            self.redraw()
            return
        before, self._marks = self._marks, self._new_marks()
        if self._reveal():
            self.forget_all()
            return
        changed = {chip for chip, _ in before.items() ^ self._marks.items()}
        for tile in (self._sheet.tiles[chip] for chip in changed & self._sheet.tiles.keys()):
            for y in range(tile.y, tile.y + tile.height):
                self.forget(y - self._top + HEAD, 1)

    def _new_marks(self) -> dict[int, str]:
        rows, picked = self.browser.chips.rows, self.browser.picked
        marks = {rows[chip]: str(i) for i, chip in enumerate(picked, 1) if chip in rows}
        chosen = self.browser.chosen_row
        if chosen is not None:
            marks[chosen] = f"{self.look.glyphs.here}{marks.get(chosen, '')}"
        return marks

    @property
    def _lines(self) -> int:
        return max(self.size.height - HEAD, 1)

    def _reveal(self) -> bool:
        """Scroll until the chosen chip is in view; whether anything moved."""
        chosen, top = self.browser.chosen_row, self._top
        tile = self._sheet.tiles.get(chosen) if chosen is not None else None
        if tile:
            top = min(max(top, tile.y + tile.height - self._lines), tile.y)
        return self.show_from(top)

    @property
    def lowest(self) -> int:
        return max(self._sheet.height - self._lines, 0)

    def row_at(self, y: int) -> Row:
        browser, chips = self.browser, self.browser.chips
        page = Page(self.look, self.size.width)
        if y == 0:
            used, labels = browser.pages
            if browser.page not in used:
                return ()
            examples = (browser.page_examples[each] for each in used)
            coats = [self._shades.coat(chips, row) for row in examples]
            axes = AXES[browser.arrangement]
            return strip_of_pages(labels, coats, used.index(browser.page), axes, page)
        if y == 1:
            return column_row(self._sheet, page)
        line = y - HEAD + self._top
        if line >= self._sheet.height:
            return ()
        return chart_row(self._sheet, line, page, partial(self._shades.coat, chips), self._marks)

    def action_go(self, way: str) -> None:
        step = -1 if way in {"up", "left"} else 1
        chosen, tiles = self.browser.chosen_row, self._sheet.tiles
        if chosen is not None and chosen in tiles:
            self._go_to((above if way in {"up", "down"} else beside)(self._sheet, chosen, step))
        else:
            self._go_to(next(iter(tiles), None))

    def _go_to(self, row: int | None) -> None:
        if row not in {None, self.browser.chosen_row}:
            self._choose(row)

    def action_page(self, step: int) -> None:
        self._turn(step)

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self)
        if at is not None and at.y >= HEAD:
            self._go_to(chip_at(self._sheet, at.x, at.y - HEAD + self._top))
