"""The built-in deck: paints named by ASTM D1535 notation alone, so that no import is needed.

TABLE says how colourful a paint can be: the largest chroma of a chip by hue and value.

Facts, made by `tests/support/notation_limits.py` from the Munsell renotation (Newhall, Nickerson
& Judd 1943) within Pointer's gamut of real surface colours (Pointer 1980), and held to both by a
test. White at value 9.5 to chroma 1, and no chip below value 2 (LRV 3): our assumption.
"""

from collections.abc import Iterator, Mapping
from functools import cache

from housemap.deck.records import with_ids
from housemap.model.house import Notation, Paint
from housemap.model.notation import spell

VALUES = tuple(half / 2 for half in range(4, 20))
"""2, 2.5 .. 9.5."""

TABLE = """
2.5R   6 8 12 14 16 16 16 16 14 12 10 8 6 4 2.5 1
5R     6 8 12 14 16 16 16 16 14 12 10 8 6 4 2.5 1
7.5R   8 10 12 14 16 18 18 16 16 14 10 8 6 4 2 1
10R    8 10 10 12 14 16 16 16 16 14 12 10 6 4 2.5 1
2.5YR  6 6 6 8 10 12 14 16 16 16 16 12 10 6 3 1
5YR    3 4 6 8 10 10 12 14 14 16 16 14 12 6 4 1
7.5YR  2.5 4 6 6 8 10 10 12 14 14 16 16 14 8 6 1
10YR   2.5 3 4 6 8 8 10 10 12 14 16 16 16 8 8 1
2.5Y   2 3 4 4 6 8 8 10 10 12 14 14 16 12 10 1
5Y     2 3 4 4 6 6 8 8 10 10 12 12 14 14 12 1
7.5Y   2 3 4 4 6 6 8 8 10 10 12 12 14 14 12 1
10Y    2.5 3 4 4 6 6 8 8 10 10 10 12 12 14 14 1
2.5GY  2.5 4 4 6 6 8 8 8 10 10 12 12 12 12 10 1
5GY    2.5 3 4 6 6 8 8 10 10 12 12 12 12 12 8 1
7.5GY  3 4 6 6 8 8 10 10 12 12 12 12 12 8 4 1
10GY   4 6 6 8 8 10 12 12 12 14 14 12 10 8 4 1
2.5G   4 6 8 10 10 12 14 14 14 12 12 10 8 6 2.5 1
5G     4 6 8 10 10 12 14 14 14 12 12 10 8 4 2 1
7.5G   4 6 8 10 10 12 12 14 14 12 12 10 8 4 2 1
10G    4 6 8 10 12 12 12 12 12 12 10 10 6 4 2 1
2.5BG  4 6 8 10 10 12 12 12 12 12 10 8 6 4 2.5 1
5BG    4 6 8 8 10 10 12 12 12 10 10 8 6 4 2.5 1
7.5BG  3 4 6 8 8 8 10 10 10 8 8 6 4 3 2 1
10BG   3 4 6 6 8 10 10 10 10 8 6 6 4 2.5 1.5 1
2.5B   4 4 6 8 8 8 10 10 10 8 8 6 4 2.5 0.5 0.5
5B     4 6 8 8 10 10 10 10 10 10 8 6 4 3 1 1
7.5B   4 6 8 10 12 12 12 12 10 8 8 6 4 3 1.5 1
10B    4 6 8 10 12 12 12 12 10 10 8 6 4 3 1 1
2.5PB  6 8 12 12 14 14 12 12 10 8 8 6 4 2 1.5 1
5PB    6 10 12 14 14 14 12 12 10 8 8 6 4 2 2 1
7.5PB  12 16 16 16 16 14 12 10 10 8 6 4 4 2 1.5 1
10PB   16 16 18 18 16 14 12 10 8 8 6 4 4 3 1.5 1
2.5P   14 16 18 18 18 16 14 12 10 8 6 6 4 3 1.5 1
5P     14 16 18 18 18 18 16 14 12 10 8 6 4 3 2 1
7.5P   12 14 18 18 18 18 16 14 14 10 10 8 6 4 2.5 1
10P    10 14 18 18 18 18 18 16 14 12 10 8 6 4 2 1
2.5RP  10 12 16 18 18 18 18 18 16 14 12 8 6 4 2 1
5RP    10 12 14 16 18 18 18 18 16 14 12 8 6 4 2.5 1
7.5RP  8 10 12 14 18 18 18 16 14 12 10 8 6 4 2 1
10RP   6 8 12 14 16 16 16 16 14 12 10 8 6 4 2 1
"""
"""A hue a line, then the largest chroma at each of `VALUES`."""


def limits() -> dict[str, dict[float, float]]:
    """The largest chroma, by hue and value, in the order of the hue circle."""
    rows = (line.split() for line in TABLE.strip().splitlines())
    return {hue: dict(zip(VALUES, map(float, chromas), strict=True)) for hue, *chromas in rows}


NAME = "notation"
"""What its paints say they come from."""
NEAR_NEUTRAL = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
"""Chromas at every hue (steps of 2.5): where most walls are."""
STRONG_STEP, STRONGEST = 2, 40
STRONG_HUE_STEPS = ("5", "10")
"""Above chroma 3 every second hue is enough."""


@cache
def notation_deck() -> Mapping[str, Paint]:
    """Every chip, greys first, then by hue, value and chroma; ids such as "2-5y-7-5-0-5".

    No chip has a printed LRV: nobody printed one. That of its value comes near it: equal for
    greys, within 1.5 points to chroma 3, further off for stronger colours (D65, 10 degrees).
    """
    return with_ids(Paint(text, Notation(text), deck=NAME) for text in notations())


def notations() -> Iterator[str]:
    for value in VALUES:
        yield spell("N", value, 0.0)
    for hue, by_value in limits().items():
        for value, largest in by_value.items():
            for chroma in chromas(hue, largest):
                yield spell(hue, value, chroma)


def chromas(hue: str, largest: float) -> Iterator[float]:
    yield from (chroma for chroma in NEAR_NEUTRAL if chroma <= largest)
    if hue.rstrip("RYGBP") in STRONG_HUE_STEPS:
        strong = map(float, range(4, STRONGEST, STRONG_STEP))
        yield from (chroma for chroma in strong if chroma <= largest)
