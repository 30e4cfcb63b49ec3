"""What all screens share: a key bar that tells what can be done, and running a command by name."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, ClassVar, cast

from textual.dom import DOMNode
from textual.screen import Screen

from housemap.tui.commands import ANY, Command
from housemap.tui.keys import bar_items
from housemap.tui.lines import Foot
from housemap.tui.render.bars import key_bar
from housemap.tui.render.look import Look
from housemap.tui.textual_fixes import LeftOnce

if TYPE_CHECKING:
    from housemap.tui.app import HousemapApp
    from housemap.workbench.session import Session


class ProgramScreen(LeftOnce, Screen[None]):
    """A screen with a Foot."""

    CONTEXT: ClassVar[str] = ""
    """Under which the table of commands names its keys."""

    @property
    def program(self) -> "HousemapApp":
        return cast("HousemapApp", self.app)

    @property
    def look(self) -> Look:
        return self.program.look

    @property
    def session(self) -> "Session | None":
        """The open house; None where there is none."""
        return None

    def _contexts(self) -> Iterator[tuple[str, DOMNode]]:
        """Contexts whose keys work now, with the node that has their actions; nearest first."""
        for node in (self.focused or self).ancestors_with_self:
            for owner in type(node).__mro__:
                if context := owner.__dict__.get("CONTEXT", ""):
                    yield context, node

    def contexts(self) -> Sequence[str]:
        return [*dict.fromkeys(context for context, _ in self._contexts())]

    async def run_command(self, command: Command) -> None:
        """Run a command of the table, as its key would."""
        nodes = dict(self._contexts())
        node = self.app if command.context == ANY else nodes.get(command.context)
        if node is not None:
            await self.app.run_action(command.action_text, default_namespace=node)

    def draw_keys(self) -> None:
        """Draw the key bar again: after the focus or what can be done changed."""
        typing = self.focused is not None and self.focused.check_consume_key("x", "x")
        items = bar_items(self.contexts(), self.program.keymap, self.session, typing=typing)
        look = self.look
        self.query_one(Foot).show_keys(lambda width: key_bar(items, width, look))

    def on_descendant_focus(self) -> None:
        self.draw_keys()

    def look_changed(self) -> None:
        """The greys changed: draw everything again."""
        self.draw_keys()

    def tell_change(self) -> None:
        """The house below changed: show it, unless this screen has no widgets yet (or any more)."""
        if self.is_composed:
            self.session_changed()

    @property
    def is_composed(self) -> bool:
        """Whether it has its widgets: a screen that was just pushed, or is left, has none."""
        return bool(self.query(Foot))

    def session_changed(self) -> None:
        """The house below this screen, its report or what is selected changed; to be overridden."""

    def say(self, text: str) -> None:
        """Tell the user something, where this screen has a place for it."""
