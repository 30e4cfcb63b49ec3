"""Files that commands write: they replace only what a command wrote and nobody has changed since.

Fingerprints of what was written are remembered in the program's state folder; names and content
are not.
"""

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from housemap.errors import HousemapError, InputError
from housemap.file.atomic import private_folder, write_private
from housemap.file.reader import fingerprint, printable
from housemap.file.save import save_bytes
from housemap.workbench.folders import state_folder

FILE = "written.txt"
MOST = 500
MOST_BYTES = 2**30


def check_free(path: Path, *, force: bool) -> None:
    """Raise InputError where a file is there that is not one of the program's own making."""
    if not force and path.is_file() and _mark(path) not in _marks():
        text = "is there already, and this program did not write it: add --force to write over it"
        raise InputError.of(text, file=printable(str(path)))


def write_made(data: bytes, path: Path, what: str) -> None:
    """Write a file whole or not at all, and remember it. Raises HouseFileError."""
    save_bytes(data, path, most=MOST_BYTES, what=what, keep_former=False)
    remember(path)


def remember(path: Path) -> None:
    """Remember that a command has written a file; where that cannot be, it needs --force again."""
    with suppress(OSError, HousemapError):
        marks = [*_marks(), _mark(path)][-MOST:]
        write_private(private_folder(state_folder()) / FILE, "\n".join(marks).encode())


def _marks() -> Sequence[str]:
    try:
        return (state_folder() / FILE).read_text("ascii").split()
    except (OSError, ValueError):
        return ()


def _mark(path: Path) -> str:
    """Of where a file is and what it holds; "" where it cannot be read."""
    try:
        return fingerprint(os.fsencode(path.resolve()) + b"\0" + path.read_bytes())
    except OSError:
        return ""
