"""What the palette finds: the commands of the table that can be run now, and the rooms."""

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any, cast

from textual.command import CommandList, CommandPalette, DiscoveryHit, Hit, Hits, Provider
from textual.content import Content
from textual.types import IgnoreReturnCallbackType

from housemap.tui.commands import commands_of
from housemap.tui.keys import keys_of
from housemap.tui.render.cells import fit, plain
from housemap.tui.textual_fixes import LeftOnce

if TYPE_CHECKING:
    from housemap.tui.screens.base import ProgramScreen


TITLE_COLUMNS = 44

Found = tuple[str, str, IgnoreReturnCallbackType]
"""Title, keys and what to run. Titles may hold names from a file: they are never markup."""


class Palette(LeftOnce, CommandPalette):
    """Textual's palette."""

    def _action_command_list(self, action: str) -> None:
        """Move in the list once it is laid out: Textual looks for its lines before."""
        if self.query_one(CommandList).scrollable_content_region:
            super()._action_command_list(action)


class CommandsProvider(Provider):
    """Commands and rooms for Textual's palette."""

    async def discover(self) -> Hits:
        for title, keys, run in self._commands():
            yield DiscoveryHit(_line(title, keys), run, text=title)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for title, keys, run in (*self._commands(), *self._rooms()):
            score = matcher.match(title)
            if score > 0:
                yield Hit(score, _line(title, keys), run, text=title)

    @property
    def _below(self) -> "ProgramScreen":
        """The screen under the palette."""
        return cast("ProgramScreen", self.screen)

    def _commands(self) -> Iterator[Found]:
        screen = self._below
        for command in commands_of(screen.contexts()):
            if command.id != "palette" and command.can_run(screen.session):
                keys = keys_of(command, screen.program.keymap)
                yield command.title, keys, partial(screen.run_command, command)

    def _rooms(self) -> Iterator[Found]:
        screen = self._below
        select: Any = getattr(screen, "select", None)
        if screen.session is None or select is None:
            return
        for room_id, room in screen.session.shown.rooms.items():
            yield f"Go to {plain(room.name)}", "", partial(select, room_id)


def _line(title: str, keys: str) -> Content:
    """A title with its keys at the right; as it stands, without markup."""
    return Content(f"{fit(title, TITLE_COLUMNS)} {keys}".rstrip())
