"""The finder: type what a thing is called, and run it. Commands, rooms, and what has no key."""

from collections.abc import Awaitable, Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input

from housemap.guide import TOPICS
from housemap.tui.commands import COMMANDS, MOVE, PLACES, commands_called, commands_of
from housemap.tui.keys import bar_items, keys_of
from housemap.tui.panels import ListRows
from housemap.tui.questions import Asking
from housemap.tui.render.cells import Row, plain
from housemap.tui.render.page import Page, key_bar
from housemap.tui.scroller import Bar
from housemap.tui.text_fields import Field

if TYPE_CHECKING:
    from housemap.tui.program_screen import ProgramScreen

MOST_ROWS = 12
TRIVIAL = frozenset({"find", "up", "down", "left", "right", "back"})
"""Commands that nobody looks for by name."""


class Found(NamedTuple):
    """Something to run. Titles may hold names from a file."""

    title: str
    keys: str
    command: str
    """Its id; empty for a room and a page of the guide."""
    run: Callable[[], Awaitable[None] | object]
    elsewhere: bool = False
    """Whether it works in another place only; then `keys` say which, and `run` says how."""


class FoundRows(ListRows[Found]):
    ENTRY_ROWS = 1
    NOTHING = "Nothing is called that. Try another word."

    def show(self, entries: Sequence[Found]) -> None:
        self.styles.height = min(max(len(entries), 1), MOST_ROWS)
        self.show_entries(entries)

    def entry(self, item: Found, page: Page) -> Sequence[Row]:
        lead = (page.mark(), page.run(" "))
        return [page.row(lead, item.title, item.keys, strong=page.chosen)]


class Finder(Asking[None]):
    CONTEXT = "finder"
    BAR = ("open", "back")

    def __init__(self, below: "ProgramScreen") -> None:
        super().__init__()
        self._below = below
        self._all = [*_commands(below)]
        self._others = [*_rooms(below), *_pages(below), *_elsewhere(below)]

    def compose(self) -> ComposeResult:
        look, keymap = self._below.look, self._below.program.keymap
        items = [*bar_items(self.BAR, ("finder",), keymap, None, typing=True)]
        self.rows = FoundRows(look)
        with Vertical(classes="asking finding"):
            yield self.rows
            yield Field()
            yield Bar(lambda width: key_bar(items, width, look))

    def on_mount(self) -> None:
        self.rows.show(self._all)

    def on_input_changed(self, message: Input.Changed) -> None:
        message.stop()
        self.rows.show(found_for(message.value, self._all, self._others))

    def on_input_submitted(self, message: Input.Submitted) -> None:
        message.stop()
        self.action_open()

    def action_go(self, way: str) -> None:
        self.rows.step(-1 if way == "up" else 1)

    def action_open(self) -> None:
        entry = self.rows.item
        if entry is not None and self.is_active:  # enter may be pressed twice
            self.dismiss(None)
            # By the screen below itself: what it asks for is answered to it, not to this one.
            self._below.call_after_refresh(self._below.call_next, entry.run)


def found_for(typed: str, commands: Sequence[Found], others: Sequence[Found]) -> list[Found]:
    """What fits what was typed: what begins with it first, then by another name, then the rest.

    Of `others` only where something is typed; what works elsewhere comes last.
    """
    words = typed.casefold().split()
    if not words:
        return [*commands]
    meant = commands_called(typed)
    each = [
        entry
        for entry in (*commands, *others)
        if entry.command in meant or all(word in entry.title.casefold() for word in words)
    ]
    return sorted(each, key=lambda entry: (entry.elsewhere, _order(entry, words, meant)))


def _order(entry: Found, words: Sequence[str], meant: frozenset[str]) -> int:
    title = entry.title.casefold()
    if title.startswith(" ".join(words)):
        return 0
    if any(word.startswith(words[0]) for word in title.split()):
        return 1
    return 2 if entry.command in meant else 3


def _commands(screen: "ProgramScreen") -> Iterator[Found]:
    for command, use in commands_of(screen.contexts()):
        if command.id not in TRIVIAL and use.can_run(screen.session):
            keys = keys_of(command, screen.program.keymap)
            yield Found(use.title, keys, command.id, partial(screen.run_command, command))


def _rooms(screen: "ProgramScreen") -> Iterator[Found]:
    select: Any = getattr(screen, "select", None)
    if screen.session is None or select is None:
        return
    for room_id, room in screen.session.shown.rooms.items():
        yield Found(f"Go to {plain(room.name)}", "", "", partial(select, room_id))


def _pages(screen: "ProgramScreen") -> Iterator[Found]:
    def show(topic: str) -> None:
        from housemap.tui.tasks.help import guide_screen  # noqa: PLC0415 - 60 ms, seldom needed

        screen.app.push_screen(guide_screen(topic))

    for topic, about in TOPICS.items():
        title = f"Read of the guide: {topic}: {about[0].lower()}{about[1:]}"
        yield Found(title, "", "", partial(show, topic))


def _elsewhere(screen: "ProgramScreen") -> Iterator[Found]:
    """What works in another place than the one on the screen."""
    here = {id(use) for _, use in commands_of(screen.contexts())}
    for command in COMMANDS:
        for use in command.uses if command.group != MOVE else ():
            where, way = PLACES[use.contexts[0]]
            first = f"press {way} on the map first" if way else ""
            if use.contexts[0] == "house" and screen.session is not None:
                where, first = "on the map", "press esc first"
            if id(use) not in here and first:
                say = partial(screen.say, f"That works {where}: {first}.")
                yield Found(use.title, where, command.id, say, elsewhere=True)
