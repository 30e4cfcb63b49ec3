"""What the palette finds: the commands of the table that can be run now, and the rooms."""

from collections.abc import Iterator, Mapping
from functools import partial
from typing import TYPE_CHECKING, Any, cast

from textual.command import CommandList, CommandPalette, DiscoveryHit, Hit, Hits, Provider
from textual.content import Content
from textual.types import IgnoreReturnCallbackType

from housemap.tui.commands import COMMANDS, commands_of
from housemap.tui.keys import keys_of
from housemap.tui.render.cells import fit, plain
from housemap.tui.textual_fixes import LeftOnce

if TYPE_CHECKING:
    from housemap.tui.program_screen import ProgramScreen


TITLE_COLUMNS = 44

OTHER_WORDS: Mapping[str, tuple[str, ...]] = {
    "suggest": ("fill", "deck-propose", "fill-deck"), "propose": ("fill", "deck-propose"),
    "palette": ("fill", "deck-propose", "board"), "scheme": ("fill", "deck-propose"),
    "accept": ("findings", "remedy", "limit"), "ignore": ("findings", "limit"),
    "problems": ("findings",), "warnings": ("findings",), "errors": ("findings",),
    "sample": ("samples",), "tester": ("samples",), "test pot": ("samples",),
    "print": ("schedule", "schedule-write"), "painter": ("schedule",), "shopping": ("schedule",),
    "tins": ("schedule",), "litres": ("schedule",), "price": ("schedule",), "quote": ("schedule",),
    "export": ("schedule", "schedule-write"), "pdf": ("schedule", "schedule-write"),
    "add a paint": ("decks", "reading"), "new paint": ("decks", "reading"),
    "hex": ("decks", "reading"), "fan deck": ("decks",), "swatch": ("decks", "board"),
    "import": ("decks", "shelf-bring"), "colour": ("choose", "decks"), "repaint": ("choose",),
    "feature wall": ("choose-accent",), "accent wall": ("choose-accent",),
    "gloss": ("sheen",), "matt": ("sheen",), "eggshell": ("sheen",), "finish": ("sheen", "parts"),
    "woodwork": ("surface-trim",), "skirting": ("surface-trim",),
    "wishes": ("edit-house",), "brief": ("edit-house",), "north": ("edit-house",),
    "compass": ("edit-house",), "client": ("edit-house",), "feet": ("edit-house",),
    "measure": ("survey",), "room size": ("survey", "edit-room"), "add a room": ("survey",),
    "window": ("survey", "parts"), "lamp": ("survey", "parts"), "door": ("survey", "parts"),
    "rename": ("edit-room",), "delete": ("parts",), "floor": ("parts",), "tile": ("parts",),
    "evening": ("light",), "daylight": ("light", "light-page"), "night": ("light",),
    "history": ("revisions",), "version": ("revisions",), "earlier": ("revisions",),
    "3d": ("walk",), "look around": ("walk",), "visit": ("tick", "note", "route"),
    "exit": ("quit",), "keys": ("help",), "dark": ("greys",), "theme": ("greys",),
}  # fmt: skip
"""What people call things, each with the commands that do it."""
BY_OTHER_WORD = 0.8
"""The score of a command that is found by one of them."""

Found = tuple[str, str, IgnoreReturnCallbackType]
"""Title, keys and what to run. Titles may hold names from a file: they are never markup."""


class Palette(LeftOnce, CommandPalette):
    """Textual's palette."""

    def _action_command_list(self, action: str) -> None:
        """Move in the list once it is laid out: Textual looks for its lines before."""
        if self.query_one(CommandList).scrollable_content_region:
            super()._action_command_list(action)


def commands_called(query: str) -> frozenset[str]:
    """The titles of the commands that go by another word, which may be typed in part."""
    typed = query.casefold().strip()
    if not typed:
        return frozenset()
    ids = {id_ for word, ids in OTHER_WORDS.items() if word.startswith(typed) for id_ in ids}
    return frozenset(command.title for command in COMMANDS if command.id in ids)


class CommandsProvider(Provider):
    """Commands and rooms for Textual's palette."""

    async def discover(self) -> Hits:
        for title, keys, run in self._commands():
            yield DiscoveryHit(_line(title, keys), run, text=title)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        meant = commands_called(query)
        for title, keys, run in (*self._commands(), *self._rooms()):
            score = max(matcher.match(title), BY_OTHER_WORD * (title in meant))
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
