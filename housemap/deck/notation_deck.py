"""The built-in deck: paints named by ASTM D1535 notation alone, so that no import is needed."""

from collections.abc import Iterator, Mapping
from functools import cache

from housemap.deck.ids import with_ids
from housemap.deck.notation import spell
from housemap.deck.notation_limits import VALUES, limits
from housemap.model.house import Notation, Paint

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

    No chip has a printed LRV: nobody printed one. `luminance_factor` comes near it.
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


def luminance_factor(value: float) -> float:
    """Y, 0..100, of a value 0..10 (ASTM D1535, relative to the perfect diffuser).

    It holds for illuminant C and 2 degrees. LRV, for D65 and 10 degrees, is equal for greys,
    within 1.5 points to chroma 3, and further off for stronger colours.
    """
    coefficients = (1.1914, -0.22533, 0.23352, -0.020484, 0.00081939)
    return sum(k * value**power for power, k in enumerate(coefficients, 1))
