"""What stands on the screen while a house is read: the first frame, with nothing behind it."""

from collections.abc import Callable
from pathlib import Path

from textual.app import ComposeResult
from textual.widget import Widget

from housemap.tui.render.bars import head_line, status_line
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.widgets.bar import Bar, Foot


class WaitingScreen(ProgramScreen):
    """Shows which file is being opened, and has it opened once that is on the screen."""

    def __init__(self, file: Path, then: Callable[[], object]) -> None:
        super().__init__()
        self._file, self._then = file, then

    def compose(self) -> ComposeResult:
        look = self.look
        yield Bar(lambda width: head_line(self._file.name, (), "", width, look), id="head")
        yield Widget(id="ground")
        yield Foot()

    def on_mount(self) -> None:
        look, words = self.look, self.program.depth.words
        told = "Reading the house"
        self.query_one(Foot).show_status(lambda width: status_line(told, words, width, look))
        self.draw_keys()
        self.call_after_refresh(self._then)
