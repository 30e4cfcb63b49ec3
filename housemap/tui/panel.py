"""What is beside the map, and what may take its place: one of each at a time, nothing is veiled.

A panel has a CONTEXT and BINDINGS = bindings_of(CONTEXT), the actions of its keys, and reports by
messages to the task that opened it.
"""

from collections.abc import Sequence
from typing import ClassVar

from textual.widget import Widget

from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.scroller import Drawn, Rows
from housemap.workbench.session import Session


class Stage(Drawn):
    """What takes the largest place of the screen: the map, or the walk in its place."""

    def zoom(self, steps: int) -> None:
        """Enlarge (above 0) or reduce; 0 shows it as usual."""
        raise NotImplementedError


class Panel(Widget):
    """A panel of widgets, such as a form or a list with a search field."""

    CONTEXT: ClassVar[str] = ""
    """Under which the table of commands names its keys."""
    BAR: ClassVar[tuple[str, ...]] = ()
    """The commands that the key bar shows while it has the keys."""

    @property
    def bar(self) -> Sequence[str]:
        """Those of them that matter now."""
        return self.BAR

    def follow(self, session: Session) -> None:
        """The house, the selection or the report changed."""

    def show_look(self, look: Look) -> None:
        """The greys or the characters changed."""

    def enter(self) -> None:
        """Take the focus: itself, unless a field of the panel should have it."""
        self.focus()


class RowsPanel(Panel, Rows, can_focus=True):
    """A panel that shows rows of runs."""

    def __init__(self, session: Session, look: Look, *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(look, id=id)
        self.session = session

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def show_look(self, look: Look) -> None:
        self.look = look
        self.redraw()

    def draw(self, width: int) -> Sequence[Row]:
        raise NotImplementedError
