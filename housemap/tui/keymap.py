"""The user's own keys: keymap.toml in the config folder.

[keys]
undo = "z"
save = ["ctrl+s", "w"]
"""

import tomllib
from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from housemap.tui.commands import BY_ID, Keymap
from housemap.tui.keys import taken_twice

FILE = "keymap.toml"


def read_keymap(folder: Path) -> tuple[Keymap, tuple[str, ...]]:
    """The keymap and what is wrong with it, one line each; wrong lines are left out."""
    path = folder / FILE
    try:
        table = tomllib.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return {}, ()
    except (OSError, ValueError) as error:
        return {}, (f"{FILE}: {error}",)
    entries = table.get("keys", {})
    if not isinstance(entries, dict):
        return {}, (f"{FILE}: [keys] must be a table",)
    faults = tuple(_faults(entries))
    wrong = {command for command, _ in faults}
    keymap = {name: _keys(value) for name, value in entries.items() if name not in wrong}
    told = [text for _, text in faults]
    told += [
        f'"{key}" is the key of both {one} and {other}' for key, one, other in taken_twice(keymap)
    ]
    return keymap, tuple(f"{FILE}: {text}" for text in told)


def _faults(entries: dict[str, Any]) -> Iterator[tuple[str, str]]:
    for name, value in entries.items():
        if name not in BY_ID:
            near = get_close_matches(name, BY_ID, 1)
            yield name, f'no command "{name}"' + (f', did you mean "{near[0]}"?' if near else "")
        elif not _keys(value):
            yield name, f'keys of "{name}" must be a key or a list of keys'


def _keys(value: Any) -> tuple[str, ...]:
    keys = [value] if isinstance(value, str) else value
    if not isinstance(keys, list) or not all(isinstance(key, str) and key for key in keys):
        return ()
    return tuple(keys)
