"""Files put in place whole: written beside, flushed to disk, exchanged with what is there.

Nothing here knows what a file holds.
"""

import errno
import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path
from time import monotonic, sleep
from typing import Any

LOCK_WAIT_S = 3.0
LOCK_POLL_S = 0.02
NO_SUCH_CALL = {errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.ENOLCK, errno.ENOSYS}
"""What file systems answer that cannot lock, exchange files, or flush a folder."""
NO_LINK = NO_SUCH_CALL | {errno.EPERM, errno.EMLINK, errno.EXDEV}
"""What they answer that cannot link."""
NAME_BYTES = 255
"""The longest name of a file on the usual systems."""
STEM_BYTES = 60
_writing: set[Path] = set()
"""The files that are being written by threads of this program."""
AT_FDCWD, RENAME_EXCHANGE = -100, 2
"""Of Linux, renameat2(2)."""


@contextmanager
def beside(
    target: Path, data: bytes, like: os.stat_result | None = None, *, private: bool = False
) -> Iterator[Path]:
    """Write a new file in the target's folder, flushed to disk; it is gone afterwards.

    It has the owner, attributes and mode bits of the target, whose `stat` is `like`, as far as the
    system allows; without it those of any new file, or of one that is `private`.
    """
    new = target.with_name(f"{_stem(target)}{os.getpid()}-{os.urandom(4).hex()}")
    _writing.add(new)
    mode = 0o666 if like is None and not private else 0o600
    try:
        handle = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
        try:
            write_all(handle, data)
            if like is not None:
                _make_like(new, target, like)
            os.fsync(handle)
        finally:
            os.close(handle)
        yield new
    finally:
        with suppress(OSError):
            new.unlink()
        _writing.discard(new)


def wait_for_writes() -> None:
    """Wait, for some seconds at most, until no thread writes a file any more."""
    end = monotonic() + LOCK_WAIT_S
    while _writing and monotonic() < end:
        sleep(LOCK_POLL_S)


def write_all(handle: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(handle, rest) :]


def _make_like(new: Path, target: Path, like: os.stat_result) -> None:
    """Give a new file the owner, group, extended attributes and mode bits of the old one."""
    if sys.platform != "win32":
        mine = new.stat()
        if (mine.st_uid, mine.st_gid) != (like.st_uid, like.st_gid):
            for owner in (like.st_uid, -1):  # only root gives files away, a group one is in is free
                with suppress(OSError):
                    os.chown(new, owner, like.st_gid)
                    break
    if sys.platform == "linux":
        with suppress(OSError):
            for name in os.listxattr(target):
                with suppress(OSError):
                    os.setxattr(new, name, os.getxattr(target, name))
    new.chmod(like.st_mode & 0o7777)


def unfinished(target: Path) -> list[Path]:
    """Return the files that `beside` left when the program was killed."""
    form = re.compile(re.escape(_stem(target)) + r"\d+-[0-9a-f]{8}")
    return [each for each in target.parent.iterdir() if form.fullmatch(each.name)]


def _stem(target: Path) -> str:
    return f".{shortened(target.name, STEM_BYTES)}."


def shortened(name: str, most: int) -> str:
    """Cut a name to a number of bytes as the file system counts them."""
    while len(os.fsencode(name)) > most:
        name = name[:-1]
    return name


def backup_of(target: Path) -> Path:
    """Return where the former file is kept: NAME~, of a very long name the head of it."""
    return target.with_name(shortened(target.name, NAME_BYTES - 1) + "~")


def exchange(one: Path, other: Path) -> bool:
    """Exchange two files at once; False where the system cannot. Raises OSError."""
    call = _renameat2()
    if call is None:
        return False
    import ctypes  # noqa: PLC0415 - only where a file is saved

    if call(AT_FDCWD, os.fsencode(one), AT_FDCWD, os.fsencode(other), RENAME_EXCHANGE) == 0:
        return True
    code = ctypes.get_errno()
    if code in NO_SUCH_CALL:
        return False
    raise OSError(code, os.strerror(code), str(other))


@cache
def _renameat2() -> Any:
    if sys.platform != "linux":
        return None
    import ctypes  # noqa: PLC0415 - only where a file is saved

    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return None
    call.argtypes = (ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint)
    return call


@contextmanager
def locked(folder: Path) -> Iterator[int | None]:
    """Keep other housemaps from saving into a folder; yield its handle where there is one."""
    if sys.platform == "win32":  # a folder cannot be opened there: programs are not kept apart
        yield None
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        end = monotonic() + LOCK_WAIT_S
        while lock(handle) is False:
            if monotonic() > end:
                raise OSError(errno.EAGAIN, "another program is saving there")
            sleep(LOCK_POLL_S)
        yield handle
    finally:
        os.close(handle)


def lock(handle: int) -> bool | None:
    """Lock an open file until it is closed; False where another program has locked it.

    Returns None where the file system has no locks. Raises OSError.
    """
    try:
        if sys.platform == "win32":
            import msvcrt  # noqa: PLC0415 - not on every platform

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl  # noqa: PLC0415 - not on every platform

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    except OSError as error:
        if error.errno not in NO_SUCH_CALL:
            raise
        return None
    return True


def flush_folder(handle: int) -> None:
    """Put a folder's list of files on disk, where the file system can. Raises OSError."""
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in NO_SUCH_CALL:
            raise


# The program's own files on this machine, for nobody but the user: a client's house is nobody
# else's business. Folders are 0700, files 0600.


def user_folder(variable: str, kind: str) -> Path:
    """The program's folder of a kind that platformdirs knows, or what a variable says."""
    if own := os.environ.get(variable):
        return Path(own)
    import platformdirs  # noqa: PLC0415 - not on the way to the first frame of a named house

    return Path(getattr(platformdirs, kind)("housemap", appauthor=False))


def private_folder(folder: Path) -> Path:
    """Make a folder, and those above, that only its owner may enter. Raises OSError."""
    if not folder.parent.is_dir():
        private_folder(folder.parent)
    folder.mkdir(mode=0o700, exist_ok=True)
    return folder


def write_private(target: Path, data: bytes) -> None:
    """Put a file in place, whole and on disk when this returns. Raises OSError."""
    with beside(target, data, private=True) as new:
        new.replace(target)
    if os.name == "posix":
        handle = os.open(target.parent, os.O_RDONLY)
        try:
            flush_folder(handle)
        finally:
            os.close(handle)
