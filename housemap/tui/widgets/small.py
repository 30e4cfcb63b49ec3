"""What stands in the place of the map where the terminal is too small for it."""

from textual.strip import Strip
from textual.widget import Widget

from housemap.tui.render.runs import PLAIN, Run
from housemap.tui.render.text import cut
from housemap.tui.strips import strip_of

LEAST_COLUMNS, LEAST_ROWS = 60, 18
"""The smallest terminal that the screens are made for."""


class TooSmall(Widget):
    """Says how large the terminal has to be."""

    def render_line(self, y: int) -> Strip:
        here = self.app.size
        text = f"needs {LEAST_COLUMNS} x {LEAST_ROWS}, has {here.width} x {here.height}"
        row = (Run(cut(text, self.size.width), PLAIN),) if y == 0 else ()
        return strip_of(row, self.size.width)
