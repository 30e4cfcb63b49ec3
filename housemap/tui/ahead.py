"""A head start: another process reads and draws the house while Textual is imported in this one.

Importing Textual keeps a core busy for longer than it takes to read a house, to place its rooms and
to draw the map. Nothing depends on it: where there is no second core, or where the other process
comes to no good end, the program reads the file itself and meets there what is wrong with it.
"""

import os
import pickle
import select
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO, NamedTuple

from housemap.tui.render.cells import Row
from housemap.tui.terminal import Depth

if TYPE_CHECKING:
    from housemap.workbench.session import Session


@dataclass(frozen=True, slots=True)
class Start:
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


class Ahead:
    """What the other process has made: first the picture, then the session."""

    def __init__(self, pid: int, sent: BinaryIO) -> None:
        self._pid, self._sent = pid, sent
        self._waits = True
        """Whether the picture has not been taken yet."""

    def picture(self, within_s: float) -> FirstPicture | None:
        """The picture; None where it does not come in time, or at all."""
        if not select.select([self._sent], [], [], within_s)[0]:
            return None
        return self._first()

    def session(self) -> "Session | None":
        """The house as it was opened; None where that failed. Waits for it; once only."""
        if self._waits:
            self._first()
        session: Session | None = self._next()
        self._sent.close()
        os.waitpid(self._pid, 0)
        return session

    def _first(self) -> FirstPicture | None:
        self._waits = False
        picture: FirstPicture | None = self._next()
        return picture

    def _next(self) -> Any:
        """What `_work` sent next; None where it has ended instead."""
        try:
            return pickle.load(self._sent)  # noqa: S301 - from our own process
        except (EOFError, pickle.UnpicklingError):
            return None


def look_ahead(start: Start) -> Ahead | None:
    """Have the file read in another process; None where nothing would be gained by it.

    To be called before there are threads, and before Textual is imported.
    """
    if not hasattr(os, "fork") or _cores() == 1:
        return None
    try:
        ours, theirs, pid = _forked()
    except OSError:  # no more processes, or files, are to be had
        return None
    if pid:
        os.close(theirs)
        return Ahead(pid, os.fdopen(ours, "rb"))
    try:
        os.close(ours)
        with os.fdopen(theirs, "wb") as out:
            _work(start, out)
    finally:
        os._exit(0)  # without a word: nothing here is the user's but what was sent


def _forked() -> tuple[int, int, int]:
    """Both ends of a pipe, and 0 in the process that is made; in this one, its number."""
    ours, theirs = os.pipe()
    try:
        return ours, theirs, os.fork()
    except OSError:
        os.close(ours)
        os.close(theirs)
        raise


def _cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _work(start: Start, out: BinaryIO) -> None:
    from housemap.tui.render.first import first_rows  # noqa: PLC0415 - the same
    from housemap.workbench.session import Session  # noqa: PLC0415 - in the other process

    session = Session.read(start.file, read_only=start.read_only)
    columns, lines = shutil.get_terminal_size()
    rows = first_rows(session, start.depth, columns, lines, ascii_only=start.ascii_only)
    pickle.dump(FirstPicture((columns, lines), rows), out)
    out.flush()
    pickle.dump(session, out)
