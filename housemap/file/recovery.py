"""A journal of unsaved work: after a crash the next start offers exactly what was there.

Each open house has a journal of its own: a file, written whole and flushed to disk at every edit,
and a lock that the system lets go when the program ends, however it ends. A journal whose lock is
free is what a crash left behind.
"""

import json
import os
import sys
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from housemap.errors import HouseFileError
from housemap.file.reader import parse_house
from housemap.file.save import private_folder, unfinished, unwritten, write_private
from housemap.file.writer import dump_house
from housemap.model.house import House

SCHEMA = 1
FOLDER = "recovery"
WHAT = "the copy of unsaved work"


@dataclass(frozen=True, slots=True)
class Recovery:
    """Unsaved work that a program left behind when it ended without being asked to."""

    house: House
    file: str
    """The path of the file it belongs to; "" for a house never saved."""
    fingerprint: str
    """Of that file when the work began: compare it with the file as it is now."""
    when: datetime
    """Of the last edit."""
    journal: Path

    def forget(self) -> None:
        """Remove what was left behind: the work is open again, or not wanted."""
        with suppress(OSError):
            for each in (self.journal, _lock_of(self.journal), *unfinished(self.journal)):
                each.unlink(missing_ok=True)


class Journal:
    """The journal of one open house; close it when the program is left in peace."""

    def __init__(
        self, folder: Path, file: str | os.PathLike[str] = "", fingerprint: str = ""
    ) -> None:
        """Start a journal in the program's state folder. Raises HouseFileError."""
        self.belongs_to(file, fingerprint)
        try:
            inside = private_folder(folder / FOLDER)
            self.path = inside / f"{os.getpid()}-{os.urandom(6).hex()}.json"
            self._handle = os.open(_lock_of(self.path), os.O_RDWR | os.O_CREAT, 0o600)
            _take(self._handle)
        except OSError as error:
            raise unwritten(WHAT, error) from error

    def belongs_to(self, file: str | os.PathLike[str], fingerprint: str) -> None:
        """Say to which file the work belongs from now on, and what it is like on disk."""
        self.file = str(Path(file).absolute()) if file else ""
        self.fingerprint = fingerprint

    def keep(self, house: House) -> None:
        """Put unsaved work on disk; it is there when this returns. Raises HouseFileError."""
        entry = {
            "schema": SCHEMA,
            "file": self.file,
            "fingerprint": self.fingerprint,
            "when": datetime.now(UTC).isoformat(),
            "house": dump_house(house),
        }
        try:
            write_private(self.path, json.dumps(entry).encode())
        except OSError as error:
            raise unwritten(WHAT, error) from error

    def clear(self) -> None:
        """Forget the work: it is saved, or given up."""
        with suppress(OSError):
            self.path.unlink(missing_ok=True)

    def close(self) -> None:
        """Forget the work and end the journal."""
        self.clear()
        with suppress(OSError):
            _lock_of(self.path).unlink(missing_ok=True)
        os.close(self._handle)


def left_behind(folder: Path) -> tuple[Recovery, ...]:
    """Return the unsaved work of programs that are no more, the newest first.

    What cannot be read as a house is left where it is.
    """
    found = []
    for journal in (folder / FOLDER).glob("*.json"):
        with suppress(OSError, HouseFileError, ValueError, KeyError, TypeError, RecursionError):
            if not _is_alive(journal):
                found.append(_read(journal))
    return tuple(sorted(found, key=lambda each: each.when, reverse=True))


def _read(journal: Path) -> Recovery:
    entry: Mapping[str, Any] = json.loads(journal.read_bytes())
    if entry["schema"] != SCHEMA:
        raise ValueError(journal)
    when = datetime.fromisoformat(entry["when"])
    house = parse_house(entry["house"])
    return Recovery(house, str(entry["file"]), str(entry["fingerprint"]), when, journal)


def _lock_of(journal: Path) -> Path:
    return journal.with_suffix(".lock")


def _take(handle: int) -> bool:
    """Take a lock for as long as the program lives; False where another one has it."""
    try:
        if sys.platform == "win32":
            import msvcrt  # noqa: PLC0415 - not on every platform

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl  # noqa: PLC0415 - not on every platform

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


def _is_alive(journal: Path) -> bool:
    """Whether the program that writes a journal still runs."""
    try:
        handle = os.open(_lock_of(journal), os.O_RDWR)
    except FileNotFoundError:
        return False
    try:
        return not _take(handle)
    finally:
        os.close(handle)
