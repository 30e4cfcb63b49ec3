"""What derives from the table of commands: bindings, key names, the key bar, the user's keymap."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Any

from housemap.tui.commands import BY_ID, COMMANDS, Command, Keymap, commands_of

if TYPE_CHECKING:
    from textual.binding import Binding

    from housemap.workbench.session import Session


SHOWN_KEYS: Mapping[str, str] = {
    "question_mark": "?", "full_stop": ".", "comma": ",", "plus": "+", "minus": "-",
    "equals_sign": "=", "colon": ":", "slash": "/", "up": "↑", "down": "↓", "left": "←",
    "right": "→", "pageup": "pgup", "pagedown": "pgdn", "escape": "esc", "space": "space",
    "less_than_sign": "<", "greater_than_sign": ">", "left_square_bracket": "[",
    "right_square_bracket": "]",
}  # fmt: skip


def bindings_of(context: str) -> "list[Binding]":
    """The BINDINGS of the widget or screen with that CONTEXT."""
    from textual.binding import Binding  # noqa: PLC0415 - the rest of this file needs no Textual

    return [
        Binding(",".join(command.keys), command.action_text, command.title, id=command.id)
        for command in COMMANDS
        if command.context == context and command.keys
    ]


def shown_key(key: str, *, ascii_only: bool = False) -> str:
    """A key as it is written for people: "^s" for ctrl+s."""
    if ascii_only and key in {"up", "down", "left", "right"}:
        return key
    modifier, _, name = key.rpartition("+")
    shown = SHOWN_KEYS.get(name, name)
    if not modifier:
        return shown
    return f"^{shown}" if modifier == "ctrl" else f"{modifier}+{shown}"


CHARACTERS = frozenset(
    {"space", *(key for key, shown in SHOWN_KEYS.items() if len(shown) == 1 and shown.isascii())}
)
"""Names of keys that write a character where text is typed."""


def writes(key: str) -> bool:
    """Whether a key writes a character, so that it does nothing else in a field."""
    return len(key) == 1 or key in CHARACTERS


def bar_items(
    contexts: Sequence[str], keymap: Keymap, session: "Session | None", *, typing: bool = False
) -> list[tuple[str, str, int]]:
    """What the key bar may show: key, word and rank; nearest context first, help last.

    A key that something nearer uses is not shown with what it would do farther away; while the
    user is `typing` into a field, nor is one that writes a character there.
    """

    def keys_in(command: Command) -> list[str]:
        return [key for key in command.keys_in(keymap) if not (typing and writes(key))]

    order = {context: i for i, context in enumerate(contexts)}
    nearest: dict[str, str] = {}
    for command in sorted(commands_of(contexts), key=lambda c: order.get(c.context, len(order))):
        for key in keys_in(command):
            nearest.setdefault(key, command.id)
    usable = [
        command
        for command in commands_of(contexts)
        if command.short
        and command.can_run(session)
        and any(nearest[key] == command.id for key in keys_in(command)[:1])
    ]
    usable.sort(key=lambda c: (c.id == "help", order.get(c.context, len(order)), c.rank))
    return [(shown_key(keys_in(c)[0]), c.short, c.rank) for c in usable]


def binding_keys(keymap: Keymap) -> dict[str, str]:
    """The user's keys in the form of Textual's keymap."""
    return {command_id: ",".join(keys) for command_id, keys in keymap.items() if keys}


def keys_of(command: Command, keymap: Keymap) -> str:
    """All keys of a command, as the help screen shows them."""
    return " ".join(shown_key(key) for key in command.keys_in(keymap))


def taken_twice(keymap: Keymap) -> Iterable[tuple[str, str, str]]:
    """Keys that two commands of one context share: the key and both commands' ids."""
    seen: dict[tuple[str, str], str] = {}
    for command in COMMANDS:
        for key in command.keys_in(keymap):
            other = seen.setdefault((command.context, key), command.id)
            if other != command.id:
                yield key, other, command.id


# The user's own keys: keymap.toml in the config folder, such as `undo = "z"` under [keys].

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
