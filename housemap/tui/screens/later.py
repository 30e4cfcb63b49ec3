"""What keys open is imported once everything was found, so that no key has to wait for it."""

import time
from importlib import import_module

MODULES = (
    "housemap.tui.widgets.choosing",
    "housemap.tui.widgets.findings",
    "housemap.tui.widgets.finding",
    "housemap.tui.widgets.survey",
    "housemap.tui.widgets.parts",
    "housemap.tui.widgets.form",
    "housemap.tui.widgets.samples",
    "housemap.tui.widgets.places",
    "housemap.tui.widgets.walk",
    "housemap.tui.widgets.walk_card",
    "housemap.tui.widgets.filling",
    "housemap.workbench.survey.surveyor",
    "housemap.workbench.walker",
    "housemap.tui.palette",
    "housemap.tui.render.help",
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
