"""A line of text whose keys are all done in the order in which they were pressed."""

from collections.abc import Mapping
from typing import ClassVar

from textual.events import Key
from textual.widgets import Input

from housemap.tui.commands import Keymap, commands_of


def _editing_keys() -> Mapping[str, str]:
    """Textual's own keys of a line of text, by key: its action."""
    return {
        key: binding.action
        for binding in Input.BINDINGS
        if not isinstance(binding, tuple)
        for key in binding.key.split(",")
    }


EDITING_KEYS = _editing_keys()


class Field(Input):
    """A field of one line; a subclass has a CONTEXT whose commands it does itself.

    Textual does a key's action only once the key has gone up through the whole screen; what is
    typed meanwhile would come before it, and an enter would take part of the next line.
    """

    CONTEXT: ClassVar[str] = ""

    def __init__(self, text: str = "", *, keymap: Keymap | None = None) -> None:
        super().__init__(text, compact=True, select_on_focus=False)
        self.cursor_blink = False
        self._keys = dict(EDITING_KEYS)
        for command in commands_of((self.CONTEXT,)):
            if command.context == self.CONTEXT:
                keys = command.keys_in(keymap or {})
                self._keys.update(dict.fromkeys(keys, command.action_text))

    def write(self, text: str) -> None:
        """Replace the text, with the cursor at its end."""
        self.value = text
        self.cursor_position = len(text)

    async def on_key(self, event: Key) -> None:
        action = self._keys.get(event.key)
        if action is not None:
            event.stop()
            event.prevent_default()
            await self.run_action(action)
