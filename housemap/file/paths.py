"""Paths as people type them. Nothing here fails: what opens or writes a path says what is wrong."""

import os
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
