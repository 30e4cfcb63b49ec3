"""Where the program keeps the user's keys and decks, and what it remembers: houses opened last."""

import json
from contextlib import suppress
from pathlib import Path

from housemap.file.atomic import private_folder, user_folder, write_private


def config_folder() -> Path:
    """Holds keymap.toml. HOUSEMAP_CONFIG_DIR sets another."""
    return user_folder("HOUSEMAP_CONFIG_DIR", "user_config_path")


def state_folder() -> Path:
    """Holds recent houses, recovery copies and the choice of greys. HOUSEMAP_STATE_DIR sets
    another.
    """  # noqa: D205 - one sentence
    return user_folder("HOUSEMAP_STATE_DIR", "user_state_path")


def recalled(name: str) -> object:
    """What a file of the state folder holds; None where that cannot be read."""
    try:
        return json.loads((state_folder() / name).read_text("utf-8"))
    except (OSError, ValueError):
        return None


def remember(name: str, value: object) -> None:
    """Keep a value in a file of the state folder; not where that cannot be written."""
    with suppress(OSError):
        write_private(private_folder(state_folder()) / name, json.dumps(value).encode())


def data_folder() -> Path:
    """Holds the user's decks. HOUSEMAP_DATA_DIR sets another."""
    return user_folder("HOUSEMAP_DATA_DIR", "user_data_path")


# The house files opened last, and the demo house.

RECENT = "recent.json"
MOST_RECENT = 9


def recent_houses() -> tuple[Path, ...]:
    """Newest first; files that are gone, or a list that cannot be read, are left out."""
    names = recalled(RECENT)
    if not isinstance(names, list):
        return ()
    paths = [Path(name) for name in names if isinstance(name, str) and "\0" not in name]
    return tuple(path for path in paths if path.is_file())[:MOST_RECENT]


def remember_house(path: Path) -> None:
    """Put a file at the head of the list; where the folder cannot be written, nothing is kept."""
    path = path.absolute()
    names = [str(p) for p in (path, *(p for p in recent_houses() if p != path))][:MOST_RECENT]
    remember(RECENT, names)


def demo_house() -> Path:
    """The demo, from the installed package or from the project's root."""
    package = Path(__file__).parents[1]
    packaged = package / "demo_house.toml"
    return packaged if packaged.is_file() else package.parent / "demo_house.toml"
