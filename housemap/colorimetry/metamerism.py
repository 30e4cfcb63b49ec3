"""Whether two colours that match by daylight part under a lamp."""

import numpy as np

from housemap.colorimetry import spaces, spectra
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000

LAMPS = ("A", "LED-B1")
"""An incandescent lamp and a warm white LED (CIE 15:2018)."""
OBSERVER = 10
TINY = 1e-9


def metamerism(first: Floats, second: Floats, lamp: str) -> Floats:
    """How far two reflectances part under a lamp that are equal under D65: (..., 41) to (...).

    The special metamerism index for a change of illuminant (CIE 15:2018), with CIEDE2000 as its
    difference. What differs under D65 is taken out by the multiplicative correction (Brockes
    1970): each tristimulus value under the lamp is scaled by the ratio of the two under D65.
    Raises ColourError for an unknown lamp.
    """
    observed = f"{lamp}/{OBSERVER}"
    white = spectra.white(observed)
    correction = spectra.to_xyz(first) / np.maximum(spectra.to_xyz(second), TINY)
    one = spectra.to_xyz(first, observed)
    other = spectra.to_xyz(second, observed) * correction
    return ciede2000(spaces.xyz_to_lab(one, white), spaces.xyz_to_lab(other, white))
