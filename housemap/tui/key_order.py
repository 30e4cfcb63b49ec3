"""Keys act in the order in which they are pressed, each once what the one before did is done.

Textual hands every key at once to the widget that has the focus then, and does its action once it
has gone up through the whole screen: of keys typed fast, the second went to a widget that the first
was to leave, and acted before what the first reported had been heard.
"""

import asyncio
import time
from collections import deque
from typing import Any

from textual.events import Event, Key
from textual.message import Message

ROUNDS = 3
"""A key goes up to the app, what it reports to the screen, and what that reports too."""
LOST_S = 0.25
"""So long a key waits at most for the one before it."""


class Through(Message):
    """Goes the way of a key, behind it and what it reports."""

    def __init__(self, turn: int, rounds: int) -> None:
        super().__init__()
        self.turn, self.rounds = turn, rounds


class KeysInTurn:
    """An app in which a key waits for the one just before it."""

    _typed: deque[Key]
    _turn = 0
    """The number of the key that is waited for."""
    _waits = False
    _acted_at = 0.0

    async def on_event(self: Any, event: Event) -> None:
        if not isinstance(event, Key) or event.is_forwarded:
            await super().on_event(event)  # type: ignore[misc]  # App's
            return
        self._typed = getattr(self, "_typed", deque())
        self._typed.append(event)
        if not self._waits:
            await self._take_key()

    async def _take_key(self: Any) -> None:
        """Have the next key act; one that came long after the last need not wait for it."""
        self._turn += 1
        self._waits = False
        while self._typed and time.monotonic() - self._acted_at > LOST_S:
            await self._act()
        if self._typed:
            self._waits = True
            asyncio.get_running_loop().call_later(LOST_S, self._give_up_on, self._turn)
            self._go_through(ROUNDS)

    async def _act(self: Any) -> None:
        self._acted_at = time.monotonic()
        await super().on_event(self._typed.popleft())  # type: ignore[misc]  # App's

    def _go_through(self: Any, rounds: int) -> None:
        (self.focused or self.screen).post_message(Through(self._turn, rounds))

    def _give_up_on(self: Any, turn: int) -> None:
        """What it goes through may have been taken away."""
        if turn == self._turn:
            self.post_message(Through(turn, 1))

    async def on_through(self: Any, message: Through) -> None:
        if message.turn != self._turn or not self._waits:
            return
        if message.rounds > 1:
            self._go_through(message.rounds - 1)
        else:
            await self._act()
            await self._take_key()
