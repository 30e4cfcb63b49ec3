"""Questions at the foot of the screen: nothing of the map is veiled while they stand."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import NamedTuple, TypeVar

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.events import Key
from textual.screen import ModalScreen

from housemap.tui.keys import shown_key
from housemap.tui.render.cells import wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import in_rows, key_bar, status_line
from housemap.tui.scroller import Bar
from housemap.tui.textual_fixes import OwnScreen

Then = Callable[[], object]
"""What follows."""


LeftLines = dict[tuple[str, str], str]
"""What was typed last and left with escape, by the question and the text that was suggested."""


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
        return Bar(*(partial(status_line, [line], "", look=look, loud=True) for line in lines))


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
