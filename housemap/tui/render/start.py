"""The start screen: what can be opened."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from housemap.file.recovery import Recovery
from housemap.tui.render.cells import Ink, Row, Run, fit
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page

WIDEST = 72

FIRST_TIME = (
    "For a first look, open the demo house. The line at the bottom always names the keys that "
    "matter; ? lists all of them."
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One line that can be chosen."""

    title: str
    words: str
    path: Path | None = None
    command: str = ""
    """The action to run where there is no path."""
    work: Recovery | None = None
    """What an earlier run left behind."""


def start_rows(entries: Sequence[Entry], chosen: int, look: Look, width: int) -> list[Row]:
    """The entries under a heading, the chosen one marked."""
    page = Page(look, width)
    rows = [
        page.blank(),
        page.line("housemap", strong=True, indent=1),
        page.line("The paint of a whole house, room by room.", quiet=True, indent=1),
        page.blank(),
    ]
    rows += [_entry_row(entry, i == chosen, look, width) for i, entry in enumerate(entries)]
    if not any(entry.path or entry.work for entry in entries):
        rows += [
            page.blank(),
            *Page(look, min(width, WIDEST)).text(FIRST_TIME, quiet=True, indent=1),
        ]
    return rows


def _entry_row(entry: Entry, chosen: bool, look: Look, width: int) -> Row:  # noqa: FBT001 - of a list
    greys = look.greys
    ground = greys.chosen if chosen else greys.panel
    mark = look.glyphs.here if chosen else " "
    inner = min(width - 4, WIDEST)
    title = fit(entry.title, min(28, inner))
    words = fit(entry.words, max(inner - 29, 0))
    return (
        Run(" ", Ink(greys.text, greys.panel)),
        Run(f"{mark} {title}", Ink(greys.strong if chosen else greys.text, ground, bold=chosen)),
        Run(f" {words}", Ink(greys.quiet, ground)),
    )
