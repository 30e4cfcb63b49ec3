"""Where the program keeps the user's keys and decks, and what it remembers between runs."""

from pathlib import Path

from housemap.file.kept import user_folder


def config_folder() -> Path:
    """Holds keymap.toml. HOUSEMAP_CONFIG_DIR sets another."""
    return user_folder("HOUSEMAP_CONFIG_DIR", "user_config_path")


def state_folder() -> Path:
    """Holds recent houses, recovery copies and the choice of greys. HOUSEMAP_STATE_DIR sets
    another.
    """  # noqa: D205 - one sentence
    return user_folder("HOUSEMAP_STATE_DIR", "user_state_path")


def data_folder() -> Path:
    """Holds the user's decks. HOUSEMAP_DATA_DIR sets another."""
    return user_folder("HOUSEMAP_DATA_DIR", "user_data_path")
