"""The colour-science library as a reference; its import warns of optional parts."""

import warnings
from typing import Any

import numpy as np

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.recovery import try_to_recover
from housemap.model.notation import hue_number

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour

SCIENCE: Any = colour
"""The library itself; its type hints are too loose to help."""
MUNSELL_CODES = ("", "B", "BG", "G", "GY", "Y", "YR", "R", "RP", "P", "PB")
"""Hue families in colour-science's own numbering."""
CHARTS = ("BabelColor Average", "ColorChecker N Ohta", "PMC")


def on_grid(spectrum: Any) -> Floats:
    """A measured reflectance of colour-science on the working grid."""
    nm = spectrum.wavelengths
    values = np.clip(np.asarray(spectrum.values), 0.0, 1.0)
    return spectra.resampled(values, float(nm[0]), float(nm[1] - nm[0]))


def cie_test_colours() -> dict[str, Floats]:
    """The CIE 13.3 test colours by name (TCS01 to TCS14)."""
    return {name: on_grid(one) for name, one in SCIENCE.quality.SDS_TCS["CIE 1995"].items()}


def e308_xyz(spectrum: Any, illuminant: str) -> Floats:
    """XYZ100 for the 2 degree observer by ASTM E308 as colour-science does it."""
    with warnings.catch_warnings():
        # It tells that it interpolates the illuminant.
        warnings.simplefilter("ignore")
        lamp = SCIENCE.SDS_ILLUMINANTS[illuminant]
        return np.asarray(SCIENCE.sd_to_XYZ(spectrum, illuminant=lamp))


def munsell_hvc(xyz100: Floats) -> tuple[float, float, float]:
    """Hue number, value and chroma of one XYZ100 under illuminant C."""
    xy_y = [*(xyz100[:2] / xyz100.sum()), xyz100[1] / 100.0]
    with warnings.catch_warnings():
        # It takes some dark chips to lie outside the object colours.
        warnings.simplefilter("ignore")
        hue, value, chroma, code = SCIENCE.notation.munsell.xyY_to_munsell_specification(xy_y)
    return hue_number(MUNSELL_CODES[int(code)], float(hue)), float(value), float(chroma)


def chart_patches() -> Floats:
    """Measured patches of three colour charts, (78, 41)."""
    patches = [one for chart in CHARTS for one in SCIENCE.SDS_COLOURCHECKERS[chart].values()]
    return np.stack([on_grid(one) for one in patches])


def recover(xyz100: Floats, observed: str = spectra.REFERENCE) -> Floats:
    """The reflectances (n, 41) of colours that must all have one."""
    reflectance, found = try_to_recover(xyz100, observed)
    assert found.all()
    return reflectance
