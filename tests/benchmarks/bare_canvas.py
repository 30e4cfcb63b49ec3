"""A bare canvas of the line API: 10 by 8 flat blocks, arrow keys move a marked one.

What a key costs here is the least that a map of flat rooms can cost in Textual.
"""

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.app import App, ComposeResult
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

COLUMNS, ROWS = 10, 8
BLOCK_WIDTH, BLOCK_HEIGHT = 16, 6
READY = "block 79"
STEPS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}


class Blocks(Widget, can_focus=True):
    DEFAULT_CSS = "Blocks { width: 1fr; height: 1fr; }"

    def __init__(self) -> None:
        super().__init__()
        self.chosen = (0, 0)
        shades = [f"#{90 + i:02x}{96 + i:02x}{84 + i:02x}" for i in range(COLUMNS * ROWS)]
        self.plain = [Style.parse(f"#101010 on {shade}") for shade in shades]
        self.marked = Style.parse("bold #101010 on #f0c060")

    def render_line(self, y: int) -> Strip:
        row, line = divmod(y, BLOCK_HEIGHT)
        if row >= ROWS:
            return Strip.blank(self.size.width)
        return Strip([self._segment(column, row, line) for column in range(COLUMNS)])

    def _segment(self, column: int, row: int, line: int) -> Segment:
        number = row * COLUMNS + column
        style = self.marked if (column, row) == self.chosen else self.plain[number]
        text = f" block {number}" if line == 1 else ""
        return Segment(text.ljust(BLOCK_WIDTH), style)

    def on_key(self, event: events.Key) -> None:
        if event.key not in STEPS:
            return
        (x, y), (dx, dy) = self.chosen, STEPS[event.key]
        self.chosen = ((x + dx) % COLUMNS, (y + dy) % ROWS)
        self.refresh(_region(x, y), _region(*self.chosen))


def _region(column: int, row: int) -> Region:
    return Region(column * BLOCK_WIDTH, row * BLOCK_HEIGHT, BLOCK_WIDTH, BLOCK_HEIGHT)


class BareCanvas(App[None]):
    def compose(self) -> ComposeResult:
        yield Blocks()

    def on_mount(self) -> None:
        self.query_one(Blocks).focus()


if __name__ == "__main__":
    BareCanvas(ansi_color=False).run()
