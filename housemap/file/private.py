"""Files in the program's own folder on this machine, for nobody but the user.

Folders are 0700 and files 0600: a client's house is nobody else's business.
"""

import os
from pathlib import Path

from housemap.errors import HouseFileError, Problem
from housemap.file.save import beside, flush_folder


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
