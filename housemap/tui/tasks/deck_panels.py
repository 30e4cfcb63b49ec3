"""The chart of a deck: a page of chips that scrolls, one of them chosen."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from textual.binding import BindingType
from textual.events import Click, MouseScrollDown, MouseScrollUp
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip

from housemap.colorimetry.cielab_difference import ciede2000
from housemap.tui.commands import CHART, DECK_LIST
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Ink, Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line
from housemap.tui.scroller import Drawn
from housemap.tui.strips import strip_of
from housemap.tui.tasks.deck_drawing import (
    AXES,
    DeckShades,
    Sheet,
    Showing,
    above,
    beside,
    chart_row,
    chip_at,
    chip_row,
    column_row,
    heading_row,
    sheet_of,
    strip_row,
)
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.session import Session

HEAD = 2
"""Lines above the sheet: the strip of pages and the names of the columns."""
WHEEL_LINES = 3
Way = Callable[[Sheet, int, int], int]
"""From a chip to another one, by so many steps."""
NARROW = 80
"""Columns below which hues stand in families."""


class DeckChart(Drawn, can_focus=True):
    """Draws the desk's page and reports what is chosen on it."""

    CONTEXT: ClassVar[str] = CHART
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CHART)]

    @dataclass
    class Chosen(Message):
        """A chip was moved to or clicked: its row in the deck."""

        row: int

    @dataclass
    class PageTurned(Message):
        """Another page is wanted."""

        step: int

    def __init__(self, desk: DeckBrowser, shades: DeckShades, look: Look) -> None:
        super().__init__(id="chart")
        self.desk, self.look = desk, look
        self._shades = shades
        self._sheet = Sheet()
        self._marks: dict[int, str] = {}
        self._top = 0
        self._strips: dict[int, Strip] = {}

    # Following the desk

    def fit(self) -> None:
        """Lay the page out."""
        self.desk.set_narrow(narrow=self.size.width < NARROW)
        self._sheet = sheet_of(self.desk.shown_page, self.size.width, self._lines)
        self._shades.follow(self.desk.chips, self._sheet.tiles)
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
            self._forget_all()
            return
        changed = {chip for chip, _ in before.items() ^ self._marks.items()}
        for tile in (self._sheet.tiles[chip] for chip in changed & self._sheet.tiles.keys()):
            for y in range(tile.y, tile.y + tile.height):
                line = y - self._top + HEAD
                self._strips.pop(line, None)
                self.refresh(Region(0, line, self.size.width, 1))

    def _new_marks(self) -> dict[int, str]:
        rows, look = self.desk.chips.rows, self.look
        marks = {rows[chip]: str(i) for i, chip in enumerate(self.desk.picked, 1) if chip in rows}
        chosen = self.desk.chosen_row
        if chosen is not None:
            marks[chosen] = f"{look.glyphs.here}{marks.get(chosen, '')}"
        return marks

    @property
    def _lines(self) -> int:
        return max(self.size.height - HEAD, 1)

    def _reveal(self) -> bool:
        """Scroll until the chosen chip is in view; whether anything moved."""
        chosen, top = self.desk.chosen_row, self._top
        tile = self._sheet.tiles.get(chosen) if chosen is not None else None
        if tile:
            top = min(max(top, tile.y + tile.height - self._lines), tile.y)
        return self._show_from(top)

    def _show_from(self, top: int) -> bool:
        before = self._top
        self._top = min(max(top, 0), max(self._sheet.height - self._lines, 0))
        return self._top != before

    def _forget_all(self) -> None:
        self._strips.clear()
        self.refresh()

    # Drawing

    def render_line(self, y: int) -> Strip:
        strip = self._strips.get(y)
        if strip is None:
            fill = Ink(self.look.greys.text, self.look.greys.panel)
            strip = self._strips[y] = strip_of(self._row(y), self.size.width, fill)
        return strip

    def _row(self, y: int) -> Row:
        chips, shades = self.desk.chips, self._shades
        showing = Showing(
            self.look, self.size.width, lambda row: shades.coat(chips, row), self._marks
        )
        if y == 0:
            return self._strip_of_pages(showing)
        if y == 1:
            return column_row(self._sheet, showing)
        line = y - HEAD + self._top
        return chart_row(self._sheet, line, showing) if line < self._sheet.height else ()

    def _strip_of_pages(self, showing: Showing) -> Row:
        used, labels = self.desk.pages
        if self.desk.page not in used:
            return ()
        examples = self.desk.page_examples
        coats = [showing.coats(examples[page]) for page in used]
        axes = AXES[self.desk.arrangement]
        return strip_row(labels, coats, used.index(self.desk.page), axes, showing)

    # What the user does

    def action_go(self, way: str) -> None:
        step = -1 if way in {"up", "left"} else 1
        self._go(above if way in {"up", "down"} else beside, step)

    def _go(self, way: Way, step: int) -> None:
        chosen = self.desk.chosen_row
        if chosen is not None and chosen in self._sheet.tiles:
            self._choose(way(self._sheet, chosen, step))
        elif self._sheet.tiles:
            self._choose(next(iter(self._sheet.tiles)))

    def _choose(self, row: int) -> None:
        if row != self.desk.chosen_row:
            self.post_message(self.Chosen(row))

    def action_page(self, step: int) -> None:
        self.post_message(self.PageTurned(step))

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self)
        if at is None or at.y < HEAD:
            return
        row = chip_at(self._sheet, at.x, at.y - HEAD + self._top)
        if row is not None:
            self._choose(row)

    def on_mouse_scroll_up(self, event: MouseScrollUp) -> None:
        event.stop()
        self._wheel(-WHEEL_LINES)

    def on_mouse_scroll_down(self, event: MouseScrollDown) -> None:
        event.stop()
        self._wheel(WHEEL_LINES)

    def _wheel(self, by: int) -> None:
        if self._show_from(self._top + by):
            self._forget_all()


# The chips of a deck as a list.


class DeckList(ListPanel):
    """A chip a line, and only those in view are ever made."""

    CONTEXT: ClassVar[str] = DECK_LIST
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(DECK_LIST)]
    ENTRY_ROWS: ClassVar[int] = 1

    @dataclass
    class Chosen(Message):
        """A chip was moved to or clicked: its row in the deck."""

        row: int

    @dataclass
    class Ordered(Message):
        """The list is in another order."""

    def __init__(self, session: Session, desk: DeckBrowser, shades: DeckShades, look: Look) -> None:
        super().__init__(session, look)
        self.id = "list"
        self.desk, self._shades = desk, shades

    def show_desk(self) -> None:
        """Show the chips in their order, with the chosen one in view."""
        self.show_entries(self.desk.rows.tolist(), self.desk.chosen_row)
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:  # noqa: ARG002 - it has one height
        near = self.desk.swatch_of(self.desk.near)
        return [heading_row(self.desk.order, near.name if near else "", Line(self.look, width))]

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        chips = self.desk.chips
        row = int(self.desk.rows[number])
        swatch = chips.swatches[row]
        picked = self.desk.picked
        mark = str(picked.index(swatch.id) + 1) if swatch.id in picked else ""
        coat = self._shades.coat(chips, row)
        return [chip_row(swatch, coat, self._figure(row), mark, Line(self.look, width, chosen))]

    def _figure(self, row: int) -> str | None:
        """How far it is from what it is to be near to, or what it costs."""
        near = self.desk.query.near
        if near is not None:
            return f"{float(ciede2000(self.desk.chips.lab100[row], np.array(near))):.2f}"
        return self.desk.cost_text(row) if self.desk.order == "cost" else None

    def nothing(self, width: int) -> Sequence[Row]:
        line = Line(self.look, width)
        return [line.row((line.run(" "),), "None of the paints fits; esc shows all.")]

    def moved(self) -> None:
        self.post_message(self.Chosen(int(self.desk.rows[self.chosen_number])))

    def step_aside(self, by: int) -> None:
        self.desk.next_order(by)
        self.post_message(self.Ordered())
