"""Text that is typed: its keys are all done in the order in which they were pressed.

Not imported before the first frame: Textual's own fields take a twentieth of a start.
"""

from collections.abc import Callable, Collection, Mapping
from functools import partial
from typing import Any

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.events import Key
from textual.widget import Widget
from textual.widgets import Input, TextArea

from housemap.tui.commands import COMMANDS, Keymap
from housemap.tui.keys import shown_key
from housemap.tui.panels import ListPanel, T
from housemap.tui.questions import Asking, LeftLines
from housemap.tui.render.look import Look
from housemap.tui.render.page import key_bar
from housemap.tui.scroller import Bar


def own_keys(
    widget: type[Widget], context: str, keymap: Keymap | None, kept: Collection[str] = ()
) -> Mapping[str, str]:
    """By key the action of what is typed into: Textual's own, then the commands of a context.

    Keys that are `kept` stay Textual's, whatever the table says of them.
    """
    bindings = [each for each in widget.BINDINGS if isinstance(each, Binding)]
    uses = [(each, use) for each in COMMANDS for use in each.uses if context in use.contexts]
    return {key: each.action for each in bindings for key in each.key.split(",")} | {
        key: each.action_of(use)
        for each, use in uses
        for key in each.keys_in(keymap or {})
        if key not in kept
    }


class OwnKeys:
    """Does the keys of a field at once; the action is that of the nearest that has it.

    Textual does a key's action only once the key has gone up through the whole screen; what is
    typed meanwhile would come before it, and an enter would take part of the next line.
    """

    _own_keys: Mapping[str, str]

    def action_for(self, key: str) -> str | None:
        return self._own_keys.get(key)

    async def on_key(self: Any, event: Key) -> None:
        action = self.action_for(event.key)
        if action is not None:
            event.stop()
            event.prevent_default()
            name = f"action_{action.partition('(')[0]}"
            holders = (node for node in self.ancestors_with_self if hasattr(node, name))
            await next(holders, self).run_action(action)


class Field(OwnKeys, Input):
    """A field of one line; `typed` is called at once with each text that it comes to have."""

    def __init__(
        self, text: str = "", context: str = "", keymap: Keymap | None = None,
        typed: Callable[[str], object] | None = None,
    ) -> None:  # fmt: skip
        """The keys of a `context` are done too, by what holds the field."""
        super().__init__(text, compact=True, select_on_focus=False)
        self.cursor_blink = False
        self._typed = typed
        self._own_keys = own_keys(Input, context, keymap)

    def watch_value(self, value: str) -> None:
        if self.is_attached and self._typed:
            self._typed(value)

    def write(self, text: str) -> None:
        """Replace the text, with the cursor at its end."""
        self.value = text
        self.cursor_position = len(text)

    def action_select_all(self) -> None:
        """Its beginning stays in view."""
        super().action_select_all()
        self.scroll_home(animate=False, force=True, immediate=True)


class Area(OwnKeys, TextArea):
    """As `Field`, of several lines: enter and the arrows move in its text, and out at its ends."""

    def __init__(
        self, typed: Callable[[str], object], context: str = "", keymap: Keymap | None = None
    ) -> None:
        super().__init__(compact=True, soft_wrap=True, highlight_cursor_line=False)
        self.cursor_blink = False
        self._typed = typed
        kept = {"enter", "up", "down", "left", "right"}
        self._own_keys = own_keys(TextArea, context, keymap, kept)
        self._ways_out = own_keys(TextArea, context, keymap)

    def action_for(self, key: str) -> str | None:
        """Up on the first line as it is wrapped, and down on the last, leave it."""
        ends = {"up": 0, "down": self.wrapped_document.height - 1}
        row = self.wrapped_document.location_to_offset(self.cursor_location).y
        keys = self._ways_out if ends.get(key) == row else self._own_keys
        return keys.get(key)

    def on_text_area_changed(self, message: TextArea.Changed) -> None:
        message.stop()
        self._typed(self.text)

    def write(self, text: str) -> None:
        self.load_text(text)
        self.move_cursor(self.document.end)


class Prompt(Asking[str]):
    """Asks for a line of text.

    What is typed goes on with the `value` that is suggested, as is right for notes; where it
    `replaces` it, as for a name or a number, the value stands selected. What is typed and left goes
    into `left`; asked the same again, the up key brings it back.
    """

    CONTEXT = "asking"

    def __init__(
        self, text: str, value: str, look: Look, left: LeftLines, *, replaces: bool = False
    ) -> None:
        super().__init__()
        self._text, self._look, self._replaces = text, look, replaces
        self._about, self._value, self._left = (text, value), value, left

    def compose(self) -> ComposeResult:
        items = [("enter", "go on"), ("esc", "leave it")]
        if self._value and not self._replaces:
            items.append((shown_key("ctrl+u"), "clear"))  # of the field itself
        if self._about in self._left:
            items.append((shown_key("up"), "what you left"))
        with Vertical(classes="asking"):
            yield self.asked(self._text, self._look)
            line = Field()
            line.write(self._value)
            line.select_on_focus = self._replaces
            yield line
            yield Bar(partial(key_bar, items, look=self._look))

    def on_input_submitted(self, message: Input.Submitted) -> None:
        message.stop()
        self.dismiss(message.value.strip())

    def on_key(self, event: Key) -> None:
        if event.key == "up" and self._about in self._left:
            self.query_one(Field).write(self._left[self._about])

    def action_back(self) -> None:
        typed = self.query_one(Field).value
        if typed.strip() and typed != self._about[1]:
            self._left[self._about] = typed
        super().action_back()


# A list with a search line that becomes a field while something is typed into it.


class SearchField(Field):
    """Lies over the search line, the second row of the panel; the panel's keys work in it too."""

    def __init__(self, text: str, typed: Callable[[str], object]) -> None:
        super().__init__(text, typed=typed)
        self.select_on_focus = True  # what was searched before: typing replaces it


class SearchPanel(ListPanel[T]):
    """A subclass draws `search` as its second row and overrides `searched`."""

    search = ""
    """What was typed."""

    def searched(self, text: str) -> None:
        """Another text was typed."""
        raise NotImplementedError

    def open_search(self) -> None:
        if self._field is None:
            field = SearchField(self.search, typed=self._search_for)
            self.mount(field)
            self.screen.set_focus(field)  # at once: the next key is meant for it

    def leave_search(self) -> bool:
        """Close the field and search for nothing; False where there was nothing to leave."""
        if self._field is None and not self.search:
            return False
        self._close()
        self._search_for("")
        return True

    @property
    def is_searching(self) -> bool:
        """Whether what is typed goes into the field."""
        return self._field is not None and self._field.has_focus

    @property
    def _field(self) -> SearchField | None:
        return next(iter(self.query(SearchField)), None)

    def _close(self) -> None:
        field = self._field
        if field is not None:
            self.screen.set_focus(self)
            field.remove()

    def _search_for(self, text: str) -> None:
        if text != self.search:
            self.search = text
            self.searched(text)

    def on_input_submitted(self, message: Input.Submitted) -> None:
        """Go to the list: the next enter is for what is chosen there."""
        message.stop()
        self._search_for(message.value)
        self._close()
