"""The field for readings of a meter, of any number of lines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from textual.widgets import TextArea

from housemap.choose.deck.metameric_pairs import MetamericPair, Neighbour
from housemap.choose.deck.meter_readings import Entry, Metered
from housemap.colorimetry.facts import ColourFacts
from housemap.tui.render.cells import Row, cut, fit, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page, patch
from housemap.tui.render.shades import Coat
from housemap.tui.tasks.deck_drawing import lab_text, title_of


class ReadingsField(TextArea):
    """Plain text; tab leaves it."""

    def __init__(self, text: str) -> None:
        super().__init__(
            text, id="typed", tab_behavior="focus", show_line_numbers=False,
            highlight_cursor_line=False, compact=True,
        )  # fmt: skip
        self.cursor_blink = False


# What typed readings come to: each one, their mean, and the paints nearest to it.

TALL = 30
"""Lines from which on there is room for more of everything."""
APART = 7
"""Columns of a difference."""
EXAMPLES = """\
Type a reading on each line:
  L 62.1 a 1.2 b 8.3 D50/2
  XYZ 30.1 31.2 25.0 D65/10
or paste a spectrum over several:
  400 0.31
  410 0.33 ...
A blank line keeps spectra apart."""


@dataclass(frozen=True, slots=True)
class MeterView:
    """Everything beside the readings."""

    metered: Metered
    observed: str
    """Illuminant and observer of readings that do not say."""
    deck: str
    near_deck: Sequence[Neighbour]
    near_house: Sequence[Neighbour]
    look: Look


def meter_rows(view: MeterView, width: int, height: int) -> list[Row]:
    page = Page(view.look, width)
    most = 6 if height >= TALL else 3
    return [
        *_mean(view, page, 5 if height >= TALL else 3),
        *_entries(view.metered, page),
        *_nearest(f"nearest in {view.deck}", view.near_deck[:most], page),
        *_nearest("nearest in the house", view.near_house[:most], page),
        *_assumed(view, page),
    ]


def _mean(view: MeterView, page: Page, lines: int) -> Iterator[Row]:
    found, colour = view.metered, view.metered.colour
    if not found.entries:
        yield from (page.line(line, quiet=True, tidy=False) for line in EXAMPLES.splitlines())
        return
    if colour is None:
        yield from page.text(found.fault or "A line cannot be read yet; nothing is lost.")
        return
    run = patch(Coat("known", colour.srgb_hex), page.inner, page.look)
    yield from [(page.run(" "), run, page.run(" "))] * (lines if page.look.colour else 0)
    yield from _colour_lines(_what(found), colour, page)


def _what(found: Metered) -> str:
    count = len(found.entries)
    if found.widest is None:
        return "One reading"
    return f"Mean of {count} readings, within {found.widest:.2f}"


def _colour_lines(title: str, colour: ColourFacts, page: Page) -> Iterator[Row]:
    yield page.line(title, strong=True)
    yield page.line(f"LRV {colour.lrv:.1f}, {colour.notation.text}")
    yield page.line(f"{colour.undertone.name}, {colour.undertone.temperature}")
    yield page.line(lab_text(colour.lab100), quiet=True, tidy=False)


def _entries(found: Metered, page: Page) -> Iterator[Row]:
    """Each reading with its colour and how far from the mean it is, or what is wrong with it."""
    if not found.entries or (found.colour and len(found.entries) == 1):
        return
    yield from page.heading(_with_apart("readings", "apart", page), tidy=False)
    for entry in found.entries:
        yield from _entry_rows(entry, page)


def _entry_rows(entry: Entry, page: Page) -> Iterator[Row]:
    lead = f" {entry.line:>3} "
    if entry.colour is None:
        room = max(page.width - len(lead) - 1, 1)
        for line in wrap(entry.fault, room):
            yield page.run(lead, quiet=True), page.run(line, strong=True)
            lead = " " * len(lead)
        return
    apart = f"{entry.apart:>{APART}.2f}" if entry.apart is not None else ""
    room = max(page.width - len(lead) - SWATCH - len(apart) - 2, 1)
    yield (
        page.run(lead, quiet=True),
        page.swatch(Coat("known", entry.colour.srgb_hex)),
        page.run(f" {fit(entry.colour.notation.text, room)}"),
        page.run(apart),
    )


def _assumed(view: MeterView, page: Page) -> Iterator[Row]:
    """What was taken for granted."""
    yield page.blank()
    if view.metered.entries:
        for note in view.metered.notes:
            yield from page.text(note, quiet=True)
    else:
        yield from page.text(f"Readings that do not say: {view.observed}.", quiet=True)


def _nearest(title: str, found: Sequence[Neighbour], page: Page) -> Iterator[Row]:
    if not found:
        return
    yield from page.heading(_with_apart(title, "apart", page), tidy=False)
    for one in found:
        lamp = _lamp_text(one.metameric)
        room = max(page.inner - SWATCH - APART - len(lamp) - 1, 1)
        name = fit(cut(title_of(one.swatch), room, page.more), room)
        yield (
            page.run(" "),
            page.swatch(Coat("known", one.swatch.colour.srgb_hex)),
            page.run(f" {name}"),
            page.run(lamp, strong=True),
            page.run(f"{one.metameric.de00:>{APART}.2f}"),
        )


def _lamp_text(metameric: MetamericPair) -> str:
    """A warning in a few characters: the lamp that parts them, and by how much."""
    if not metameric.warns:
        return ""
    about = "~" if metameric.known == "estimate" else ""
    return f" {metameric.worst} {about}{metameric.lamps[metameric.worst]:.1f}"


def _with_apart(title: str, right: str, page: Page) -> str:
    return f"{fit(title, page.inner - APART)}{right:>{APART}}"
