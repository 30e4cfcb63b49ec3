"""Save a house: the whole file or nothing, the former one kept, nobody's changes overwritten."""

import errno
import os
import stat
from contextlib import suppress
from os import PathLike
from pathlib import Path
from typing import Final, NamedTuple

from housemap.errors import ChangedOnDiskError, FileGoneError, HouseFileError
from housemap.file import atomic
from housemap.file.reader import MOST_BYTES, fingerprint, printable, read_bytes
from housemap.file.writer import comments_for, dump_with_comments
from housemap.model.house import House

NEW_FILE: Final = ""
"""The fingerprint of a file that is not there yet."""


def save_house(
    house: House,
    path: str | PathLike[str],
    *,
    expected: str | None = None,
    comments_from: bytes | None = None,
) -> str:
    """Write a house to a file and return the fingerprint of what was written.

    `expected` is the fingerprint of the file that the house came from (NEW_FILE: there must be
    none yet); where the file on disk is another one, ChangedOnDiskError is raised and nothing is
    written (FileGoneError where there is none any more). None overwrites whatever is there. A link
    is followed, owner, attributes and mode bits are kept as far as the system allows, and the
    former file is kept beside as NAME~. Comments are kept: those of `comments_from` (the bytes of
    another file), else of the file replaced. Raises HouseFileError; then the file is as it was.
    """
    if comments_from is None:
        comments_from = b""
        with suppress(HouseFileError):  # a file that cannot be read is reported when it is replaced
            comments_from = read_bytes(os.fspath(path))
    text = dump_with_comments(house, comments_for(house, comments_from))
    return save_bytes(text.encode(), path, expected=expected)


def save_bytes(
    data: bytes,
    path: str | PathLike[str],
    *,
    expected: str | None = None,
    most: int = MOST_BYTES,
    what: str = "a house file",
    keep_former: bool = True,
) -> str:
    """As `save_house`, of at most `most` bytes; `keep_former` as NAME~."""
    name = os.fspath(path)
    if len(data) > most:
        text = f"{what} is at most {most // 2**20} MiB"
        raise _problem(name, f"could not be saved: {text}; the file is as it was")
    try:
        target = Path(name).resolve()
        with atomic.locked(target.parent) as folder:
            _Save(data, target, name, expected, keep_former).run()
            if folder is not None:
                _confirm(folder, name)
    except (OSError, ValueError, RuntimeError) as error:  # RuntimeError: a ring of links
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise _problem(name, f"could not be saved: {reason}; the file is as it was") from error
    return fingerprint(data)


class _Save(NamedTuple):
    """One save: what is written where, and which file must be there."""

    data: bytes
    target: Path
    name: str
    """Of the target, for messages."""
    expected: str | None
    keep_former: bool

    def run(self) -> None:
        like, former = self._there(), atomic.backup_of(self.target)
        self._compare()
        for left in atomic.unfinished(self.target):  # by a killed save: here nobody else is saving
            left.unlink(missing_ok=True)
        # Hard links beside NAME~, which a save that was killed may have left.
        if like and like.st_nlink > 1 + (former.exists() and former.samefile(self.target)):
            self._write_over(like)
            return
        with atomic.beside(self.target, self.data, like) as new:
            self._compare()  # once more: writing and flushing took a while
            if like is not None or not self._put_new(new):
                self._put_over(new)

    def _there(self) -> os.stat_result | None:
        """Look at the file that is there, if one is. Raises OSError where it cannot be replaced."""
        try:
            about = self.target.stat()
        except FileNotFoundError:
            return None
        if not stat.S_ISREG(about.st_mode):
            raise OSError(errno.EINVAL, "it is not a regular file")
        if not os.access(self.target, os.W_OK):
            raise OSError(errno.EACCES, "the file is read-only")
        return about

    def _is_expected(self, path: Path) -> bool:
        return self.expected is None or fingerprint(path.read_bytes()) == self.expected

    def _compare(self) -> None:
        """Raise ChangedOnDiskError where the file is not the expected one."""
        try:
            same, gone = self._is_expected(self.target), False
        except FileNotFoundError:
            same, gone = self.expected == NEW_FILE, True
        if not same:
            raise self._changed(gone=gone)

    def _put_new(self, new: Path) -> bool:
        """Put a file where there was none; False where there is one now, and may be."""
        try:
            os.link(new, self.target)  # fails where somebody has made one meanwhile
        except FileExistsError:
            if self.expected is not None:
                raise self._changed() from None
            return False
        except OSError as error:
            if error.errno not in atomic.NO_LINK:
                raise
            new.replace(self.target)
        return True

    def _put_over(self, new: Path) -> None:
        """Put a file in place of what is there at that very moment, which may go to NAME~.

        The new file takes the place of NAME~ first and then changes places with the target: at no
        time is anybody's text in a file that a cleaning would take away.
        """
        other = atomic.backup_of(self.target) if self.keep_former else new
        if self.keep_former:
            new.replace(other)
        try:
            exchanged = atomic.exchange(other, self.target)
        except FileNotFoundError:
            raise self._changed(gone=True) from None
        if exchanged and not self._is_expected(other):
            atomic.exchange(other, self.target)
            raise self._changed()
        if not exchanged and self.keep_former:
            self._put_by_copy(other)
        elif not exchanged:
            new.replace(self.target)

    def _put_by_copy(self, former: Path) -> None:
        """Do the same where files cannot be exchanged: a save within the last two steps is lost."""
        with atomic.beside(self.target, former.read_bytes(), former.stat()) as new:
            with atomic.beside(former, self.target.read_bytes(), self.target.stat()) as copy:
                copy.replace(former)
            if not self._is_expected(former):
                raise self._changed()
            new.replace(self.target)

    def _write_over(self, like: os.stat_result) -> None:
        """Write into a file that has other names, which all are to show the new text.

        This is not whole or nothing: a copy of what was there is flushed to disk first.
        """
        if self.keep_former:
            with atomic.beside(self.target, self.target.read_bytes(), like) as copy:
                copy.replace(atomic.backup_of(self.target))
        self._compare()
        handle = os.open(self.target, os.O_WRONLY)
        try:
            atomic.write_all(handle, self.data)
            os.ftruncate(handle, len(self.data))
            os.fsync(handle)
        finally:
            os.close(handle)

    def _changed(self, *, gone: bool = False) -> ChangedOnDiskError:
        if gone:
            text = "was deleted or renamed since it was read; nothing was written"
            return FileGoneError.of(text, file=printable(self.name))
        text = "has changed on disk since it was read; nothing was written"
        return ChangedOnDiskError.of(text, file=printable(self.name))


def _confirm(folder: int, name: str) -> None:
    try:
        atomic.flush_folder(folder)
    except OSError as error:
        text = f"was saved, but the disk did not confirm it: {error.strerror}"
        raise _problem(name, text) from error


def _problem(name: str, text: str) -> HouseFileError:
    return HouseFileError.of(text, file=printable(name))


def clean_up(path: str | PathLike[str]) -> None:
    """Take away what a save of the file left that was killed, unless somebody is saving now."""
    with suppress(OSError):
        target = Path(path).resolve()
        if left := atomic.unfinished(target):
            with atomic.locked(target.parent):
                for each in left:
                    each.unlink(missing_ok=True)


def unwritten(what: str, error: OSError) -> HouseFileError:
    """Say in one line that something of the program's own could not be kept."""
    reason = error.strerror or "its folder cannot be used"
    return HouseFileError.of(f"{what} could not be written: {reason}")
