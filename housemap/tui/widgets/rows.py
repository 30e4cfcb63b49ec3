"""Rows of runs that scroll: the ground of every panel that shows facts."""

from collections.abc import Sequence

from textual.events import MouseScrollDown, MouseScrollUp
from textual.strip import Strip

from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink, Row
from housemap.tui.render.scrolled import row_on_show
from housemap.tui.strips import strip_of
from housemap.tui.widgets.drawn import Drawn

WHEEL_ROWS = 3


class Rows(Drawn):
    """Shows rows made by a pure function: override `draw`, and call `redraw` for other rows.

    It scrolls by itself: a ScrollView would lay out the whole screen at every change of length.
    """

    def __init__(self, look: Look, *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(id=id)
        self.look = look
        self._rows: Sequence[Row] = ()
        self._top = 0
        self._strips: dict[int, Strip] = {}

    def draw(self, width: int) -> Sequence[Row]:
        """The rows for a width in cells; to be overridden."""
        raise NotImplementedError

    def fit(self) -> None:
        self._rows = self.draw(self.size.width)
        self._strips.clear()
        self._top = min(self._top, self._most)

    @property
    def _most(self) -> int:
        """The last row that may stand at the top."""
        return max(len(self._rows) - self.size.height, 0)

    @property
    def top(self) -> int:
        """The first row on show."""
        return self._top

    def scroll_rows(self, by: int) -> None:
        """Show rows further down (above 0) or up."""
        top = min(max(self._top + by, 0), self._most)
        if self.is_fitted and top != self._top:
            self._top = top
            self._strips.clear()
            self.refresh()

    def scroll_pages(self, by: int) -> None:
        self.scroll_rows(by * max(self.size.height - 2, 1))

    def reveal(self, row: int) -> None:
        """Bring a row on show."""
        self.scroll_rows(min(row - self._top, 0) or max(row - self._top - self.size.height + 1, 0))

    def on_mouse_scroll_up(self, event: MouseScrollUp) -> None:
        event.stop()
        self.scroll_rows(-WHEEL_ROWS)

    def on_mouse_scroll_down(self, event: MouseScrollDown) -> None:
        event.stop()
        self.scroll_rows(WHEEL_ROWS)

    def render_line(self, y: int) -> Strip:
        strip = self._strips.get(y)
        if strip is None:
            strip = self._strips[y] = self._new_strip(y)
        return strip

    def _new_strip(self, y: int) -> Strip:
        fill = Ink(self.look.greys.text, self.look.greys.panel)
        row = row_on_show(self._rows, self._top, y, self.size.height, self.look)
        return strip_of(row, self.size.width, fill)
