"""Questions at the foot of the screen: nothing of the map is veiled while they stand."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import NamedTuple, TypeVar

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.events import Key
from textual.screen import ModalScreen
from textual.widgets import Input

from housemap.tui.keys import shown_key
from housemap.tui.render.bars import in_rows, key_bar, status_line
from housemap.tui.render.cells import wrap
from housemap.tui.render.look import Look
from housemap.tui.scroller import Bar
from housemap.tui.text_fields import Field
from housemap.tui.textual_fixes import OwnScreen

Then = Callable[[], object]
"""What follows."""


LeftLines = dict[tuple[str, str], str]
"""What was typed and left with escape, by the question and the text that was suggested."""


class Choice(NamedTuple):
    """One answer: the key that gives it, what it does in words, and what follows."""

    key: str
    words: str
    then: Then


Answer = TypeVar("Answer")


class Asking(OwnScreen, ModalScreen[Answer]):
    """What asks over the screen below; escape gives None."""

    def action_back(self) -> None:
        self.dismiss(None)

    def asked(self, text: str, look: Look) -> Bar:
        """What is asked, on as many lines as it takes."""
        lines = wrap(text, max(self.app.size.width - 4, 1))
        return Bar(*(partial(status_line, line, "", look=look, loud=True) for line in lines))


class Question(Asking[Then]):
    """Asks for one key."""

    CONTEXT = "asking"

    def __init__(self, text: str, choices: Iterable[Choice], stay: str, look: Look) -> None:
        super().__init__()
        self._text, self._choices, self._stay, self._look = text, [*choices], stay, look

    def compose(self) -> ComposeResult:
        answers = [(shown_key(c.key), c.words) for c in self._choices]
        rows = in_rows([*answers, ("esc", self._stay)], self.app.size.width)
        with Vertical(classes="asking"):
            yield self.asked(self._text, self._look)
            yield Bar(*(partial(key_bar, row, look=self._look) for row in rows))

    def on_key(self, event: Key) -> None:
        chosen = next((c for c in self._choices if event.key == c.key), None)
        if chosen:
            event.stop()
            self.dismiss(chosen.then)


class Prompt(Asking[str]):
    """Asks for a line of text.

    What is typed goes on with the `value` that is suggested, as is right for notes; where it
    `replaces` it, as for a name or a number, the value stands selected. What is typed and left goes
    into `left`, and is suggested the next time.
    """

    CONTEXT = "asking"

    def __init__(
        self, text: str, value: str, look: Look, left: LeftLines, *, replaces: bool = False
    ) -> None:
        super().__init__()
        self._text, self._look, self._replaces = text, look, replaces
        self._about, self._left = (text, value), left
        self._value = left.pop(self._about, value)

    def compose(self) -> ComposeResult:
        items = [("enter", "go on"), ("esc", "leave it")]
        if self._value and not self._replaces:
            items.append((shown_key("ctrl+u"), "clear"))  # of the field itself
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

    def action_back(self) -> None:
        typed = self.query_one(Field).value
        if typed.strip() and typed != self._about[1]:
            self._left[self._about] = typed
        super().action_back()
