"""The report beside the screen: made in a thread, one at a time, always of the newest house."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message
from textual.widget import Widget

from housemap.errors import HousemapError
from housemap.model.house import House
from housemap.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.checks import Report


def whole_report(house: House, previous: "Report | None") -> "Report":
    """The report; what it needs is imported at the first call, in the thread."""
    from housemap.checks import report_of  # noqa: PLC0415 - numpy and colour come after the frame

    return report_of(house, previous)


@dataclass
class Reported(Message):
    """A report is ready, or could not be made."""

    report: "Report | None"
    fault: str = ""


class Reporting:
    """Keeps the report of a session up to date. `request` is cheap and never waits."""

    def __init__(self, owner: Widget, session: Session, reporter: Reporter) -> None:
        self._owner, self._session, self._reporter = owner, session, reporter
        self._busy = self._asked = False
        self._failed: House | None = None

    def request(self) -> None:
        """Have the shown house reported on, once the screen has been drawn."""
        if not self._asked:
            self._asked = True
            self._owner.call_after_refresh(self._start)

    def _start(self) -> None:
        session = self._session
        self._asked = False
        if self._busy or session.report_is_current or session.shown is self._failed:
            return
        self._busy = True
        self._owner.run_worker(
            self._work(session.shown, session.report), thread=True, group="report"
        )

    def _work(self, house: House, previous: "Report | None") -> Callable[[], None]:
        def make() -> None:
            try:
                message = Reported(self._reporter(house, previous))
            except HousemapError as error:
                self._failed = house
                message = Reported(None, str(error))
            self._owner.post_message(message)

        return make

    def take(self, message: Reported) -> None:
        """Put a finished report into the session, and go on with what changed meanwhile."""
        self._busy = False
        if message.report is not None:
            self._session.report = message.report
        self.request()
