"""Paths as people type them. Nothing here fails: what opens or writes a path says what is wrong."""

import os
import re
from contextlib import suppress
from pathlib import Path


def typed_path(text: str) -> Path:
    """The path of what was typed; a ~ that names no user is kept as it is."""
    path = Path(text)
    try:
        return path.expanduser()
    except RuntimeError:
        return path


def house_path(text: str, beside: Path | None = None) -> Path:
    """The path of a typed name, with .toml if it has no ending; a bare one beside `beside`."""
    path = typed_path(text)
    if beside and text == path.name:
        path = beside.parent / path
    return path if path.suffix or not path.name else path.with_name(f"{path.name}.toml")


def same_file(one: Path, other: Path) -> bool:
    """Whether both are one file, by whichever of its names or links."""
    with suppress(OSError):
        return one.samefile(other)
    return os.path.realpath(one) == os.path.realpath(other)


def is_there(path: Path) -> bool:
    """Whether something has that path; False also for a name that no file can have."""
    return os.path.exists(path)  # noqa: PTH110 - Path.exists raises for a name that is too long


def file_stem(name: str) -> str:
    """A file name for a house: letters and digits of its name, joined by dashes."""
    return "-".join(re.findall(r"[a-z0-9]+", name.lower())) or "house"
