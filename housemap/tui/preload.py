"""What keys open is imported once everything was found, so that no key has to wait for it."""

import time
from importlib import import_module

MODULES = (
    "housemap.tui.tasks.choose",
    "housemap.tui.tasks.findings",
    "housemap.tui.tasks.findings",
    "housemap.tui.tasks.survey",
    "housemap.tui.tasks.edit",
    "housemap.tui.tasks.forms",
    "housemap.tui.tasks.samples",
    "housemap.tui.tasks.walk_panels",
    "housemap.tui.tasks.walk_panels",
    "housemap.tui.tasks.walk_panels",
    "housemap.tui.tasks.fill",
    "housemap.workbench.survey.surveyor",
    "housemap.workbench.walker",
    "networkx",
    "housemap.tui.finder",
    "housemap.tui.tasks.help",
    "housemap.tui.screens.page",
    "housemap.tui.screens.light",
)
"""The whole screens of decks, meters and checks are seldom needed."""

PAUSE_S = 0.02
"""Between two of them: while one is imported a key may have to wait."""


def import_panels() -> None:
    """Import them, in a thread beside the screen."""
    for name in MODULES:
        import_module(name)
        time.sleep(PAUSE_S)
