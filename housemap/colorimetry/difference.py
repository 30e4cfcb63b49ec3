"""Colour differences: small ones by CIEDE2000, large ones by CAM16-UCS, edges by LRV.

And two numbers beside them: harmony, never a verdict, and metamerism.
"""

from typing import NamedTuple

import numpy as np

from housemap.colorimetry import spaces, spectra
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import ColourFacts


class Difference(NamedTuple):
    """How far two colours are apart; every figure is at least 0."""

    de00: float
    """CIEDE2000, for small differences (up to about 5)."""
    ucs: float
    """CAM16-UCS distance, for large ones; the next three are its parts."""
    ucs_lightness: float
    ucs_chroma: float
    ucs_hue: float
    hue_apart_deg: float
    """Angle in the a'b' plane, 0..180."""
    lrv: float


class Looks(NamedTuple):
    """One colour as it looks under some light, or many, a row each."""

    lab100: Floats
    ucs: Floats
    """CAM16-UCS J', a', b'."""
    lrv: Floats

    def row(self, number: int) -> "Looks":
        return Looks(self.lab100[number], self.ucs[number], self.lrv[number])


def look_of(facts: ColourFacts) -> Looks:
    """A colour under the reference light."""
    return Looks(np.array(facts.lab100), np.array(facts.ucs), np.array(facts.lrv))


def difference(a: Looks, b: Looks) -> Difference:
    """Of two colours, as both look under one light."""
    figures = (
        ciede2000(a.lab100, b.lab100),
        *ucs_parts(a.ucs, b.ucs),
        hue_apart(a.ucs, b.ucs),
        np.abs(a.lrv - b.lrv),
    )
    return Difference(*map(float, figures))


def ucs_parts(ucs_a: Floats, ucs_b: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """CAM16-UCS distance and its lightness, chroma and hue parts, all at least 0.

    (Li et al. 2017.) The parts are orthogonal: distance^2 is the sum of their squares.
    """
    apart = ucs_a - ucs_b
    chroma = np.abs(_length(ucs_a[..., 1:]) - _length(ucs_b[..., 1:]))
    plane = _length(apart[..., 1:])
    hue = np.sqrt(np.maximum(plane**2 - chroma**2, 0.0))
    return _length(apart), np.abs(apart[..., 0]), chroma, hue


def plane_distance(ucs_a: Floats, ucs_b: Floats) -> Floats:
    """Distance in the a'b' plane: how far apart two leans are, whatever the lightness."""
    return _length(ucs_a[..., 1:] - ucs_b[..., 1:])


def hue_apart(ucs_a: Floats, ucs_b: Floats) -> Floats:
    """Angle between two hues in the a'b' plane, 0..180 degrees; 0 where one has none."""
    a_1, b_1, a_2, b_2 = ucs_a[..., 1], ucs_a[..., 2], ucs_b[..., 1], ucs_b[..., 2]
    angle = np.arctan2(np.abs(a_1 * b_2 - b_1 * a_2), a_1 * a_2 + b_1 * b_2)
    return np.asarray(np.degrees(angle))


def michelson(lrv_a: Floats, lrv_b: Floats) -> Floats:
    """Michelson contrast of two luminance factors, 0..1; 0 for two perfect blacks."""
    total = lrv_a + lrv_b
    return np.asarray(np.abs(lrv_a - lrv_b) / np.where(total > 0.0, total, 1.0))


def _length(vector: Floats) -> Floats:
    return np.asarray(np.sqrt(np.einsum("...i,...i->...", vector, vector)))


# Two-colour harmony of Ou & Luo 2006


def harmony(lab_a: Floats, lab_b: Floats) -> Floats:
    """Harmony CH of CIELAB pairs (Ou & Luo 2006, Color Res. Appl. 31:191), about -1.2 to 1.7.

    Fitted on 1,431 pairs on a screen with a grey surround.
    """
    hues = _hue(lab_a) + _hue(lab_b)  # first of all, so that both orders give the same to the bit
    chroma = _length(lab_a[..., 1:]) - _length(lab_b[..., 1:])
    # The metric hue difference, not an angle.
    hue_2 = np.maximum(((lab_a[..., 1:] - lab_b[..., 1:]) ** 2).sum(-1) - chroma**2, 0.0)
    in_plane = 0.04 + 0.53 * np.tanh(0.8 - 0.045 * np.sqrt(hue_2 + (chroma / 1.46) ** 2))
    total = lab_a[..., 0] + lab_b[..., 0]
    apart = np.abs(lab_a[..., 0] - lab_b[..., 0])
    light = 0.28 + 0.54 * np.tanh(-3.88 + 0.029 * total) + 0.14 + 0.15 * np.tanh(-2.0 + 0.2 * apart)
    return np.asarray(in_plane + light + hues)


def _hue(lab: Floats) -> Floats:
    light, a, b = lab[..., 0], lab[..., 1], lab[..., 2]
    angle = np.degrees(np.arctan2(b, a)) % 360.0
    strength = 0.5 + 0.5 * np.tanh(-2.0 + 0.5 * np.sqrt(a**2 + b**2))
    pleasing = (
        -0.08
        - 0.14 * np.sin(np.radians(angle + 50.0))
        - 0.07 * np.sin(np.radians(2.0 * angle + 90.0))
    )
    from_yellow = (90.0 - angle) / 10.0
    yellow = (0.22 * light - 12.8) / 10.0 * np.exp(from_yellow - np.exp(from_yellow))
    return np.asarray(strength * (pleasing + yellow))


# Whether two colours that match by daylight part under a lamp.

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
