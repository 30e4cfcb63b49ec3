"""Tints of a paint as paints of their own, each marked as computed."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from housemap.colorimetry import munsell, spectra, tinting
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.spectra import GRID_NM
from housemap.model.house import Paint, Reflectance
from housemap.study import Swatch

STEP = 0.5
"""ASTM D1535 value: one step lighter or darker."""
GREYER = 0.5
"""Share of the paint that one step greyer leaves."""
ASK = "ask for it to be mixed"
ASSUMED = (
    "computed by two-constant (Kubelka-Munk) mixing with a white of 92 % reflectance; that the"
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
