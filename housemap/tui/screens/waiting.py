"""What stands on the screen while a house is read: the first frame, with nothing behind it."""

from collections.abc import Callable
from pathlib import Path

from textual.app import ComposeResult
from textual.strip import Strip

from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.runs import PLAIN
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.strips import strip_of
from housemap.tui.widgets.bar import Bar, Foot
from housemap.tui.widgets.drawn import Drawn


class Ground(Drawn):
    """Nothing; a bare widget would show its own name."""

    def render_line(self, y: int) -> Strip:
        del y
        return strip_of((), self.size.width, PLAIN)


class WaitingScreen(ProgramScreen):
    """Shows which file is being opened, and has it opened once that is on the screen."""

    def __init__(self, file: Path, then: Callable[[], object]) -> None:
        super().__init__()
        self._file, self._then = file, then

    def compose(self) -> ComposeResult:
        look = self.look
        yield Bar(lambda width: head_line(self._file.name, (), "", width, look), id="head")
        yield Ground(id="ground")
        yield Foot()

    def on_mount(self) -> None:
        look, words = self.look, self.program.depth.words
        told = "Reading the house"
        self.query_one(Foot).show_status(lambda width: status_line(told, words, width, look))
        self.draw_keys()
        self.call_after_refresh(self._then)
