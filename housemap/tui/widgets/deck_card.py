"""The panel beside a deck's chart or list: the chosen chip."""

from collections.abc import Callable, Sequence

from housemap.tui.render.look import Look
from housemap.tui.render.runs import Row
from housemap.tui.widgets.rows import Rows

Draw = Callable[[int, int], Sequence[Row]]
"""Rows for a width and a height in cells."""


class DeckCard(Rows, can_focus=False):
    """Shows rows that somebody else draws."""

    def __init__(self, draw: Draw, look: Look) -> None:
        super().__init__(look, id="chip")
        self._draw_card = draw

    def draw(self, width: int) -> Sequence[Row]:
        return self._draw_card(width, self.size.height)
