"""The copy that keeps unsaved work when the program has to end."""

import os
import time
from pathlib import Path

from housemap.file import dump_house
from housemap.session import Session
from housemap.tui.folders import state_folder

FOLDER = "recovery"


def keep_work(session: Session) -> Path | None:
    """Write what is not saved where only the user can read it; None where that cannot be done."""
    folder = state_folder() / FOLDER
    stem = session.file.path.stem if session.file else "new-house"
    path = folder / f"{stem}-{time.strftime('%Y%m%d-%H%M%S')}.toml"
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:  # noqa: PTH123 - mode
            file.write(dump_house(session.house))
    except OSError:
        return None
    return path
