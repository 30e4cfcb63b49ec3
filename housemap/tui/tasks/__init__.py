"""The tasks of the open house, each with its drawing, panels, pages and actions.

A task is imported when its first command is run. `house_screen.Task` says what a task is.
"""

import sys
import time
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from housemap.tui.house_screen import Task


def task_class(name: str) -> "type[Task]":
    """The task by its name before the dot in the table of commands: "choose" is ChooseTask."""
    kind: type[Task] = getattr(import_module(f"{__name__}.{name}"), f"{name.capitalize()}Task")
    return kind


AHEAD = (
    *(f"{__name__}.{name}" for name in (
        "choose", "findings", "survey", "edit", "samples", "walk", "suggest", "help", "light",
    )),
    "networkx",
    "housemap.tui.finder",
)  # fmt: skip
"""What keys open, imported once everything was found, so that no key has to wait for it.

The whole screens of decks, meters, checks and schedules are seldom needed.
"""
PAUSE_S = 0.02
"""Between two of them: while one is imported a key may have to wait."""


def import_ahead() -> None:
    """Import them, in a thread beside the screen."""
    for name in AHEAD:
        if name not in sys.modules:
            import_module(name)
            time.sleep(PAUSE_S)
