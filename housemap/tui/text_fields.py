"""A line of text whose keys are all done in the order in which they were pressed."""

from collections.abc import Mapping
from typing import Any, ClassVar

from textual.binding import Binding
from textual.events import Key
from textual.widget import Widget
from textual.widgets import Input, TextArea

from housemap.tui.commands import COMMANDS, Keymap
from housemap.tui.keys import Keyed


def editing_keys(widget: type[Widget]) -> Mapping[str, str]:
    """Textual's own keys of a widget that is typed into, by key: its action."""
    bindings = [each for each in widget.BINDINGS if isinstance(each, Binding)]
    return {key: each.action for each in bindings for key in each.key.split(",")}


def command_keys(context: str, keymap: Keymap) -> Mapping[str, str]:
    """The keys of the commands of a context, by key: the action."""
    uses = [(each, use) for each in COMMANDS for use in each.uses if context in use.contexts]
    return {key: each.action_of(use) for each, use in uses for key in each.keys_in(keymap)}


EDITING_KEYS: Mapping[str, str] = editing_keys(Input)
AREA_KEYS: Mapping[str, str] = editing_keys(TextArea)


class OwnKeys:
    """Does the keys of a field itself, in the order in which they were pressed.

    Textual does a key's action only once the key has gone up through the whole screen; what is
    typed meanwhile would come before it, and an enter would take part of the next line.
    """

    _own_keys: Mapping[str, str]

    async def on_key(self: Any, event: Key) -> None:
        action = self._own_keys.get(event.key)
        if action is not None:
            event.stop()
            event.prevent_default()
            await self.run_action(action)


class Field(Keyed, OwnKeys, Input):
    """A field of one line; a subclass has a CONTEXT whose commands it does itself."""

    def __init__(self, text: str = "", *, keymap: Keymap | None = None) -> None:
        super().__init__(text, compact=True, select_on_focus=False)
        self.cursor_blink = False
        self._own_keys = {**EDITING_KEYS, **command_keys(self.CONTEXT, keymap or {})}

    def write(self, text: str) -> None:
        """Replace the text, with the cursor at its end."""
        self.value = text
        self.cursor_position = len(text)


class Area(Keyed, OwnKeys, TextArea):
    """As `Field`, of several lines; OWN_KEYS are the text's, whatever the table says of them."""

    OWN_KEYS: ClassVar[frozenset[str]] = frozenset()

    def __init__(self, *, keymap: Keymap | None = None) -> None:
        super().__init__(compact=True, soft_wrap=True, highlight_cursor_line=False)
        self.cursor_blink = False
        commands = command_keys(self.CONTEXT, keymap or {})
        own = {key: action for key, action in commands.items() if key not in self.OWN_KEYS}
        self._own_keys = {**AREA_KEYS, **own}

    def write(self, text: str) -> None:
        self.load_text(text)
        self.move_cursor(self.document.end)
