"""A head start: another process reads, draws and checks the house while this one imports Textual.

Importing Textual keeps a core busy for longer than it takes to read a house, to place its rooms and
to draw the map; and what is computed in another process holds no key up. Nothing depends on it:
where there is no second core, or where the other process comes to no good end, the program does it
all itself and meets there what is wrong with the file.
"""

import os
import pickle
import select
import shutil
import signal
import sys
from collections.abc import Sequence
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Any, BinaryIO, NamedTuple

from housemap.errors import HousemapError
from housemap.file import processes
from housemap.tui.render.cells import Row
from housemap.tui.terminal import Depth

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.model.house import House
    from housemap.tui.map.drawing import Drawing
    from housemap.workbench.session import Session


class Start(NamedTuple):
    """With what the program was started."""

    file: Path
    read_only: bool
    depth: Depth
    ascii_only: bool


class FirstPicture(NamedTuple):
    """What the screen shows first, row by row from its top."""

    size: tuple[int, int]
    """Columns and lines."""
    rows: Sequence[Row]


BRIEF_S = 0.05
"""So long a report waits for the next: where the light is known it comes at once."""
BEHIND_KEYS = 10
"""The niceness of the other process once there are keys."""


class Ahead:
    """What the other process makes: the picture, session and map, its reports, light for edits.

    It is one stream of pickles, in which what was sent before is only referred to.
    """

    def __init__(self, pid: int | None, sent: BinaryIO) -> None:
        self._pid, self._sent = pid, sent
        self._pickles: pickle.Unpickler | None = pickle.Unpickler(sent)  # noqa: S301 - our own
        self._reading, self._stopped = Lock(), False
        self._waits = True
        """Whether the picture has not been taken yet."""
        self.drawing: Drawing | None = None
        """Of the map in the picture, once the session was taken."""
        self._report: Report | None = None
        """The newest."""
        self._reports = 2
        """So many are still to come: the plain one, then the one in every light."""

    def picture(self, within_s: float) -> FirstPicture | None:
        """The picture; None where it does not come in time, or at all."""
        return self._first() if self._has_come(within_s) else None

    def session(self) -> "Session | None":
        """The house as it was opened; None where that failed. Waits for it; once only."""
        if self._waits:
            self._first()
        session: Session | None
        session, self.drawing = self._next() or (None, None)
        if self._pid:
            os.setpriority(os.PRIO_PROCESS, self._pid, BEHIND_KEYS)
        return session

    def report(self, house: "House", previous: "Report | None") -> "Report":
        """As `next_report`, from what the other process has found. Waits for that."""
        import housemap.checks  # noqa: F401, PLC0415 - while the other process still works
        from housemap.workbench.reporting import next_report  # noqa: PLC0415 - not for the first frame

        if previous is None or (previous.house is house and previous.deep is None):
            made = self._next_report()
            if made is not None and made.house is house and made is not previous:
                return made
            previous = made or previous
        if previous is not None and previous.deep is not None:
            self.finish()
        if self._stopped:
            raise HousemapError("the program ends")
        return next_report(house, previous)

    def finish(self) -> None:
        """Take what the first edit will need, where every report was taken. Waits for it."""
        with self._reading:
            solved = None if self._reports else self._next()
            if self._report is not None and solved is not None:
                self._report.study.lighting.light.know(solved)
            self._release()

    def stop(self) -> None:
        """End the other process and whoever waits for it here; return at once."""
        self._stopped = True
        self._kill(os.WNOHANG)  # it may take its time
        if self._reading.acquire(blocking=False):
            self._release()
            self._reading.release()

    def _kill(self, options: int = 0) -> None:
        pid, self._pid = self._pid, None
        if pid:
            os.kill(pid, signal.SIGKILL)
            os.waitpid(pid, options)

    def _release(self) -> None:
        self._kill()
        self._reports = 0
        self._sent.close()
        self._pickles = self._report = None  # with all that they hold

    def _next_report(self) -> "Report | None":
        """The next that comes, and what comes close behind it; the newest where no more do."""
        with self._reading:
            within_s = None
            while self._reports and self._has_come(within_s):
                self._reports -= 1
                self._report = self._next() or self._report
                within_s = BRIEF_S
            return self._report

    def _has_come(self, within_s: float | None) -> bool:
        return bool(select.select([self._sent], [], [], within_s)[0])

    def _first(self) -> FirstPicture | None:
        self._waits = False
        picture: FirstPicture | None = self._next()
        return picture

    def _next(self) -> Any:
        """What `work` sent next; None where it has ended instead."""
        try:
            return self._pickles.load() if self._pickles else None
        except (EOFError, pickle.UnpicklingError):
            return None


def look_ahead(start: Start) -> Ahead | None:
    """Have the file read in another process; None where nothing would be gained by it.

    To be called before there are threads, and before Textual is imported.
    """
    if not hasattr(os, "fork") or processes.cores() == 1:
        return None
    try:
        ours, theirs, pid = processes.forked()
    except OSError:  # no more processes, or files, are to be had
        return None
    if pid:
        os.close(theirs)
        return Ahead(pid, os.fdopen(ours, "rb"))
    try:
        sys.stderr = None  # no warning may come onto the screen
        os.close(ours)
        with os.fdopen(theirs, "wb") as out:
            work(start, out)
    finally:
        os._exit(0)  # without a word: nothing here is the user's but what was sent


def work(start: Start, out: BinaryIO) -> None:
    """What the other process does: everything that `Ahead` takes, in that order."""
    from housemap.tui.map.drawing import Drawing  # noqa: PLC0415 - in the other process
    from housemap.tui.render.first import first_rows  # noqa: PLC0415 - the same
    from housemap.workbench.reporting import next_report  # noqa: PLC0415 - the same
    from housemap.workbench.session import Session  # noqa: PLC0415 - the same

    pickles = pickle.Pickler(out, pickle.HIGHEST_PROTOCOL)

    def send(made: object) -> None:
        pickles.dump(made)
        out.flush()

    session = Session.read(start.file, read_only=start.read_only)
    columns, lines = shutil.get_terminal_size()
    drawing, ascii_only = Drawing(), start.ascii_only
    rows = first_rows(session, drawing, start.depth, columns, lines, ascii_only=ascii_only)
    send(FirstPicture((columns, lines), rows))
    send((session, drawing))
    plain = next_report(session.house, None)
    send(plain)
    deep = next_report(session.house, plain)
    send(deep)
    send(deep.study.lighting.light.solved)
