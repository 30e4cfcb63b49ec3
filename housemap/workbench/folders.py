"""Where the program keeps the user's keys and decks, and what it remembers between runs."""

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
