"""Save a house: the whole file or nothing, the former one kept, nobody's changes overwritten."""

import errno
import os
import re
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from os import PathLike
from pathlib import Path
from time import monotonic, sleep
from typing import Final

from housemap.errors import ChangedOnDiskError, HouseFileError, Problem
from housemap.file.reader import MOST_BYTES, fingerprint, printable, read_bytes
from housemap.file.writer import comments_for, dump_with_comments
from housemap.model.house import House

NEW_FILE: Final = ""
"""The fingerprint of a file that is not there yet."""
LOCK_WAIT_S = 3.0
LOCK_POLL_S = 0.02
NO_SUCH_CALL = {errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.ENOLCK, errno.ENOSYS}
"""What file systems answer that cannot lock or flush a folder."""


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
    written. None overwrites whatever is there. A link is followed, mode bits are kept, and the
    former file stays beside as NAME~. Comments are kept: those of `comments_from` (the bytes of
    another file), else of the file replaced. Raises HouseFileError; then the file is as it was.
    """
    source = comments_from if comments_from is not None else _bytes_at(path)
    text = dump_with_comments(house, comments_for(house, source))
    return save_bytes(text.encode(), path, expected=expected)


def _bytes_at(path: str | PathLike[str]) -> bytes:
    """Return the bytes of a file, none of one that cannot be read: saving will tell."""
    try:
        return read_bytes(os.fspath(path))
    except HouseFileError:
        return b""


def save_bytes(
    data: bytes,
    path: str | PathLike[str],
    *,
    expected: str | None = None,
    most: int = MOST_BYTES,
    what: str = "a house file",
    keep_former: bool = True,
) -> str:
    """Do what `save_house` does, with the bytes of a file of which at most `most` can be read.

    `keep_former`: whether the file as it was stays beside it as NAME~.
    """
    name = os.fspath(path)
    if len(data) > most:
        text = f"{what} is at most {most // 2**20} MiB"
        raise _problem(name, f"could not be saved: {text}; the file is as it was")
    try:
        target = Path(name).resolve()
        with _locked(target.parent) as folder:
            _exchange(data, target, name, expected, keep_former=keep_former)
            _confirm(folder, name)
    except (OSError, ValueError, RuntimeError) as error:  # RuntimeError: a ring of links
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise _problem(name, f"could not be saved: {reason}; the file is as it was") from error
    return fingerprint(data)


def _exchange(
    data: bytes, target: Path, name: str, expected: str | None, *, keep_former: bool
) -> None:
    former, mode = _former(target)
    found = NEW_FILE if former is None else fingerprint(former)
    if expected is not None and found != expected:
        text = "has changed on disk since it was read; nothing was written"
        raise ChangedOnDiskError([Problem(text, file=printable(name))])
    for left in unfinished(target):  # by a save that was killed: here nobody else is saving
        left.unlink(missing_ok=True)
    with beside(target, data, mode) as new:
        if former is not None and keep_former:
            with beside(target, former, mode) as kept:
                kept.replace(target.with_name(target.name + "~"))
        new.replace(target)


def _former(target: Path) -> tuple[bytes | None, int | None]:
    """Return the bytes and mode bits of the file that is there, if one is."""
    try:
        about = target.stat()
    except FileNotFoundError:
        return None, None
    if not stat.S_ISREG(about.st_mode):
        raise OSError(errno.EINVAL, "it is not a regular file")
    if not os.access(target, os.W_OK):
        raise OSError(errno.EACCES, "the file is read-only")
    return target.read_bytes(), stat.S_IMODE(about.st_mode)


@contextmanager
def beside(target: Path, data: bytes, mode: int | None) -> Iterator[Path]:
    """Write a new file in the target's folder, flushed to disk; it is gone afterwards."""
    new = target.with_name(f"{_stem(target)}{os.getpid()}-{os.urandom(4).hex()}")
    handle = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666 if mode is None else 0o600)
    try:
        try:
            _write(handle, data)
            if mode is not None:
                new.chmod(mode)
            os.fsync(handle)
        finally:
            os.close(handle)
        yield new
    finally:
        with suppress(OSError):
            new.unlink()


def unfinished(target: Path) -> list[Path]:
    """Return the files that `beside` left when the program was killed."""
    form = re.compile(re.escape(_stem(target)) + r"\d+-[0-9a-f]{8}")
    return [each for each in target.parent.iterdir() if form.fullmatch(each.name)]


def _stem(target: Path) -> str:
    return f".{target.name[:60]}."


def _write(handle: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(handle, rest) :]


@contextmanager
def _locked(folder: Path) -> Iterator[int | None]:
    """Keep other housemaps from saving into a folder; yield its handle where there is one."""
    if sys.platform == "win32":  # a folder cannot be opened there: programs are not kept apart
        yield None
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        _lock(handle)
        yield handle
    finally:
        os.close(handle)


def _lock(handle: int) -> None:
    import fcntl  # noqa: PLC0415 - not on every platform

    end = monotonic() + LOCK_WAIT_S
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if monotonic() > end:
                raise OSError(errno.EAGAIN, "another program is saving there") from None
            sleep(LOCK_POLL_S)
        except OSError as error:
            if error.errno not in NO_SUCH_CALL:
                raise
            return
        else:
            return


def flush_folder(handle: int) -> None:
    """Put a folder's list of files on disk, where the file system can. Raises OSError."""
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in NO_SUCH_CALL:
            raise


def _confirm(folder: int | None, name: str) -> None:
    try:
        if folder is not None:
            flush_folder(folder)
    except OSError as error:
        text = f"was saved, but the disk did not confirm it: {error.strerror}"
        raise _problem(name, text) from error


def _problem(name: str, text: str) -> HouseFileError:
    return HouseFileError([Problem(text, file=printable(name))])


# The program's own files on this machine, for nobody but the user: a client's house is nobody
# else's business.


def private_folder(folder: Path) -> Path:
    """Make a folder that only its owner may enter. Raises OSError."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder


def write_private(target: Path, data: bytes) -> None:
    """Put a file in place, whole and on disk when this returns. Raises OSError."""
    with beside(target, data, 0o600) as new:
        new.replace(target)
    if os.name == "posix":
        handle = os.open(target.parent, os.O_RDONLY)
        try:
            flush_folder(handle)
        finally:
            os.close(handle)


def unwritten(what: str, error: OSError) -> HouseFileError:
    """Say in one line that something of the program's own could not be kept."""
    reason = error.strerror or "its folder cannot be used"
    return HouseFileError([Problem(f"{what} could not be written: {reason}")])
