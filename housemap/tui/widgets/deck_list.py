"""The chips of a deck as a list."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from textual.message import Message

from housemap.colorimetry.cielab_difference import ciede2000
from housemap.tui.render.deck_list import chip_row, heading_row
from housemap.tui.render.deck_shades import DeckShades
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Row
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.session import Session


class DeckList(ListPanel):
    """A chip a line, and only those in view are ever made."""

    ENTRY_ROWS: ClassVar[int] = 1

    @dataclass
    class Chosen(Message):
        """A chip was moved to or clicked: its row in the deck."""

        row: int

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
        near = self.desk.wanted.near
        if near is not None:
            return f"{float(ciede2000(self.desk.chips.lab100[row], np.array(near))):.2f}"
        return self.desk.cost_text(row) if self.desk.order == "cost" else None

    def nothing(self, width: int) -> Sequence[Row]:
        line = Line(self.look, width)
        return [line.row((line.run(" "),), "None of the paints fits; esc shows all.")]

    def moved(self) -> None:
        self.post_message(self.Chosen(int(self.desk.rows[self.chosen_number])))
