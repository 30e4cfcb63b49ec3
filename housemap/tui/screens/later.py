"""What keys open is imported once everything was found, so that no key has to wait for it."""

from importlib import import_module

MODULES = (
    "widgets.choosing", "widgets.findings", "widgets.finding", "widgets.survey", "widgets.parts",
    "widgets.form", "widgets.samples", "widgets.places", "widgets.walk", "widgets.walk_card",
    "widgets.filling",
    "surveying", "walker", "palette", "render.help", "screens.page", "screens.light",
)  # fmt: skip
"""Of housemap.tui; those of the whole screens of decks, meters and checks are seldom needed."""


def import_panels() -> None:
    """Import them, in a thread beside the screen."""
    for name in MODULES:
        import_module(f"housemap.tui.{name}")
