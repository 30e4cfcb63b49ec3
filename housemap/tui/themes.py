"""Textual's themes and the look of our own drawing, which agree."""

import os

from textual.theme import Theme

from housemap.tui.render.look import DARK, LIGHT, Greys, Look

DARK_NAME, LIGHT_NAME = "housemap-dark", "housemap-light"
TERMINALS_OWN = "ansi-dark"
"""Textual's theme that leaves the terminal's own two colours alone."""


def theme_name(look: Look) -> str:
    return {DARK: DARK_NAME, LIGHT: LIGHT_NAME}.get(look.greys, TERMINALS_OWN)


def first_theme() -> str:
    """What the program starts in: `textual_fixes.use_depth` may have chosen the terminal's own."""
    return TERMINALS_OWN if os.environ.get("TEXTUAL_THEME") == TERMINALS_OWN else DARK_NAME


def _theme(name: str, greys: Greys, *, dark: bool) -> Theme:
    text, quiet, faint = str(greys.text), str(greys.quiet), str(greys.faint)
    panel, bar, chosen = str(greys.panel), str(greys.bar), str(greys.chosen)
    scrollbar = dict.fromkeys(
        ("background", "background-hover", "background-active", "corner-color"), panel
    ) | {"hover": quiet, "active": quiet}
    return Theme(
        name=name, dark=dark, primary=quiet, secondary=quiet, accent=text, warning=text,
        error=text, success=text, foreground=text, background=panel, surface=panel, panel=bar,
        boost=chosen,
        variables={
            "block-cursor-background": chosen, "block-cursor-foreground": text,
            "block-cursor-text-style": "bold", "input-selection-background": chosen,
            "input-cursor-background": text, "input-cursor-foreground": panel,
            "border": quiet, "border-blurred": faint, "scrollbar": faint,
            **{f"scrollbar-{part}": colour for part, colour in scrollbar.items()},
        },
    )  # fmt: skip


THEMES = {
    DARK_NAME: _theme(DARK_NAME, DARK, dark=True),
    LIGHT_NAME: _theme(LIGHT_NAME, LIGHT, dark=False),
}
"""Every colour of them is a grey with r = g = b."""
