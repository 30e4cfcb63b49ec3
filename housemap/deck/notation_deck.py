"""The built-in deck: paints named by ASTM D1535 notation alone, so that no import is needed.

`notation_limits.csv` says how colourful a paint can be: the largest chroma by hue and value.

Facts, made by `tests/support/notation_limits.py` from the Munsell renotation (Newhall, Nickerson
& Judd 1943) within Pointer's gamut of real surface colours (Pointer 1980), and held to both by a
test. White at value 9.5 to chroma 1, and no chip below value 2 (LRV 3): our assumption.
"""

from collections.abc import Iterator, Mapping
from csv import DictReader
from functools import cache
from importlib.resources import files

from housemap.deck.records import with_ids
from housemap.model.house import Notation, Paint
from housemap.model.notation import spell


@cache
def limits() -> dict[str, dict[float, float]]:
    """The largest chroma, by hue and value, in the order of the hue circle."""
    text = files(__package__).joinpath("notation_limits.csv").read_text("ascii")
    return {
        row.pop("hue"): {float(value): float(chroma) for value, chroma in row.items()}
        for row in DictReader(text.splitlines())
    }


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
    by_hue = limits()
    for value in by_hue["5R"]:
        yield spell("N", value, 0.0)
    for hue, by_value in by_hue.items():
        for value, largest in by_value.items():
            for chroma in chromas(hue, largest):
                yield spell(hue, value, chroma)


def chromas(hue: str, largest: float) -> Iterator[float]:
    yield from (chroma for chroma in NEAR_NEUTRAL if chroma <= largest)
    if hue.rstrip("RYGBP") in STRONG_HUE_STEPS:
        strong = map(float, range(4, STRONGEST, STRONG_STEP))
        yield from (chroma for chroma in strong if chroma <= largest)
