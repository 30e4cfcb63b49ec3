"""A set of colours as a card: one HTML page that needs nothing else, to look at and to print."""

from collections.abc import Iterator
from html import escape

from housemap.choose.schemes.reasons import colour_name, reason, strength_of
from housemap.choose.schemes.sets import ColourSet, SetColour
from housemap.choose.schemes.shape import Part

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
        one.part, swatch.name, f"{swatch.colour.notation.text} ({colour_name(swatch)})",
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
