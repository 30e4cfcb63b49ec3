"""What derives from the table of commands: bindings, key names, the key bar, the user's keymap."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from housemap.tui.commands import COMMANDS, Command, Keymap, commands_of

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
