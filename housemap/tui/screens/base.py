"""What all screens share: a key bar that tells what can be done, and a line for messages."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar, cast

from textual.screen import Screen

from housemap.session import Session
from housemap.tui.keys import bar_items
from housemap.tui.render.bars import key_bar
from housemap.tui.render.look import Look
from housemap.tui.widgets.bar import Bar

if TYPE_CHECKING:
    from housemap.tui.app import HousemapApp

LEAST_COLUMNS, LEAST_ROWS = 60, 18
"""The smallest terminal that the screens are made for."""


class ProgramScreen(Screen[None]):
    """A screen whose last line is the key bar."""

    CONTEXT: ClassVar[str] = ""
    """Under which the table of commands names its keys."""

    @property
    def program(self) -> "HousemapApp":
        return cast("HousemapApp", self.app)

    @property
    def look(self) -> Look:
        return self.program.look

    @property
    def session(self) -> Session | None:
        """The open house; None where there is none."""
        return None

    def contexts(self) -> Sequence[str]:
        """The contexts whose keys work now, the nearest to the focus first."""
        nodes = self.focused.ancestors_with_self if self.focused else [self]
        found = (getattr(node, "CONTEXT", "") for node in nodes)
        return [*dict.fromkeys(context for context in found if context)]

    def draw_keys(self) -> None:
        """Draw the key bar again: after the focus or what can be done changed."""
        items = bar_items(self.contexts(), self.program.keymap, self.session)
        look = self.look
        self.query_one("#keys", Bar).show(lambda width: key_bar(items, width, look))

    def on_descendant_focus(self) -> None:
        self.draw_keys()

    def look_changed(self) -> None:
        """The greys changed: draw everything again."""
        self.draw_keys()
