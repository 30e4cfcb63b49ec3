"""A line of the screen that says one thing."""

from collections.abc import Callable

from textual.strip import Strip
from textual.widget import Widget

from housemap.tui.render.runs import Row, strip_of

Draw = Callable[[int], Row]
"""A row for a width in cells."""


class Bar(Widget):
    """One row, drawn by whatever function it was given last."""

    ALLOW_SELECT = False
    DEFAULT_CSS = "Bar { height: 1; }"

    def __init__(self, draw: Draw = lambda _width: (), *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(id=id)
        self._draw = draw

    def show(self, draw: Draw) -> None:
        self._draw = draw
        self.refresh()

    def render_line(self, y: int) -> Strip:
        row = self._draw(self.size.width) if y == 0 else ()
        return strip_of(row, self.size.width)
