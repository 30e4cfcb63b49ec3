"""Unsaved work on disk beside the screen: what a crash leaves behind, the next start offers."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from shlex import quote
from typing import Any

from housemap.errors import HouseFileError
from housemap.file.atomic import backup_of
from housemap.file.earlier_saves import earlier_saves
from housemap.file.journal import Journal, Recovery, left_behind
from housemap.file.reader import printable
from housemap.model.house import House
from housemap.model.text import counted
from housemap.workbench.folders import state_folder
from housemap.workbench.reporting import Runner
from housemap.workbench.session import Session

Typed = Mapping[str, Any]
"""By task: what is typed there and no edit yet, in plain values."""
PAUSE_S = 0.3
"""How long after an edit it is put on disk; edits in between are put there together."""


def can_go_on(session: Session, work: Recovery) -> bool:
    """Whether the file of a session may be saved with the work; if it was changed since, that asks.

    Work of which nobody knows what it was made of is not to replace what the file has now.
    """
    if session.file is None or session.file.held.fingerprint == work.fingerprint:
        return session.file is not None
    with suppress(HouseFileError):
        if begun := work.begun:
            session.go_on_from(begun)
            return True
    return False


def copies_of(file: Path) -> Iterator[str]:
    """What can be done about a house file that does not read: a line each, with its copies."""
    name, former, saves = _quoted(file), backup_of(file), earlier_saves(state_folder(), file)
    yield "Nothing was opened or changed. Mend the lines named above in a text editor."
    if former.exists():
        yield f"As it was before the last save: housemap {_quoted(former)}"
    if saves:
        count, when = counted(len(saves), "earlier save"), saves[0].when.astimezone()
        yield f"{count}, the newest of {when:%-d %B, %H:%M}: housemap saves {name}"
    if work := [each for each in left_behind(state_folder()) if each.is_of(file)]:
        when = work[0].when.astimezone()
        yield f"Unsaved work from {when:%-d %B, %H:%M}: housemap, without a name, lists it."
    if not (former.exists() or saves or work):
        yield "No copy of it is kept here. Ask whoever sent it, or look in your backups."


def _quoted(path: Path) -> str:
    return quote(printable(str(path)))


class Safekeeping:
    """Keeps the unsaved house of a session in a journal; every write is a thread's.

    With it is kept what `typed` gives: what is typed into forms and lines and no edit yet.
    """

    def __init__(self, runner: Runner, session: Session, typed: Callable[[], Typed] = dict) -> None:
        self._runner, self._session, self._typed = runner, session, typed
        self._journal: Journal | None = None
        self._kept: House | None = None
        self._kept_typed: Typed = {}
        self._busy = False
        self.fault = ""
        """What to do where unsaved work cannot be kept for after a crash; empty as long as it can.

        To be shown for as long as it is not empty.
        """

    def follow(self) -> None:
        """Have the work kept as it is now, soon. Cheap where nothing has changed."""
        if not self._busy and (
            self._unsaved() is not self._kept or self._typed() != self._kept_typed
        ):
            self._busy = True
            self._runner.after(PAUSE_S, self._begin)

    def _begin(self) -> None:
        typed = self._typed()  # asked of the screen, so not in the thread that writes
        self._runner.beside("journal", lambda: self._write(typed))

    def _write(self, typed: Typed) -> None:
        self.keep_now(typed)
        self._busy = False

    def _unsaved(self) -> House | None:
        return self._session.house if self._session.unsaved else None

    def keep_now(self, typed: Typed | None = None) -> bool:
        """Put the work on disk before this returns; whether that could be done."""
        house, file = self._unsaved(), self._session.file
        typed = self._typed() if typed is None else typed
        held = file and file.held
        belongs = (file.path, held.fingerprint, held.data.decode()) if file and held else ("", "")
        try:
            if house is not None or typed:
                self._journal = self._journal or Journal(state_folder(), *belongs)
                self._journal.belongs_to(*belongs)
                self._journal.keep(house or self._session.house, typed)
            elif self._journal:
                self._journal.clear()
        except HouseFileError as error:
            reason = str(error).rpartition(": ")[2]
            self.fault = f"Save often: a crash would lose unsaved work ({reason})."
            return False
        self.fault = ""
        self._kept, self._kept_typed = house, typed
        return True

    def close(self) -> None:
        """Forget the work: it is saved, or given up."""
        if self._journal:
            self._journal.close()
            self._journal = None
