"""The lines above a deck: which one it is and what is asked of it."""

from collections.abc import Iterator

from housemap.tui.render.bars import two_ends
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Row
from housemap.tui.render.text import cut
from housemap.workbench.deck_browser import DeckBrowser

EXAMPLE = "name, code, undertone, lrv 55-70, value>7, chroma<2, 5y, 10yr-5y, 5y 7/1"
ARRANGED = {
    "hue": "pages of hue", "value": "pages of value", "near-neutral": "near-neutrals",
    "list": "list",
}  # fmt: skip

AXES = {
    "hue": "value down, chroma across", "value": "hue down, chroma across",
    "near-neutral": "chroma up to 3: value down, hue across, chroma within",
}  # fmt: skip


def count_text(desk: DeckBrowser) -> str:
    """How many paints there are and fit."""
    if not desk.paints and not desk.done:
        return "being read"
    if not desk.done:
        known = len(desk.chips) + len(desk.chips.faults)
        return f"{known:,} of {desk.paints:,} paints so far"
    found = len(desk.rows)
    if desk.asks:
        return f"{found:,} of {len(desk.chips):,} paints"
    faults = len(desk.chips.faults)
    return f"{found:,} paints" + (f", {faults} impossible" if faults else "")


def arranged_text(desk: DeckBrowser) -> str:
    """How the paints are arranged, and which page shows."""
    words, labels = ARRANGED[desk.arrangement], desk.chart.pages.labels
    return f"{words}: {labels[desk.page]}" if desk.arrangement in {"hue", "value"} else words


def asked_of(desk: DeckBrowser) -> Iterator[str]:
    """What is asked beside the typed search."""
    if desk.wanted.temperature:
        yield desk.wanted.temperature
    if desk.wanted.family:
        yield f"undertone {desk.wanted.family}"
    if near := desk.swatch_of(desk.near):
        yield f"near {near.name}"


def search_row(desk: DeckBrowser, look: Look, width: int) -> Row:
    """The search as typed, what is wrong with it, and what else is asked."""
    line = Line(look, width)
    right = desk.fault or ", ".join(asked_of(desk))
    room = max(width - len(right) - 6, 0)
    text = line.run(cut(desk.text or EXAMPLE, room), quiet=not desk.text, strong=bool(desk.text))
    return two_ends((line.run(" / ", strong=True), text), right, width, look)
