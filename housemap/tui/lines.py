"""Lines of the screen that each say one thing."""

from collections.abc import Callable

from textual.strip import Strip

from housemap.tui.render.cells import PLAIN, Row
from housemap.tui.scroller import Drawn
from housemap.tui.strips import strip_of

Draw = Callable[[int], Row]
"""A row for a width in cells."""


def _empty(_width: int) -> Row:
    return ()


class Bar(Drawn):
    """One line, or a few; each drawn by the function that it was given last."""

    def __init__(self, *draws: Draw, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(id=id)
        self._draws = list(draws or (_empty,))
        self._strips: dict[int, Strip] = {}
        self.styles.height = len(self._draws)

    def show(self, draw: Draw, line: int = 0) -> None:
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
    """The last two lines of a screen: what is told, and the keys."""

    def __init__(self) -> None:
        super().__init__(_empty, _empty, id="foot")

    def show_status(self, draw: Draw) -> None:
        self.show(draw, 0)

    def show_keys(self, draw: Draw) -> None:
        self.show(draw, 1)
