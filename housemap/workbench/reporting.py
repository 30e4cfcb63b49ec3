"""The reports of an open house: made in threads, always of the newest house.

Two run beside each other. One reports on every house at once, as deeply as the house before was;
the other, which takes seconds, adds light and sight to the first report there is.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal, NamedTuple, Protocol

from housemap.errors import HousemapError
from housemap.model.house import House
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.study.lighting import Lighting


Lane = Literal["report", "light"]


def next_report(house: House, previous: "Report | None") -> "Report":
    """Report on an edited house, as deeply as before; on the same house again, deeply.

    What it needs is imported at the first call, in the thread.
    """
    from housemap.checks import report_of  # noqa: PLC0415 - numpy and colour come after the frame

    if previous is None:
        report = report_of(house, deep=False)
    else:
        report = report_of(house, previous) if house is previous.house else previous.after(house)
    # What the screen asks of it is computed here, so that no key waits for it.
    _ = report.by_room, report.causes, report.causes_by_room, report.to_do
    return report


def lit_report(house: House, known: "Report | None") -> "Report":
    """The report of a house with light, for work in a thread: the known one if that is it."""
    from housemap.checks import report_of  # noqa: PLC0415 - as in next_report

    if known is not None and known.house is house and known.deep is not None:
        return known
    return report_of(house, known)


class Runner(Protocol):
    """Runs work beside the keys. The screen gives one; a test gives its own."""

    def soon(self, call: Callable[[], None]) -> None:
        """Call once what has changed has been drawn."""

    def after(self, seconds: float, call: Callable[[], None]) -> Callable[[], None]:
        """Call later; what is returned gives that up."""

    def beside(self, group: str, work: Callable[[], None]) -> None:
        """Work in a thread."""

    def post(self, call: Callable[[], object]) -> None:
        """Call where keys are handled; from any thread."""


class Reported(NamedTuple):
    """A report is ready, or could not be made."""

    lane: Lane
    report: "Report | None"
    fault: str = ""


class Reporting:
    """Keeps the reports of a session up to date. `request` is cheap and never waits."""

    def __init__(
        self, runner: Runner, session: Session, reporter: Reporter,
        then: Callable[[Reported], object],
    ) -> None:  # fmt: skip
        """`then` is called with each report, and has `take` put it into the session."""
        self._runner, self._session, self._reporter, self._then = runner, session, reporter, then
        self._asked = False
        self._busy: set[Lane] = set()
        self._failed: dict[Lane, House] = {}
        self._best: Report | None = None
        """What the next report starts from: the newest with light, else the newest."""

    def request(self) -> None:
        """Have the shown house reported on, once the screen has been drawn."""
        if not self._asked:
            self._asked = True
            self._runner.soon(self.start)

    def start(self) -> None:
        """Begin what is lacking, at once; nothing where it has begun."""
        self._asked = False
        session = self._session
        lacking = next((h for h in (session.shown, session.house) if self._lacks(h)), None)
        if lacking is not None:
            self._run("report", lacking, self._best)
        base = session.base
        if base is not None and base.house is session.house and base.deep is None:
            self._run("light", base.house, base)

    def _lacks(self, house: House) -> bool:
        """Whether a house has no report yet that is as deep as one can be made at once."""
        known = (self._session.report, self._session.base)
        report = next((r for r in known if r is not None and r.house is house), None)
        if report is None:
            return True
        return report.deep is None and self._best is not None and self._best.deep is not None

    def _run(self, lane: Lane, house: House, previous: "Report | None") -> None:
        if lane in self._busy or house is self._failed.get(lane):
            return
        self._busy.add(lane)

        def make() -> None:
            try:
                outcome = Reported(lane, self._reporter(house, previous))
            except HousemapError as error:
                self._failed[lane] = house
                outcome = Reported(lane, None, str(error))
            self._runner.post(lambda: self._then(outcome))

        self._runner.beside(lane, make)

    def take(self, outcome: Reported) -> None:
        """Put a finished report into the session, and go on with what changed meanwhile."""
        self._busy.discard(outcome.lane)
        report = outcome.report
        if report is not None:
            self.know(report)
            if outcome.lane == "light" and report.deep is None:
                self._failed["light"] = report.house  # asking again would give no more
        self.request()

    @property
    def light_to_come(self) -> bool:
        """Whether the report of the decided house will yet be made deeper."""
        base = self._session.base
        failed = self._failed.get("light")
        return base is None or (base.deep is None and base.house is not failed)

    def know(self, report: "Report") -> None:
        """Take a report that was made here or elsewhere."""
        self._session.take_report(report)
        if report.deep is not None or self._best is None or self._best.deep is None:
            self._best = report


# The details of the selected room's light, computed once the selection has come to rest.

REST_S = 0.2
"""How long a room has to be selected."""


class RoomDetailed(NamedTuple):
    """The details of a room are known now, or could not be computed."""

    room: str
    fault: str = ""


class RoomDetails:
    """Computes the details of one room at a time. `request` is cheap and never waits."""

    def __init__(
        self, runner: Runner, session: Session, then: Callable[[RoomDetailed], object],
        before: Callable[[], object] | None = None,
    ) -> None:  # fmt: skip
        """`before` is called first, in the thread: what it waits for need not be computed."""
        self._runner, self._session, self._then = runner, session, then
        self._before = before
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
            if self._before:
                self._before()
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
