"""Colours on an sRGB screen: hue and lightness kept, chroma reduced, no channel clipped."""

from dataclasses import replace

import numpy as np

from housemap.colorimetry import appearance, spaces
from housemap.colorimetry.arrays import Floats, Truths

TOLERANCE = 0.5 / 255.0
"""Half an 8-bit step of the encoded channel: it rounds to the same colour."""
HALVINGS = 30


def screen_conditions() -> appearance.Conditions:
    """The screen's own white (D65, 2 degrees) at the reference light."""
    x, y, z = spaces.SRGB_WHITE.tolist()
    return appearance.Conditions((x, y, z), appearance.adapting_luminance(appearance.REFERENCE_LUX))


def mapping_conditions() -> appearance.Conditions:
    """The same with the eye wholly adapted, so that no chroma at all is the screen's own grey."""
    return replace(screen_conditions(), degree=1.0)


def in_srgb(xyz100: Floats) -> Truths:
    """Whether the screen shows each XYZ (D65, 2 degrees) to within half an 8-bit step."""
    return _fits(xyz100, TOLERANCE)


def _fits(xyz100: Floats, tolerance: float) -> Truths:
    srgb1 = spaces.xyz_to_srgb(xyz100)
    return np.asarray(((srgb1 >= -tolerance) & (srgb1 <= 1.0 + tolerance)).all(-1))


def to_srgb(xyz100: Floats) -> Floats:
    """The nearest sRGB 0..1 at constant CAM16-UCS hue and lightness: (..., 3) to (..., 3).

    XYZ is D65, 2 degrees. What is lighter than the screen's white is white.
    """
    srgb1 = spaces.xyz_to_srgb(xyz100)
    outside = ~in_srgb(xyz100)
    if outside.any():
        srgb1[outside] = _reduced(xyz100[outside])
    return np.clip(srgb1, 0.0, 1.0)


def _reduced(xyz100: Floats) -> Floats:
    """The most colourful colour in the gamut on the way to grey, by bisection; shape (n, 3)."""
    seen = mapping_conditions()
    jmh = appearance.jmh(xyz100, seen)
    jmh[:, 0] = np.clip(jmh[:, 0], 0.0, 100.0)
    low, high = np.zeros(len(jmh)), jmh[:, 1].copy()
    for _ in range(HALVINGS):
        jmh[:, 1] = (low + high) / 2.0
        fits = _fits(appearance.jmh_to_xyz(jmh, seen), 1e-9)
        low, high = np.where(fits, jmh[:, 1], low), np.where(fits, high, jmh[:, 1])
    jmh[:, 1] = low
    return spaces.xyz_to_srgb(appearance.jmh_to_xyz(jmh, seen))
