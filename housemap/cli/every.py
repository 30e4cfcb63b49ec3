"""Every command of the command line. A command is imported when it is asked for, and no other."""

from collections.abc import Mapping
from functools import cache
from importlib import import_module

from housemap.cli.command import Command

MODULES: Mapping[str, str] = {
    "survey": "survey", "check": "check", "facts": "facts", "sight": "sight", "rank": "rank",
    "fill": "fill", "view": "view", "schedule": "schedule", "scheme": "scheme", "diff": "diff",
    "merge": "merge", "saves": "saves", "deck": "deck", "guide": "guide", "about": "about",
    "completion": "shell", "man": "shell",
}  # fmt: skip
"""The module of each command by its name, in the order in which help lists them."""


@cache
def command_of(name: str) -> Command:
    """The command of that name, one of MODULES: its module has it in capitals."""
    module = import_module(f"housemap.cli.{MODULES[name]}")
    command: Command = getattr(module, name.upper())
    return command


def every_command() -> tuple[Command, ...]:
    """All of them, imported."""
    return tuple(map(command_of, MODULES))
