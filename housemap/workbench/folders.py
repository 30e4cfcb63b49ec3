"""Where the program keeps the user's keys and decks, and what it remembers between runs."""

import os
from pathlib import Path


def config_folder() -> Path:
    """Holds keymap.toml. HOUSEMAP_CONFIG_DIR sets another."""
    return _folder("HOUSEMAP_CONFIG_DIR", "user_config_path")


def state_folder() -> Path:
    """Holds recent houses, recovery copies and the choice of greys. HOUSEMAP_STATE_DIR sets
    another.
    """  # noqa: D205 - one sentence
    return _folder("HOUSEMAP_STATE_DIR", "user_state_path")


def data_folder() -> Path:
    """Holds the user's decks. HOUSEMAP_DATA_DIR sets another."""
    return _folder("HOUSEMAP_DATA_DIR", "user_data_path")


def _folder(variable: str, kind: str) -> Path:
    if own := os.environ.get(variable):
        return Path(own)
    import platformdirs  # noqa: PLC0415 - not on the way to the first frame of a named house

    return Path(getattr(platformdirs, kind)("housemap", appauthor=False))
