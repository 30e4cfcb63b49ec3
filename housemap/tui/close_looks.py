"""Close looks at the selected room, made in a thread once the selection has come to rest."""

import asyncio
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message
from textual.widget import Widget

from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.study.lighting import Lighting

REST_S = 0.2
"""How long a room has to stay selected."""


@dataclass
class LookedClosely(Message):
    """What only a close look tells of a room is known now."""

    room: str


class CloseLooks:
    """Looks at one room at a time. `request` is cheap and never waits."""

    def __init__(self, owner: Widget, session: Session) -> None:
        self._owner, self._session = owner, session
        self._timer: asyncio.TimerHandle | None = None
        self._busy = False

    def request(self) -> None:
        """Have the selected room looked at, unless another one is selected before long."""
        if self._timer:
            self._timer.cancel()
        self._timer = asyncio.get_running_loop().call_later(REST_S, self._start)

    def _start(self) -> None:
        room, report = self._session.selection.room, self._session.report
        lighting = report.study.lighting if report else None
        if self._busy or lighting is None or room is None or not _lacks(lighting, room):
            return
        self._busy = True

        def look() -> None:
            lighting.close.look(lighting, room)
            self._owner.post_message(LookedClosely(room))

        self._owner.run_worker(look, thread=True, group="close")

    def done(self) -> None:
        """Go on with the room that was selected meanwhile."""
        self._busy = False
        self.request()

    def stop(self) -> None:
        if self._timer:
            self._timer.cancel()


def _lacks(lighting: "Lighting", room: str) -> bool:
    if not lighting.ready or room not in lighting.parts:
        return False
    close = lighting.close
    return close.paints(lighting, room) is None or close.tints(lighting, room) is None
