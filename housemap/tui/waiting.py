"""What stands on the screen while a house is opened: the first frame, with nothing behind it."""

from collections.abc import Callable, Sequence
from pathlib import Path

from textual.app import ComposeResult
from textual.geometry import Region
from textual.strip import Strip

from housemap.tui.ahead import Ahead
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.cells import PLAIN, Row
from housemap.tui.scroller import Bar, Drawn, Foot
from housemap.tui.strips import strip_of

WAIT_S = 0.06
"""How long the first frame may wait for its picture."""


class Ground(Drawn):
    """Draws the rows that it has, and goes on once they are drawn."""

    def __init__(self, rows: Sequence[Row], then: Callable[[], object]) -> None:
        super().__init__(id="ground")
        self._rows, self._then, self._drawn = rows, then, False

    def render_lines(self, crop: Region) -> list[Strip]:
        if not self._drawn:
            self._drawn = True
            # Not after the next refresh: that is a sixtieth of a second later.
            self.app.call_later(self._then)
        return super().render_lines(crop)

    def render_line(self, y: int) -> Strip:
        row = self._rows[y] if y < len(self._rows) else ()
        return strip_of(row, self.size.width, PLAIN)


class WaitingScreen(ProgramScreen):
    """Shows the house as it was drawn ahead, else the file's name; then has the house opened."""

    def __init__(self, file: Path, ahead: Ahead | None, then: Callable[[], object]) -> None:
        super().__init__()
        self._file, self._ahead, self._then = file, ahead, then

    def compose(self) -> ComposeResult:
        if rows := self._rows_ahead():
            yield Ground(rows, self._then)
            return
        look, words = self.look, self.program.depth.words
        yield Bar(lambda width: head_line(self._file.name, (), (), width, look), id="head")
        yield Ground((), self._then)
        foot = Foot()
        foot.show_status(lambda width: status_line("Reading the house", words, width, look))
        yield foot

    def _rows_ahead(self) -> Sequence[Row]:
        """The rows of the whole screen, where they were drawn in time and for this size."""
        picture = self._ahead.picture(WAIT_S) if self._ahead else None
        return picture.rows if picture and picture.size == self.app.size else ()

    def on_mount(self) -> None:
        for _ in self.query(Foot):
            self.draw_keys()
