"""What derives from the table of commands: bindings, key names, the key bar, the user's keymap."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

import tomli

from housemap.tui.commands import BY_ID, COMMANDS, Command, Keymap

if TYPE_CHECKING:
    from textual.binding import Binding

    from housemap.workbench.session import Session


SHOWN_KEYS: Mapping[str, str] = {
    "question_mark": "?", "full_stop": ".", "comma": ",", "plus": "+", "minus": "-",
    "equals_sign": "=", "slash": "/", "up": "↑", "down": "↓", "left": "←", "right": "→",
    "pageup": "pgup", "pagedown": "pgdn", "escape": "esc", "space": "space", "delete": "del",
    "less_than_sign": "<", "greater_than_sign": ">", "left_square_bracket": "[",
    "right_square_bracket": "]", "left_curly_bracket": "{", "right_curly_bracket": "}",
}  # fmt: skip


class Keyed:
    """A widget whose keys are the commands of its CONTEXT in the table."""

    CONTEXT: ClassVar[str] = ""

    def __init_subclass__(cls, **options: bool) -> None:
        bind_keys(cls)
        super().__init_subclass__(**options)


def bind_keys(owner: type) -> None:
    """Give a class that has a CONTEXT of its own the BINDINGS of that."""
    if context := owner.__dict__.get("CONTEXT"):
        owner.BINDINGS = bindings_of(context)  # type: ignore[attr-defined]  # Textual reads it


def bindings_of(context: str) -> "list[Binding]":
    from textual.binding import Binding  # noqa: PLC0415 - the rest of this file needs no Textual

    return [
        Binding(",".join(command.keys), command.action_of(use), use.title, id=command.id)
        for command in COMMANDS
        for use in command.uses
        if context in use.contexts and command.keys
    ]


def shown_key(key: str) -> str:
    modifier, plus, name = key.rpartition("+")
    return f"{modifier}{plus}{SHOWN_KEYS.get(name, name)}"


CHARACTERS = frozenset(
    {"space", *(key for key, shown in SHOWN_KEYS.items() if len(shown) == 1 and shown.isascii())}
)
"""Names of keys that write a character where text is typed."""


def writes(key: str) -> bool:
    """Whether a key writes a character, so that it does nothing else in a field."""
    return len(key) == 1 or key in CHARACTERS


MOST_KEYS = 6
"""That a bar names: more are not read."""

ALWAYS = ("find", "help")
"""Commands that every key bar ends with."""


def bar_items(
    offers: Iterable[str], contexts: Sequence[str], keymap: Keymap, session: "Session | None",
    *, typing: bool = False, words: Mapping[str, str] | None = None,
) -> Iterator[tuple[str, str]]:  # fmt: skip
    """What the key bar may show of some commands: key and word, in their order.

    At most MOST_KEYS; `words` by command id are shown instead of the table's. While the user is
    `typing` into a field, a key that writes a character there is not shown.
    """
    shown = 0
    for command in map(BY_ID.__getitem__, offers):
        use = command.use_in(contexts)
        keys = [key for key in command.keys_in(keymap) if not (typing and writes(key))]
        if use is not None and use.short and use.can_run(session) and keys and shown < MOST_KEYS:
            shown += 1
            yield shown_key(keys[0]), (words or {}).get(command.id, use.short)


def keys_of(command: Command, keymap: Keymap) -> str:
    return " ".join(shown_key(key) for key in command.keys_in(keymap))


def taken_twice(keymap: Keymap) -> Iterator[tuple[str, str, str]]:
    """Keys that two commands share: the key and both commands' ids."""
    seen: dict[str, str] = {}
    for command in COMMANDS:
        for key in command.keys_in(keymap):
            other = seen.setdefault(key, command.id)
            if other != command.id:
                yield key, other, command.id


# The user's own keys: keymap.toml in the config folder, such as `undo = "z"` under [keys].

FILE = "keymap.toml"


def read_keymap(folder: Path) -> tuple[Keymap, tuple[str, ...]]:
    """The keymap and what is wrong with it, one line each; wrong lines are left out."""
    path = folder / FILE
    try:
        table = tomli.loads(path.read_text("utf-8"))
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
    lines = [text for _, text in faults]
    lines += [
        f'"{key}" is the key of both {one} and {other}' for key, one, other in taken_twice(keymap)
    ]
    return keymap, tuple(f"{FILE}: {text}" for text in lines)


def _faults(entries: dict[str, Any]) -> Iterator[tuple[str, str]]:
    for name, value in entries.items():
        if name not in BY_ID:
            near = get_close_matches(name, BY_ID, 1)
            meant = f', did you mean "{near[0]}"?' if near else ""
            yield name, f'no command is called "{name}"{meant}'
        elif not _keys(value):
            yield name, f'keys of "{name}" must be a key or a list of keys'


def _keys(value: Any) -> tuple[str, ...]:
    keys = [value] if isinstance(value, str) else value
    if not isinstance(keys, list) or not all(isinstance(key, str) and key for key in keys):
        return ()
    return tuple(keys)
