"""The details of the selected room's light, computed once the selection has come to rest."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from housemap.errors import HousemapError
from housemap.workbench.reporting import Runner
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.study.lighting import Lighting

REST_S = 0.2
"""How long a room has to be selected."""


@dataclass(frozen=True, slots=True)
class RoomDetailed:
    """The details of a room are known now, or could not be computed."""

    room: str
    fault: str = ""


class RoomDetails:
    """Computes the details of one room at a time. `request` is cheap and never waits."""

    def __init__(
        self, runner: Runner, session: Session, then: Callable[[RoomDetailed], object]
    ) -> None:
        self._runner, self._session, self._then = runner, session, then
        self._give_up: Callable[[], None] | None = None
        self._busy = False
        self._failed: tuple[object, str] | None = None
        """The light and the room for which it was tried in vain."""

    def request(self) -> None:
        """Have the selected room computed, unless another one is selected before long."""
        self.stop()
        self._give_up = self._runner.after(REST_S, self._start)

    def _start(self) -> None:
        room, report = self._session.selection.room, self._session.report
        lighting = report.study.lighting if report else None
        if self._busy or lighting is None or room is None or not _lacks(lighting, room):
            return
        if self._failed is not None and self._failed[0] is lighting and self._failed[1] == room:
            return
        self._busy = True

        def compute() -> None:
            outcome = RoomDetailed(room)
            try:
                lighting.close.look(lighting, room)
            except HousemapError as error:
                self._failed = lighting, room
                outcome = RoomDetailed(room, str(error))
            self._runner.post(lambda: self._then(outcome))

        self._runner.beside("room detail", compute)

    def done(self) -> None:
        """Go on with the room that was selected meanwhile."""
        self._busy = False
        self.request()

    def stop(self) -> None:
        if self._give_up:
            self._give_up()


def _lacks(lighting: "Lighting", room: str) -> bool:
    if not lighting.ready or room not in lighting.parts:
        return False
    close = lighting.close
    return close.paints(lighting, room) is None or close.tints(lighting, room) is None
