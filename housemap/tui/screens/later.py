"""What keys open is imported once everything was found, so that no key has to wait for it."""

import time
from importlib import import_module

MODULES = (
    "widgets.choosing", "widgets.findings", "widgets.finding", "widgets.survey", "widgets.parts",
    "widgets.form", "widgets.samples", "widgets.places", "widgets.walk", "widgets.walk_card",
    "widgets.filling",
    "surveying", "walker", "palette", "render.help", "screens.page", "screens.light",
)  # fmt: skip
"""Of housemap.tui; those of the whole screens of decks, meters and checks are seldom needed."""

PAUSE_S = 0.02
"""Between two of them: while one is imported a key may have to wait."""


def import_panels() -> None:
    """Import them, in a thread beside the screen."""
    for name in MODULES:
        import_module(f"housemap.tui.{name}")
        time.sleep(PAUSE_S)
