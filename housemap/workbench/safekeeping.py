"""Unsaved work on disk beside the screen: what a crash leaves behind, the next start offers."""

from housemap.errors import HouseFileError
from housemap.file.journal import Journal
from housemap.model.house import House
from housemap.workbench.folders import state_folder
from housemap.workbench.reporting import Runner
from housemap.workbench.session import Session

PAUSE_S = 0.3
"""How long after an edit it is put on disk; edits in between are put there together."""


class Safekeeping:
    """Keeps the unsaved house of a session in a journal; every write is a thread's."""

    def __init__(self, runner: Runner, session: Session) -> None:
        self._runner, self._session = runner, session
        self._journal: Journal | None = None
        self._kept: House | None = None
        self._busy = False
        self.fault = ""
        """What to do where unsaved work cannot be kept for after a crash; empty as long as it can.

        To be shown for as long as it is not empty.
        """

    def follow(self) -> None:
        """Have the house kept as it is now, soon. Cheap where nothing has changed."""
        if not self._busy and self._unsaved() is not self._kept:
            self._busy = True
            self._runner.after(PAUSE_S, lambda: self._runner.beside("journal", self._write))

    def _write(self) -> None:
        self.keep_now()
        self._busy = False

    def _unsaved(self) -> House | None:
        return self._session.house if self._session.unsaved else None

    def keep_now(self) -> bool:
        """Put the house on disk before this returns; whether that could be done."""
        house, file = self._unsaved(), self._session.file
        belongs = (str(file.path), file.held.fingerprint) if file else ("", "")
        try:
            if house is not None:
                self._journal = self._journal or Journal(state_folder(), *belongs)
                self._journal.belongs_to(*belongs)
                self._journal.keep(house)
            elif self._journal:
                self._journal.clear()
        except HouseFileError as error:
            reason = str(error).rpartition(": ")[2]
            self.fault = f"Save often: a crash would lose unsaved work ({reason})."
            return False
        self.fault = ""
        self._kept = house
        return True

    def close(self) -> None:
        """Forget the work: it is saved, or given up."""
        if self._journal:
            self._journal.close()
            self._journal = None
