"""Widgets that draw every line themselves, to their full width."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.events import MouseScrollDown, MouseScrollUp
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

from housemap.tui.render.cells import PLAIN, Ink, Row, Run, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page, row_on_show
from housemap.tui.strips import strip_of

NOWHERE = Size(0, 0)


class Drawn(Widget):
    """A widget without border or padding whose `render_line` gives strips as wide as it is.

    Textual would put each line through its styles and filters at every frame, also the lines that
    did not change; nothing of that applies here, and it costs half the time of a key.
    """

    ALLOW_SELECT = False

    def __init__(self, look: Look | None = None, *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(id=id)
        self.look = look or Look()

    def show_look(self, look: Look) -> None:
        """The greys or the characters changed."""
        self.look = look
        self.redraw()

    fitted = NOWHERE
    """The size for which what is shown now was prepared; NOWHERE: it is to be prepared anew."""

    def fit(self) -> None:
        """Prepare what depends on the size and on what is shown: called before the first line of
        each size is drawn, and by `redraw`; never without a size.

        A resize event comes only after that, and would have everything drawn twice.
        """  # noqa: D205 - one sentence

    @property
    def is_fitted(self) -> bool:
        """Whether what is shown was prepared for the size as it is: so not while it is hidden."""
        return self.size == self.fitted != NOWHERE

    def redraw(self) -> None:
        """Show something else: prepared now where it has a size, else once it has one."""
        self.fitted = NOWHERE
        self._fit_to_size()
        self.refresh()

    def _fit_to_size(self) -> None:
        if self.size:
            self.fitted = self.size
            self.fit()

    def render_lines(self, crop: Region) -> list[Strip]:
        if self.size != self.fitted:
            self._fit_to_size()
        strips = [self.render_line(y) for y in crop.line_range]
        if crop.column_span == (0, self.size.width):
            return strips
        return [strip.crop(*crop.column_span) for strip in strips]


class LineByLine(Drawn):
    """Draws rows of runs, a line when it is first on show, and keeps what was drawn."""

    WHEEL: ClassVar[int] = 3
    """How far a turn of the wheel scrolls."""

    def __init__(self, look: Look, *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(look, id=id)
        self._strips: dict[int, Strip] = {}
        self._top = 0

    def row_at(self, y: int) -> Row:
        """The row on show in a line; to be overridden."""
        raise NotImplementedError

    @property
    def lowest(self) -> int:
        """The last row, or entry, that may be at the top; to be overridden by what scrolls."""
        return 0

    @property
    def top(self) -> int:
        """The first row, or entry, on show."""
        return self._top

    def show_from(self, top: int) -> bool:
        """Have another row, or entry, at the top; whether that moved anything."""
        before, self._top = self._top, min(max(top, 0), self.lowest)
        return self._top != before

    def wheel(self, by: int) -> None:
        """Scroll; what is chosen stays chosen, in view or not."""
        if self.show_from(self._top + by):
            self.forget_all()

    def render_line(self, y: int) -> Strip:
        strip = self._strips.get(y)
        if strip is None:
            fill = Ink(self.look.greys.text, self.look.greys.panel)
            strip = self._strips[y] = strip_of(self.row_at(y), self.size.width, fill)
        return strip

    def forget(self, first: int, count: int) -> None:
        """Have so many lines drawn again."""
        for y in range(first, first + count):
            self._strips.pop(y, None)
        self.refresh(Region(0, first, self.size.width, count))

    def forget_all(self) -> None:
        self._strips.clear()
        self.refresh()

    def on_mouse_scroll_up(self, event: MouseScrollUp) -> None:
        event.stop()
        self.wheel(-self.WHEEL)

    def on_mouse_scroll_down(self, event: MouseScrollDown) -> None:
        event.stop()
        self.wheel(self.WHEEL)


# Rows of runs that scroll: the ground of every panel that shows facts.


class Rows(LineByLine):
    """Shows rows made by a pure function: override `draw`, and call `redraw` for other rows.

    It scrolls by itself: a ScrollView would lay out the whole screen at every change of length.
    """

    _rows: Sequence[Row] = ()

    def draw(self, width: int) -> Sequence[Row]:
        """The rows for a width in cells; to be overridden."""
        raise NotImplementedError

    def fit(self) -> None:
        self._rows = self.draw(self.size.width)
        self._strips.clear()
        self.show_from(self._top)

    @property
    def lowest(self) -> int:
        return max(len(self._rows) - self.size.height, 0)

    def scroll_rows(self, by: int) -> None:
        """Show rows further down (above 0) or up."""
        if self.is_fitted:
            self.wheel(by)

    def scroll_pages(self, by: int) -> None:
        self.scroll_rows(by * max(self.size.height - 2, 1))

    def go_to_end(self, end: int) -> None:
        """Show the first rows (below 0) or the last."""
        self.scroll_rows(end * len(self._rows))

    def reveal(self, row: int) -> None:
        self.scroll_rows(min(row - self._top, 0) or max(row - self._top - self.size.height + 1, 0))

    def row_at(self, y: int) -> Row:
        return row_on_show(self._rows, self._top, y, self.size.height, self.look)


# What stands in the place of the map where the terminal is too small for it.

LEAST_COLUMNS, LEAST_ROWS = 60, 18
"""The smallest terminal that the screens are made for."""


class TooSmall(Widget):
    def render_line(self, y: int) -> Strip:
        here = self.app.size
        text = (
            f"Make the window larger: it must have {LEAST_COLUMNS} columns and {LEAST_ROWS} rows,"
            f" and has {here.width} and {here.height}."
        )
        lines = wrap(text, min(self.size.width, here.width))
        row = (Run(lines[y], PLAIN),) if y < len(lines) else ()
        return strip_of(row, self.size.width)


Draw = Callable[[Page, int], Sequence[Row]]
"""Rows for a page and a height in cells."""


class DrawnRows(Rows, can_focus=False):
    """Shows rows that somebody else draws."""

    def __init__(self, draw: Draw, look: Look, *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(look, id=id)
        self._draw_rows = draw

    def draw(self, width: int) -> Sequence[Row]:
        return self._draw_rows(Page(self.look, width), self.size.height)


# Lines of the screen that each say one thing.

DrawLine = Callable[[int], Row]
"""A row for a width in cells."""


def _no_row(_width: int) -> Row:
    return ()


class Bar(Drawn):
    """One line, or a few; each drawn by the function that it was given last."""

    def __init__(self, *draws: DrawLine, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(id=id)
        self._draws = list(draws or (_no_row,))
        self._strips: dict[int, Strip] = {}
        self.styles.height = len(self._draws)

    def show(self, draw: DrawLine, line: int = 0) -> None:
        self._draws[line] = draw
        self._strips.pop(line, None)
        self.refresh()

    def fit(self) -> None:
        self._strips.clear()

    def render_line(self, y: int) -> Strip:
        strip = self._strips.get(y)
        if strip is None:
            row = self._draws[y](self.size.width) if y < len(self._draws) else ()
            strip = self._strips[y] = strip_of(row, self.size.width, row[-1].ink if row else PLAIN)
        return strip


class Foot(Bar):
    """The last two lines of a screen: its message or hint, and the keys."""

    STATUS, KEYS = 0, 1

    def __init__(self) -> None:
        super().__init__(_no_row, _no_row, id="foot")
