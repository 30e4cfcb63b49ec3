"""Copies of what each house file was at its earlier saves, in the program's state folder.

Of one file at most MOST are kept, none longer than DAYS.
"""

import os
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from os import PathLike
from pathlib import Path
from typing import NamedTuple

from housemap.errors import HouseFileError
from housemap.file.atomic import backup_of, private_folder, write_private
from housemap.file.reader import fingerprint, load_house, read_bytes
from housemap.file.save import unwritten
from housemap.model.house import House

FOLDER = "saves"
MOST = 30
DAYS = 180
NAME = "file.txt"
"""In each folder: the path of the file whose copies lie there."""
STAMP = "%Y%m%dT%H%M%S.%fZ"


class EarlierSave(NamedTuple):
    when: datetime
    path: Path
    """Of the copy, with the comments of that time."""

    def house(self) -> House:
        """Read the house as it was. Raises HouseFileError."""
        return load_house(self.path).house


def keep_save(folder: Path, file: str | PathLike[str], now: datetime | None = None) -> None:
    """Copy a house file just saved, and what it was before; neither if it is like the newest.

    Raises HouseFileError.
    """
    now = (now or datetime.now(UTC)).astimezone(UTC)
    former = backup_of(Path(_real(file)))
    try:
        if former.exists():
            written = datetime.fromtimestamp(former.stat().st_mtime, UTC)
            oldest = now - timedelta(days=DAYS - 1)
            with suppress(HouseFileError):
                _keep(folder, file, read_bytes(str(former)), max(written, oldest))
        _keep(folder, file, read_bytes(os.fspath(file)), now)
        _forget_old(folder, now - timedelta(days=DAYS))
    except OSError as error:
        raise unwritten("the copy for the earlier saves", error) from error


def _keep(folder: Path, file: str | PathLike[str], data: bytes, when: datetime) -> None:
    kept = earlier_saves(folder, file)
    if kept and kept[0].path.read_bytes() == data:
        return
    inside = private_folder(_folder(folder, file))
    if not (inside / NAME).exists():
        write_private(inside / NAME, os.fsencode(_real(file)))
    write_private(inside / f"{when.strftime(STAMP)}.toml", data)
    for old in kept[MOST - 1 :]:
        old.path.unlink(missing_ok=True)


def earlier_saves(folder: Path, file: str | PathLike[str]) -> tuple[EarlierSave, ...]:
    """Return what is kept of a house file, the newest first."""
    return _saves_in(_folder(folder, file))


def houses_before(folder: Path, file: str | PathLike[str]) -> Iterator[tuple[datetime, House]]:
    """When a file was saved, and the house of then, newest first; of copies that still read."""
    for kept in earlier_saves(folder, file):
        with suppress(HouseFileError):
            yield kept.when, kept.house()


def files_with_saves(folder: Path) -> Iterator[tuple[Path, tuple[EarlierSave, ...]]]:
    """Yield the files of which there are earlier saves, and those."""
    for inside in sorted((folder / FOLDER).glob("*/")):
        with suppress(OSError):
            name = os.fsdecode((inside / NAME).read_bytes())
            if saves := _saves_in(inside):
                yield Path(name), saves


def remove_saves(folder: Path, file: str | PathLike[str]) -> int:
    """Remove the earlier saves of a file; return how many there were. Raises OSError."""
    inside = _folder(folder, file)
    saves = _saves_in(inside)
    _remove_folder(inside)
    return len(saves)


def _saves_in(inside: Path) -> tuple[EarlierSave, ...]:
    found = [
        EarlierSave(datetime.strptime(path.stem, STAMP).replace(tzinfo=UTC), path)
        for path in inside.glob("*Z.toml")
    ]
    return tuple(sorted(found, key=lambda each: each.when, reverse=True))


def _forget_old(folder: Path, before: datetime) -> None:
    """Remove, of every file, what was saved before a time."""
    for _, saves in list(files_with_saves(folder)):
        for old in (each for each in saves if each.when < before):
            old.path.unlink(missing_ok=True)
        if saves[0].when < before:
            _remove_folder(saves[0].path.parent)


def _remove_folder(inside: Path) -> None:
    if inside.is_dir():
        for path in inside.iterdir():
            path.unlink(missing_ok=True)
        inside.rmdir()


def _folder(folder: Path, file: str | PathLike[str]) -> Path:
    """Return the folder of a file, named after its real path."""
    return folder / FOLDER / fingerprint(os.fsencode(_real(file)))[:16]


def _real(file: str | PathLike[str]) -> str:
    return str(Path(file).resolve())
