"""Rows of runs that scroll: the ground of every panel that shows facts."""

from collections.abc import Sequence

from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink, Row, strip_of


class Rows(ScrollView):
    """Shows rows made by a pure function; `draw` makes them for a width in cells.

    A panel sets `rows_for(width)` by overriding `draw`, and calls `redraw` when it has other rows.
    """

    ALLOW_SELECT = False
    DEFAULT_CSS = "Rows { overflow-x: hidden; scrollbar-size-vertical: 1; }"

    def __init__(self, look: Look, *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(id=id)
        self.look = look
        self._rows: Sequence[Row] = ()
        self._width = 0

    def draw(self, width: int) -> Sequence[Row]:
        """The rows for a width in cells; to be overridden."""
        raise NotImplementedError

    def redraw(self) -> None:
        """Make the rows again."""
        self._width = width = self.scrollable_content_region.width
        if width:
            self._rows = self.draw(width)
            self.virtual_size = Size(width, len(self._rows))
            self.refresh()

    def on_resize(self) -> None:
        self.redraw()

    def render_line(self, y: int) -> Strip:
        width = self.scrollable_content_region.width
        if width != self._width:
            self.call_after_refresh(self.redraw)
        at = y + self.scroll_offset.y
        fill = Ink(self.look.greys.text, self.look.greys.panel)
        row = self._rows[at] if at < len(self._rows) else ()
        return strip_of(row, width, fill)
