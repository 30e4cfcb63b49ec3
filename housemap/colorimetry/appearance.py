"""CIECAM16 both ways, CAM16-UCS and CAT16.

CIECAM16 (CIE 248:2022) is CAM16 (Li et al. 2017) with straight lines below 0.26 and above 150 of
the adapted signals; for surfaces lighter than about Y 0.6 the two are the same.
"""

from functools import cached_property
from math import pi, sqrt
from typing import TypeVar

import numpy as np

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.model.frozen import frozen

CAT16: Floats = np.array(
    [
        [0.401288, 0.650173, -0.051461],
        [-0.250268, 1.204414, 0.045854],
        [-0.002079, 0.048952, 0.953127],
    ]
)
CAT16_INVERSE: Floats = np.linalg.inv(CAT16).astype(np.float64)
OPPONENT: Floats = np.array([[2.0, 1.0, 0.05], [1.0, -12 / 11, 1 / 11], [1 / 9, 1 / 9, -2 / 9]])
"""Adapted signals to achromatic response, a and b."""
OPPONENT_INVERSE: Floats = np.linalg.inv(OPPONENT).astype(np.float64)
STRAIGHT_BELOW, STRAIGHT_ABOVE = 0.26, 150.0
REFERENCE_LUX = 300.0
UCS_LIGHTNESS, UCS_COLOURFULNESS = 0.007, 0.0228
"""c1 and c2 of CAM16-UCS (Luo, Cui & Li 2006; Li et al. 2017)."""

SURROUND_C, SURROUND_N_C = 0.69, 1.0
"""c and N_c of the average surround (CIE 248:2022 table 1), whose F is 1."""


@frozen()
class Conditions:
    """Where a colour is seen.

    `adapting_cd_m2` is L_A, one for all colours or an array that broadcasts against them; `degree`
    is D where it is not to follow from L_A.
    """

    white100: tuple[float, float, float]
    adapting_cd_m2: float | Floats
    background_y100: float = 20.0
    degree: float | None = None

    @cached_property
    def adaptation(self) -> Floats:
        """D, the degree of adaptation, 0..1."""
        if self.degree is not None:
            return np.asarray(self.degree)
        return adaptation_degree(self.adapting_cd_m2)

    @cached_property
    def f_l(self) -> Floats:
        """Luminance-level adaptation factor."""
        five = 5.0 * np.asarray(self.adapting_cd_m2)
        k4 = (1.0 / (five + 1.0)) ** 4
        return np.asarray(0.2 * k4 * five + 0.1 * (1.0 - k4) ** 2 * np.cbrt(five))

    @cached_property
    def n(self) -> float:
        return self.background_y100 / self.white100[1]

    @cached_property
    def z(self) -> float:
        return 1.48 + sqrt(self.n)

    @cached_property
    def n_bb(self) -> float:
        return float(0.725 * self.n**-0.2)

    @cached_property
    def gains(self) -> Floats:
        """What each CAT16 signal is multiplied with, (..., 3)."""
        d = self.adaptation[..., np.newaxis]
        gains: Floats = d * self.white100[1] / (CAT16 @ np.array(self.white100)) + 1.0 - d
        return gains

    @cached_property
    def achromatic_white(self) -> Floats:
        signals = _compress(CAT16 @ np.array(self.white100) * self.gains, self.f_l)
        return np.asarray(signals @ OPPONENT[0] * self.n_bb)

    @cached_property
    def chroma_factor(self) -> float:
        return float((1.64 - 0.29**self.n) ** 0.73)


def adaptation_degree(adapting_cd_m2: float | Floats) -> Floats:
    """D = F (1 - exp(-(L_A + 42) / 92) / 3.6), within 0..1 (CIE 248:2022)."""
    degree = 1.0 - np.exp(-(np.asarray(adapting_cd_m2) + 42.0) / 92.0) / 3.6
    return np.clip(degree, 0.0, 1.0)


Lux = TypeVar("Lux", float, Floats)


def adapting_luminance(lux: Lux) -> Lux:
    """L_A in cd/m2 of a background of Y 20 lit by so many lux."""
    return lux * 20.0 / 100.0 / pi


def reference() -> Conditions:
    """Average surround, background Y 20, D65 at 300 lx, 10 degree observer: L_A 19.1 cd/m2."""
    x, y, z = spectra.white().tolist()
    return Conditions((x, y, z), adapting_luminance(REFERENCE_LUX))


def jmh(xyz100: Floats, seen: Conditions) -> Floats:
    """CIECAM16 forward (CIE 248:2022 A.1): J, M and h in degrees, (..., 3) to (..., 3)."""
    signals = _compress(xyz100 @ CAT16.T * seen.gains, seen.f_l)
    opponent = signals @ OPPONENT.T
    a, b = opponent[..., 1], opponent[..., 2]
    hue = np.arctan2(b, a)
    achromatic = np.maximum(opponent[..., 0] * seen.n_bb / seen.achromatic_white, 0.0)
    lightness = 100.0 * achromatic ** (SURROUND_C * seen.z)
    t = 50000 / 13 * SURROUND_N_C * seen.n_bb * _eccentricity(hue) * np.sqrt(a**2 + b**2)
    t = t / (signals @ np.array([1.0, 1.0, 1.05]) + 0.305)
    chroma = np.maximum(t, 0.0) ** 0.9 * seen.chroma_factor * np.sqrt(lightness / 100.0)
    return np.stack([lightness, chroma * seen.f_l**0.25, np.degrees(hue) % 360.0], axis=-1)


def jmh_to_xyz(jmh_: Floats, seen: Conditions) -> Floats:
    """CIECAM16 inverse (CIE 248:2022 A.2): XYZ100 of J, M, h."""
    lightness, colourfulness, hue = jmh_[..., 0], jmh_[..., 1], np.radians(jmh_[..., 2])
    root = np.sqrt(lightness / 100.0)
    alpha = colourfulness / seen.f_l**0.25 / np.where(root > 0.0, root, 1.0)
    t = (alpha / seen.chroma_factor) ** (1.0 / 0.9)
    achromatic = seen.achromatic_white * root ** (2.0 / (SURROUND_C * seen.z)) / seen.n_bb
    p_1 = 50000 / 13 * SURROUND_N_C * seen.n_bb * _eccentricity(hue)
    cos, sin = np.cos(hue), np.sin(hue)
    gamma = 23.0 * (achromatic + 0.305) * t / (23.0 * p_1 + t * (11.0 * cos + 108.0 * sin))
    opponent = np.stack([achromatic, gamma * cos, gamma * sin], axis=-1)
    signals = _expand(opponent @ OPPONENT_INVERSE.T, seen.f_l)
    return signals / seen.gains @ CAT16_INVERSE.T


def ucs(jmh_: Floats) -> Floats:
    """CAM16-UCS J', a', b' of J, M, h (Li et al. 2017): (..., 3) to (..., 3)."""
    lightness, colourfulness, hue = jmh_[..., 0], jmh_[..., 1], np.radians(jmh_[..., 2])
    j = (1.0 + 100.0 * UCS_LIGHTNESS) * lightness / (1.0 + UCS_LIGHTNESS * lightness)
    m = np.log1p(UCS_COLOURFULNESS * colourfulness) / UCS_COLOURFULNESS
    return np.stack([j, m * np.cos(hue), m * np.sin(hue)], axis=-1)


def adapt(xyz100: Floats, white_from: Floats, white_to: Floats, degree: float = 1.0) -> Floats:
    """CAT16 in one step (Li et al. 2017), to a `degree`; whites (3,), or one a colour."""
    level = white_from[..., 1:2] / white_to[..., 1:2]
    gains = degree * level * (white_to @ CAT16.T) / (white_from @ CAT16.T)
    return np.asarray(xyz100 @ CAT16.T * (gains + 1.0 - degree) @ CAT16_INVERSE.T)


def adapt_two_step(
    xyz100: Floats,
    white_from: Floats,
    white_to: Floats,
    degrees: tuple[float | Floats, float | Floats],
    baseline: Floats | None = None,
) -> Floats:
    """CAT16 by way of a baseline white, each side adapted to its own degree (Zhai & Luo 2018).

    The baseline is the equal-energy white unless another is given. Degrees broadcast against the
    colours.
    """
    middle = np.full(3, 100.0) if baseline is None else baseline
    gains = _one_step(white_from, middle, degrees[0]) / _one_step(white_to, middle, degrees[1])
    return np.asarray(xyz100 @ CAT16.T * gains @ CAT16_INVERSE.T)


def _one_step(white: Floats, baseline: Floats, degree: float | Floats) -> Floats:
    d = np.asarray(degree)[..., np.newaxis]
    gains: Floats = d * white[1] / baseline[1] * (CAT16 @ baseline) / (CAT16 @ white)
    return np.asarray(gains + 1.0 - d)


def _eccentricity(hue_rad: Floats) -> Floats:
    return np.asarray(0.25 * (np.cos(hue_rad + 2.0) + 3.8))


def _curve(q: Floats, f_l: Floats) -> Floats:
    p = (f_l * q / 100.0) ** 0.42
    return np.asarray(400.0 * p / (27.13 + p))


def _slope_above(f_l: Floats) -> Floats:
    x = f_l * STRAIGHT_ABOVE / 100.0
    return np.asarray(1.68 * 27.13 * f_l * x**-0.58 / (27.13 + x**0.42) ** 2)


def _compress(q: Floats, f_l: Floats) -> Floats:
    """Adapted signals of (..., 3), F_L of (...)."""
    f_l = f_l[..., np.newaxis]
    signal = _curve(np.clip(q, STRAIGHT_BELOW, STRAIGHT_ABOVE), f_l)
    if q.size and q.min() < STRAIGHT_BELOW:
        low = _curve(np.array(STRAIGHT_BELOW), f_l) * q / STRAIGHT_BELOW
        signal = np.where(q < STRAIGHT_BELOW, low, signal)
    if q.size and q.max() > STRAIGHT_ABOVE:
        high = _curve(np.array(STRAIGHT_ABOVE), f_l) + _slope_above(f_l) * (q - STRAIGHT_ABOVE)
        signal = np.where(q > STRAIGHT_ABOVE, high, signal)
    return signal


def _expand(signal: Floats, f_l: Floats) -> Floats:
    f_l = f_l[..., np.newaxis]
    low, high = (_curve(np.array(edge), f_l) for edge in (STRAIGHT_BELOW, STRAIGHT_ABOVE))
    inside = np.clip(signal, low, high)
    middle = 100.0 / f_l * (27.13 * inside / (400.0 - inside)) ** (1.0 / 0.42)
    above = STRAIGHT_ABOVE + (signal - high) / _slope_above(f_l)
    below = STRAIGHT_BELOW * signal / low
    return np.where(signal < low, below, np.where(signal > high, above, middle))
