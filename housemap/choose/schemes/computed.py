"""Colours computed around a neutral, for who has no deck at hand: ASTM D1535 notations.

Fine steps of its own hue, steps of 15 degrees elsewhere; light, middle and dark tones as the parts
of a scheme ask for them. They are to be matched by a paint, or mixed.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import product

import numpy as np

from housemap.choose.chips import Chips, all_chips
from housemap.choose.schemes.kinds import FULL_CIRCLE, hue_of
from housemap.colorimetry import munsell, spectra, tinting
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.munsell import value_to_y, written
from housemap.colorimetry.spectra import GRID_NM
from housemap.model.house import Notation, Paint, Reflectance
from housemap.study import Swatch

OWN_HUES = (-12.0, -6.0, 0.0, 6.0, 12.0)
ALL_HUES = tuple(np.arange(-180.0, 180.0, 15.0).tolist())
Tones = tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]
TONES: tuple[Tones, ...] = (
    # hue angles from the neutral's, LRV, chroma
    (OWN_HUES, (3.0, 4.0, 5.5), (0.3, 0.5, 0.8, 1.0)),
    (ALL_HUES, (8.0, 10.0, 13.0, 22.0, 25.0, 28.0, 32.0), (1.0, 1.5, 1.8, 2.1, 2.5, 3.0)),
    (OWN_HUES, (15.0, 18.0, 36.0), (0.8, 1.2, 1.5, 1.8)),
    (ALL_HUES, (42.0, 46.0, 50.0, 54.0), (0.6, 0.8, 1.0, 1.3, 1.6, 2.0)),
    (OWN_HUES, (57.0, 61.0, 64.0, 67.0, 70.0, 74.0), (0.3, 0.5, 0.7, 0.9, 1.1)),
    (OWN_HUES, (82.0, 84.0, 86.0, 88.0, 90.0), (0.2, 0.3, 0.5, 0.7)),
)


def computed_chips(neutral: Swatch) -> Chips:
    """Colours to build a set around the neutral from; each named by its notation."""
    texts = dict.fromkeys(_notations(hue_of(neutral)))
    return all_chips({text: Paint(text, Notation(text)) for text in texts})


def _notations(hue100: float) -> Iterator[str]:
    for angles, lrvs, chromas in TONES:
        for angle, lrv, chroma in product(angles, lrvs, chromas):
            hue = (hue100 + angle * 100.0 / FULL_CIRCLE) % 100.0
            yield written(hue, value_of(lrv), chroma).text


def value_of(lrv: float) -> float:
    """The ASTM D1535 value of a grey of that LRV, to a hundredth."""
    values, factors = _grey_scale()
    return float(np.interp(lrv, factors, values))


@cache
def _grey_scale() -> tuple[Floats, Floats]:
    values = np.linspace(0.0, 10.0, 1001)
    return values, value_to_y(values)


# Tints of a paint, each a paint of its own that is marked as computed.

STEP = 0.5
"""ASTM D1535 value: one step lighter or darker."""
GREYER = 0.5
"""Share of the paint that one step greyer leaves."""
ASK = "ask for it to be mixed"
ASSUMED = (
    "computed by two-constant mixing with a white of 92 % reflectance; that the"
    " paint scatters as the white does is an assumption: sample it"
)


def tints(swatch: Swatch) -> Mapping[str, Paint]:
    """Half and quarter strength, and a step lighter, darker and greyer, by what each is called.

    Each is a paint without code, price or printed LRV.
    """
    reflectance = np.array(swatch.colour.reflectance)
    made = {
        "half strength": tinting.strength(reflectance, 0.5),
        "quarter strength": tinting.strength(reflectance, 0.25),
        "a step lighter": tinting.lighter(reflectance, _value, STEP),
        "a step darker": tinting.darker(reflectance, _value, STEP),
        "a step greyer": tinting.greyer(reflectance, swatch.colour.xyz100[1] / 100.0, GREYER),
    }
    return {what: _paint(swatch, what, values) for what, values in made.items()}


def _paint(swatch: Swatch, what: str, reflectance: Floats) -> Paint:
    own = swatch.entity
    assert isinstance(own, Paint)
    start, step = float(GRID_NM[0]), float(GRID_NM[1] - GRID_NM[0])
    colour = Reflectance(start, step, tuple(np.round(reflectance, 4).tolist()))
    name, derived = f"{own.name}, {what}", f"{what} of {own.name}; {ASK}"
    plain = Paint(name, colour, derived=derived, notes=ASSUMED)
    return replace(plain, coverage=own.coverage)


def _value(reflectance: Floats) -> float:
    """ASTM D1535 value."""
    seen = spectra.to_xyz(reflectance[None], munsell.OBSERVED)
    white = munsell.WHITE / spectra.white(munsell.OBSERVED)
    return float(munsell.from_xyz(seen * white)[0, 1])
