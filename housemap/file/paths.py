"""Paths as people type them. Nothing here fails: what opens or writes a path says what is wrong."""

import os
import re
from pathlib import Path


def typed_path(text: str) -> Path:
    """The path of what was typed; a ~ that names no user is kept as it is."""
    path = Path(text)
    try:
        return path.expanduser()
    except RuntimeError:
        return path


def is_there(path: Path) -> bool:
    """Whether something has that path; False also for a name that no file can have."""
    return os.path.exists(path)  # noqa: PTH110 - Path.exists raises for a name that is too long


def file_stem(name: str) -> str:
    """A file name for a house: letters and digits of its name, joined by dashes."""
    return "-".join(re.findall(r"[a-z0-9]+", name.lower())) or "house"
