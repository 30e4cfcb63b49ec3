"""A journal of unsaved work: after a crash the next start offers exactly what was there.

Each open house has a journal of its own: a file, written whole and flushed to disk at every edit,
and a lock that the system lets go when the program ends, however it ends. A journal whose lock is
free is what a crash left behind. Where there are no locks, the program's number says whether it
still runs.
"""

import json
import os
import socket
from collections.abc import Mapping
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NamedTuple

from housemap.errors import HouseFileError
from housemap.file.atomic import lock, private_folder, unfinished, write_all, write_private
from housemap.file.paths import same_file
from housemap.file.reader import HouseFile, decode, parse_house
from housemap.file.save import unwritten
from housemap.file.writer import dump_house
from housemap.model.house import House

SCHEMA = 1
FOLDER = "recovery"
WHAT = "the copy of unsaved work"


class Recovery(NamedTuple):
    """Unsaved work that a program left behind when it ended without being asked to."""

    house: House
    file: str
    """The real path of the file it belongs to; "" for a house never saved."""
    fingerprint: str
    """Of that file as it was last read or written: compare it with the file as it is now."""
    when: datetime
    """Of the last edit."""
    journal: Path
    typed: Mapping[str, Any]
    """What had been typed and made no edit yet, as whoever kept it wrote it down."""
    base: str
    """The text of the file with that fingerprint; "" where it was not kept."""

    @property
    def begun(self) -> HouseFile | None:
        """The file as it was when the work was made. Raises HouseFileError."""
        data = self.base.encode()
        return HouseFile(parse_house(decode(data, self.file)), data) if data else None

    @property
    def is_gone(self) -> bool:
        """Whether its file is no longer where it was: moved, renamed or deleted."""
        return not os.path.lexists(self.file)

    def is_of(self, file: Path) -> bool:
        """Whether it was made in this file, whichever of its names or links that is."""
        return same_file(Path(self.file), file)

    def forget(self) -> None:
        """Remove what was left behind: the work is open again, or given up."""
        _remove(self.journal)


class Journal:
    """The journal of one open house; close it when the program is left in peace."""

    def __init__(
        self, folder: Path, file: str | os.PathLike[str] = "", fingerprint: str = "", base: str = ""
    ) -> None:
        """Start a journal in the program's state folder. Raises HouseFileError."""
        self.belongs_to(file, fingerprint, base)
        try:
            inside = private_folder(folder / FOLDER)
            self.path = inside / f"{os.getpid()}-{os.urandom(6).hex()}.json"
            self._handle = os.open(_lock_of(self.path), os.O_RDWR | os.O_CREAT, 0o600)
            lock(self._handle)
            write_all(self._handle, socket.gethostname().encode())
        except OSError as error:
            raise unwritten(WHAT, error) from error

    def belongs_to(self, file: str | os.PathLike[str], fingerprint: str, base: str = "") -> None:
        """Say to which file the work belongs from now on, and what it is like on disk."""
        self.file = os.path.realpath(file) if file else ""
        self.fingerprint, self.base = fingerprint, base

    def keep(self, house: House, typed: Mapping[str, Any] | None = None) -> None:
        """Put unsaved work on disk; it is there when this returns. Raises HouseFileError.

        `typed` is what is typed and no edit yet: plain values, as JSON has them.
        """
        entry = {
            "schema": SCHEMA,
            "file": self.file,
            "fingerprint": self.fingerprint,
            "base": self.base,
            "when": datetime.now(UTC).isoformat(),
            "house": dump_house(house),
            "typed": typed or {},
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

    What cannot be read as a house is left where it is. Locks and half-written files of programs
    that are no more are taken away.
    """
    inside = folder / FOLDER
    _clean_up(inside)
    found = []
    for journal in inside.glob("*.json"):
        with suppress(OSError, HouseFileError, ValueError, KeyError, TypeError, RecursionError):
            if not _is_alive(journal):
                found.append(_read(journal))
    return tuple(sorted(found, key=lambda each: each.when, reverse=True))


def left_behind_of(folder: Path, file: Path, fingerprint: str) -> Recovery | None:
    """The newest work left behind on a file, else on one of the same content that is gone.

    Of a file that is still there this one is a copy, and its work is not offered here.
    """
    found = [each for each in left_behind(folder) if each.file]
    own = (each for each in found if each.is_of(file))
    same = (each for each in found if each.fingerprint == fingerprint and each.is_gone)
    return next(own, None) or next(same, None)


def _read(journal: Path) -> Recovery:
    entry: Mapping[str, Any] = json.loads(journal.read_bytes())
    if entry["schema"] != SCHEMA:
        raise ValueError(journal)
    when = datetime.fromisoformat(entry["when"])
    house = parse_house(entry["house"])
    typed = entry.get("typed", {})
    return Recovery(
        house, str(entry["file"]), str(entry["fingerprint"]), when, journal,
        typed if isinstance(typed, dict) else {}, str(entry.get("base", "")),
    )  # fmt: skip


def _lock_of(journal: Path) -> Path:
    return journal.with_suffix(".lock")


def _remove(journal: Path) -> None:
    with suppress(OSError):
        for each in (journal, _lock_of(journal), *unfinished(journal)):
            each.unlink(missing_ok=True)


def _clean_up(inside: Path) -> None:
    """Take away what killed programs left that holds no work: locks, half-written files."""
    with suppress(OSError):
        for path in inside.glob("*.lock"):
            journal = path.with_suffix(".json")
            if not journal.exists() and not _is_alive(journal):
                _remove(journal)
        for journal in inside.glob("*.json"):
            if not _is_alive(journal):
                for each in unfinished(journal):
                    each.unlink(missing_ok=True)


def _is_alive(journal: Path) -> bool:
    """Whether the program that writes a journal still runs."""
    try:
        handle = os.open(_lock_of(journal), os.O_RDWR)
    except FileNotFoundError:
        return False
    try:
        free = lock(handle)
        return _runs(journal, os.read(handle, 1000)) if free is None else not free
    finally:
        os.close(handle)


def _runs(journal: Path, host: bytes) -> bool:
    """Whether a program runs, by its number; of another machine nobody knows."""
    if host != socket.gethostname().encode():
        return True
    try:
        os.kill(int(journal.name.partition("-")[0]), 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
