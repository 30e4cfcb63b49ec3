"""A page of text over the whole screen, such as the help."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from housemap.tui.commands import PAGE
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.render.bars import head_line
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.scroller import Rows

DrawPage = Callable[[int], Sequence[Row]]
"""Rows for a width in cells."""


class PageRows(Rows, can_focus=True):
    """The scrolling text of a page."""

    def __init__(self, draw: DrawPage, look: Look) -> None:
        super().__init__(look, id="page")
        self._draw_page = draw

    def draw(self, width: int) -> Sequence[Row]:
        return self._draw_page(width)


class PageScreen(ProgramScreen):
    """Shows rows until escape."""

    CONTEXT: ClassVar[str] = PAGE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(PAGE)]

    def __init__(self, title: str, draw: DrawPage) -> None:
        super().__init__()
        self._title, self._page = title, draw

    def compose(self) -> ComposeResult:
        look = self.look
        yield Bar(lambda width: head_line(self._title, (), "", width, look), id="head")
        yield PageRows(self._page, look)
        yield Foot()

    def on_mount(self) -> None:
        self.query_one(PageRows).focus()
        self.draw_keys()

    def action_back(self) -> None:
        self.dismiss()

    def action_page(self, pages: int) -> None:
        self.query_one(PageRows).scroll_pages(pages)

    def action_line(self, lines: int) -> None:
        self.query_one(PageRows).scroll_rows(lines)
