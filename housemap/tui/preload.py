"""What keys open is imported once everything was found, so that no key has to wait for it."""

import time
from importlib import import_module

MODULES = (
    *(f"housemap.tui.tasks.{name}" for name in (
        "choose", "findings", "survey", "edit", "samples", "walk", "suggest", "help", "light",
    )),
    "networkx",
    "housemap.tui.finder",
)  # fmt: skip
"""The whole screens of decks, meters, checks and schedules are seldom needed."""

PAUSE_S = 0.02
"""Between two of them: while one is imported a key may have to wait."""


def import_tasks() -> None:
    """Import them, in a thread beside the screen."""
    for name in MODULES:
        import_module(name)
        time.sleep(PAUSE_S)
