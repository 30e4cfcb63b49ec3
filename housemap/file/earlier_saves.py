"""A short history of the saves of each house file, in the program's state folder."""

from dataclasses import dataclass
from datetime import UTC, datetime
from os import PathLike
from pathlib import Path

from housemap.file.atomic import private_folder, write_private
from housemap.file.reader import fingerprint, load_house
from housemap.file.save import unwritten
from housemap.model.house import House

FOLDER = "revisions"
MOST = 30
"""The revisions kept of one file; the oldest make room."""
STAMP = "%Y%m%dT%H%M%S.%fZ"


@dataclass(frozen=True, slots=True)
class Revision:
    """A house as it was saved once."""

    when: datetime
    path: Path
    """Of the copy, with the comments of that time."""

    def house(self) -> House:
        """Read the house as it was. Raises HouseFileError."""
        return load_house(self.path).house


def keep_revision(folder: Path, file: str | PathLike[str], now: datetime | None = None) -> None:
    """Keep a copy of a house file as it is on disk; call it after a save.

    A copy like the newest one is not kept again. Raises HouseFileError.
    """
    data = load_house(file).data
    kept = revisions(folder, file)
    if kept and kept[0].path.read_bytes() == data:
        return
    stamp = (now or datetime.now(UTC)).astimezone(UTC).strftime(STAMP)
    try:
        write_private(private_folder(_folder(folder, file)) / f"{stamp}.toml", data)
        for old in kept[MOST - 1 :]:
            old.path.unlink(missing_ok=True)
    except OSError as error:
        raise unwritten("the copy for the history", error) from error


def revisions(folder: Path, file: str | PathLike[str]) -> tuple[Revision, ...]:
    """Return what is kept of a house file, the newest first."""
    found = [
        Revision(datetime.strptime(path.stem, STAMP).replace(tzinfo=UTC), path)
        for path in _folder(folder, file).glob("*Z.toml")
    ]
    return tuple(sorted(found, key=lambda each: each.when, reverse=True))


def _folder(folder: Path, file: str | PathLike[str]) -> Path:
    """Return the folder of a file, told by its real path."""
    return folder / FOLDER / fingerprint(str(Path(file).resolve()).encode())[:16]
