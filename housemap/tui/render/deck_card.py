"""The card of the chosen chip: its colour beside what it would replace, and what is known of it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from housemap.choose.deck.metameric_pairs import MetamericPair, is_measured
from housemap.choose.sweep.weighed import Weighed
from housemap.model.colour import Lab, Notation, Srgb, Triple, Xyz
from housemap.model.house import Paint
from housemap.study import Swatch
from housemap.tui.render.choosing import change_text
from housemap.tui.render.deck_list import title_of
from housemap.tui.render.listing import names_below, side_by_side
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Row
from housemap.tui.render.scene import Coat
from housemap.tui.render.text import cut, fit

TALL = 30
"""Lines from which on the colours are shown large."""
LARGE, SMALL = 9, 4
"""Lines of the colours."""
APART = 7
"""Columns of a difference."""


@dataclass(frozen=True, slots=True)
class Now:
    """What is on the chosen surface of the room."""

    place: str
    """As in "Hall walls"."""
    name: str
    coat: Coat
    metameric: MetamericPair | None
    """Between it and the chip; None where there is no paint, or its colour is not known yet."""


@dataclass(frozen=True, slots=True)
class Beside:
    """Another paint, beside the chosen chip."""

    swatch: Swatch
    coat: Coat
    metameric: MetamericPair
    """Between it and the chosen chip."""


@dataclass(frozen=True, slots=True)
class DeckCardView:
    """Everything that the card shows."""

    swatch: Swatch
    coat: Coat
    now: Now | None
    """None in a house without rooms."""
    picked: Sequence[Beside]
    nearest: Sequence[Beside]
    """Paints of the house."""
    in_house: str
    """The name of an equal paint of the house; empty where there is none."""
    does: str
    """What it would do on the surface, in words; empty where it has not been weighed."""
    look: Look


def deck_card_rows(view: DeckCardView, width: int, height: int) -> list[Row]:
    page = Page(view.look, width)
    return [
        *page.title(title_of(view.swatch)),
        *_colours(view, page, LARGE if height >= TALL else SMALL),
        *_facts(view.swatch, page),
        *_goods(view.swatch, page),
        *_place(view, page),
        *_others("picked", view.picked, page, numbered=True),
        *_others("nearest in the house", view.nearest, page),
    ]


def _colours(view: DeckCardView, page: Page, lines: int) -> Iterator[Row]:
    """The chip, touching what is on the surface now; nothing where colours are off."""
    if not view.look.colour:
        return
    coats = [view.coat, *([view.now.coat] if view.now else [])]
    row = side_by_side(coats, page.width, view.look)
    yield from [row] * lines
    if view.now:
        now = "now" if page.narrow else f"{view.now.place} now"
        yield names_below(("this", now), page.width, view.look, quiet=True)


def _facts(swatch: Swatch, page: Page) -> Iterator[Row]:
    colour, printed = swatch.colour, swatch.entity.lrv
    said = "" if printed is None else f", printed {printed:g}"
    yield page.line(f"LRV {colour.lrv:.1f}{said}")
    yield page.line(f"{colour.notation.text}, {colour.undertone.temperature}")
    yield page.line(colour.undertone.name)
    yield page.line(lab_text(colour.lab100), quiet=True, tidy=False)
    yield page.line(_given_as(swatch), quiet=True)
    if not colour.in_srgb:
        yield page.line("stronger than a screen can show", quiet=True)


def lab_text(lab100: Triple) -> str:
    light, a, b = (round(each, 1) + 0.0 for each in lab100)
    return f"L* {light:.1f}  a* {a:.1f}  b* {b:.1f}"


def _given_as(swatch: Swatch) -> str:
    source = swatch.entity.colour
    if is_measured(source):
        return "its spectrum was measured"
    match source:
        case Lab(observed=observed) | Xyz(observed=observed):
            return f"measured under {observed}"
        case Srgb():
            return "known by a screen colour"
        case Notation():
            return "known by its notation"
    raise AssertionError(source)


def _goods(swatch: Swatch, page: Page) -> Iterator[Row]:
    """How it is sold."""
    paint = swatch.entity
    if not isinstance(paint, Paint):
        return
    said = [
        f"{paint.coverage:g} m2 a litre" if paint.coverage else "",
        f"tins {', '.join(f'{tin:g}' for tin in paint.tins)} l" if paint.tins else "",
        f"{paint.price:g} a litre" if paint.price is not None else "",
    ]
    yield from page.text(", ".join(filter(None, said)), quiet=True) if any(said) else ()
    yield from page.text(paint.notes, quiet=True) if paint.notes else ()


def _place(view: DeckCardView, page: Page) -> Iterator[Row]:
    """How it differs from what is there now, and whether the house has it."""
    if view.in_house:
        yield from page.text(f"In the house as {view.in_house}.")
    if view.now is None:
        return
    yield from page.heading(f"{view.now.place} now: {view.now.name}")
    if view.now.metameric is not None:
        yield page.line(apart_text(view.now.metameric, view.look))
        if told := warning(view.now.metameric):
            yield from page.text(told, quiet=True)
    if view.does:
        yield from page.text(view.does)


def apart_text(metameric: MetamericPair, look: Look) -> str:
    """The difference of two colours in a few words."""
    return f"CIEDE2000 {metameric.de00:.1f}, LRV {signed(metameric.lrv, look)}"


def signed(points: float, look: Look) -> str:
    """Whole points more or less."""
    return f"{points:+.0f}".replace("-", look.glyphs.minus) if round(points) else "0"


def warning(metameric: MetamericPair) -> str:
    """What is to be known of the two under lamps; empty where they are no match anyway."""
    if not metameric.warns:
        return ""
    sure = "" if metameric.known == "measured" else " (an estimate: one spectrum is recovered)"
    lamp, apart = metameric.worst, metameric.lamps[metameric.worst]
    return f"Metameric: under {lamp} they part by {apart:.1f}{sure}."


def does_text(weighed: Weighed, titles: Mapping[str, str], findings: int, look: Look) -> str:
    """As in "Cost 7.7 here: jarring step 5.0, near miss 2.7. Findings 19→18."."""
    parts = ", ".join(f"{titles[check]} {cost:.1f}" for check, cost in weighed.parts.items())
    change = change_text(findings, weighed.findings_after, look)
    return f"Cost {weighed.cost:.1f} here: {parts or 'nothing is found'}. Findings {change}."


def _others(
    heading: str, others: Sequence[Beside], page: Page, *, numbered: bool = False
) -> Iterator[Row]:
    """Other paints with their differences from the chip."""
    if not others:
        return
    lead = 3 if numbered else 1
    room = page.inner - SWATCH - lead - APART
    yield from page.heading(f"{fit(heading, room + SWATCH + lead)}{'apart':>{APART}}", tidy=False)
    for number, one in enumerate(others, 1):
        name = fit(cut(one.swatch.name, room, page.more), room)
        yield (
            page.run(f" {number} " if numbered else " ", strong=True),
            page.swatch(one.coat),
            page.run(f" {name}"),
            page.run(f"{one.metameric.de00:>{APART}.1f}"),
        )
