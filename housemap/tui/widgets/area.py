"""A field of several lines whose keys are done in the order in which they were pressed."""

from collections.abc import Mapping
from typing import ClassVar

from textual.events import Key
from textual.widgets import TextArea

from housemap.tui.command import Keymap
from housemap.tui.widgets.field import command_keys, editing_keys

EDITING_KEYS: Mapping[str, str] = editing_keys(TextArea)


class Area(TextArea):
    """As `Field`, of several lines; OWN_KEYS are the text's, whatever the table says of them."""

    CONTEXT: ClassVar[str] = ""
    OWN_KEYS: ClassVar[frozenset[str]] = frozenset()

    def __init__(self, *, keymap: Keymap | None = None) -> None:
        super().__init__(compact=True, soft_wrap=True, highlight_cursor_line=False)
        self.cursor_blink = False
        commands = command_keys(self.CONTEXT, keymap or {})
        own = {key: action for key, action in commands.items() if key not in self.OWN_KEYS}
        self._own_keys = {**EDITING_KEYS, **own}

    def write(self, text: str) -> None:
        """Replace the text, with the cursor at its end."""
        self.load_text(text)
        self.move_cursor(self.document.end)

    async def on_key(self, event: Key) -> None:
        action = self._own_keys.get(event.key)
        if action is not None:
            event.stop()
            event.prevent_default()
            await self.run_action(action)
