"""A set of colours in words and on a card: why each colour is in it, and one page of HTML."""

from collections.abc import Iterator
from html import escape

from housemap.choose.chips import Chips
from housemap.choose.schemes.kinds import NO_HUE, ONE_HUE, OPPOSITE, hues_from, is_backbone, is_room
from housemap.choose.schemes.sets import ColourSet, SetColour
from housemap.choose.schemes.shape import TIERS, TRIM_STEP, Part
from housemap.model.house import STRENGTHS
from housemap.study import Swatch

GREYISH = STRENGTHS.index("greyish")
DEEP = 20.0
"""LRV below which an accent needs light, or is dark on purpose."""


def strength_of(swatch: Swatch) -> str:
    """By the ISCC-NBS modifiers."""
    return STRENGTHS[swatch.colour.strength]


def reason(one: SetColour, found: ColourSet) -> str:
    """One sentence about a colour of a set."""
    return reason_for(one.part, one.swatch, found.neutral)


def reason_for(part: Part, own: Swatch, neutral: Swatch) -> str:
    """One sentence about a colour in its part of a scheme around a neutral."""
    lrv, words, (low, high) = f"LRV {own.lrv:.0f}", own.colour.undertone.words, TIERS["room"].fine
    match part:
        case "neutral":
            closes = "for rooms that close, too deep for halls"
            use = closes if is_room(own) else "what the set answers"
            use = "light enough for halls and open space" if is_backbone(own) else use
            said = f"A {words}, {lrv}: {use}."
        case "backbone" | "room" if own is neutral:
            rooms = "suits rooms that can be closed off"
            use = "is light enough for halls and open space" if part == "backbone" else rooms
            said = f"The neutral itself: {lrv} {use}."
        case "backbone":
            step = "lighter" if own.lrv > neutral.lrv else "deeper"
            said = f"{_relation(own, neutral)}, and {step}: {lrv} suits halls and open space."
        case "room":
            fits = low <= own.lrv <= high
            tier = "suits rooms that can be closed off" if fits else "is off that tier"
            said = f"{_relation(own, neutral)}, as quiet: {lrv} {tier}."
        case "trim":
            plain = own.colour.notation.chroma < NO_HUE
            lean = "" if plain else " that leans as the neutral does"
            above = own.lrv - neutral.lrv
            reads = ", so that the edge reads" if above >= TRIM_STEP else ""
            said = f"Near-white{lean}, {above:.0f} LRV points above the neutral{reads}."
        case "dark":
            said = f"Near-black with a trace of the neutral's hue, {lrv}: doors or joinery."
        case _:
            strong = f", {strength_of(own)} in colour" if own.colour.strength > GREYISH else ""
            deep = "deep, where there is light or on purpose"
            use = deep if own.lrv < DEEP else "for one room or wall"
            said = f"{_relation(own, neutral)}{strong}: {lrv}, {use}."
    return said


def _relation(own: Swatch, neutral: Swatch) -> str:
    """How its hue stands to the neutral's, and its name."""
    name = own.colour.undertone.words
    article = "An" if name[0] in "aeiou" else "A"
    if neutral.colour.notation.chroma < NO_HUE:
        return f"{article} {name} beside a grey without undertone"
    turned = abs(float(hues_from(Chips((own,)), neutral)[0]))
    if own.colour.notation.chroma < NO_HUE or turned <= ONE_HUE:
        return f"{article} {name} that shares the neutral's undertone"
    if turned >= OPPOSITE[0]:
        return f"{article} {name}, opposite {neutral.name} in hue"
    return f"{article} {name}, {_answer(own, neutral)} {neutral.name}"


def _answer(own: Swatch, neutral: Swatch) -> str:
    """By warm and cool, as in "a cool answer to"."""
    tone = own.colour.undertone.temperature
    if tone == "neutral":
        return "neither warm nor cool, beside"
    alike = neutral.colour.undertone.temperature == tone
    return f"a {tone} {'neighbour of' if alike else 'answer to'}"


# The card: a page that needs nothing else, to look at and to print.

AREAS: dict[Part, int] = {
    "backbone": 40, "neutral": 20, "room": 12, "accent": 7, "dark": 5, "trim": 14,
}  # fmt: skip
"""How much of a house each part covers, in proportion; common practice, no source."""
NOTE = (
    "A screen emits light and a printer uses other inks: neither can match paint."
    " Have samples put up before anything is bought."
)
STYLE = """
body { font: 16px/1.4 system-ui, sans-serif; max-width: 60em; margin: 2em auto; padding: 0 1em; }
.bar { display: flex; height: 9em; border: 1px solid #999; margin: 1em 0; }
.chip { width: 3.5em; height: 2em; border: 1px solid #999; }
.bar div, .chip { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
table { border-collapse: collapse; width: 100%; }
td, th { text-align: left; padding: .3em .6em; border-bottom: 1px solid #ddd;
  vertical-align: top; }
section { break-inside: avoid; }
"""


def card(sets: tuple[ColourSet, ...], around: str) -> str:
    """The page for sets around a paint of that name."""
    return "\n".join(_page(sets, around)) + "\n"


def _page(sets: tuple[ColourSet, ...], around: str) -> Iterator[str]:
    title = escape(f"Colours around {around}")
    yield '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">'
    yield f"<title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>"
    for number, found in enumerate(sets, 1):
        yield from _section(number, found)
    yield f"<p>{NOTE}</p>\n</body>\n</html>"


def _section(number: int, found: ColourSet) -> Iterator[str]:
    yield f"<section>\n<h2>Set {number}: {found.kind}</h2>"
    yield '<div class="bar" role="img" aria-label="the colours in proportion">'
    for one in in_proportion(found):
        style = f"flex: {AREAS[one.part]}; background: {one.swatch.colour.srgb_hex}"
        yield f'<div style="{style}"></div>'
    yield "</div>\n<table>\n<tr><th></th><th>For</th><th>Paint</th><th>Notation</th>"
    yield "<th>LRV</th><th>Strength</th><th>Why</th></tr>"
    for one in found.colours:
        yield f"<tr>{''.join(_cells(one, found))}</tr>"
    yield "</table>"
    for words in found.broken:
        yield f"<p>A wish that is not kept: {escape(words)}.</p>"
    yield "</section>"


def _cells(one: SetColour, found: ColourSet) -> Iterator[str]:
    swatch = one.swatch
    yield f'<td><div class="chip" style="background: {swatch.colour.srgb_hex}"></div></td>'
    texts = (
        one.part, swatch.name, f"{swatch.colour.notation.text} ({swatch.colour.undertone.words})",
        f"{swatch.lrv:.0f}", strength_of(swatch), reason(one, found),
    )  # fmt: skip
    for text in texts:
        yield f"<td>{escape(text)}</td>"


def in_proportion(found: ColourSet) -> tuple[SetColour, ...]:
    """The colours as they cover a house, the most first, trim last; each paint once."""
    order = list(AREAS)
    seen: dict[str, SetColour] = {}
    for one in sorted(found.colours, key=lambda each: order.index(each.part)):
        seen.setdefault(one.swatch.id, one)
    return tuple(seen.values())
