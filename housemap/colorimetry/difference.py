"""Colour differences: small ones by CIEDE2000, large ones by CAM16-UCS, edges by LRV."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.facts import ColourFacts
from housemap.colorimetry.harmony import harmony
from housemap.colorimetry.spaces import lightness

POW_25_7 = 25.0**7


@dataclass(frozen=True, slots=True)
class Difference:
    """How far two colours are apart; every figure is at least 0 but harmony."""

    de00: float
    """CIEDE2000, for small differences (up to about 5)."""
    ucs: float
    """CAM16-UCS distance, for large ones; the next three are its parts."""
    ucs_lightness: float
    ucs_chroma: float
    ucs_hue: float
    hue_apart_deg: float
    """Angle in the a'b' plane, 0..180."""
    ab: float
    """Distance in the a'b' plane."""
    lrv: float
    """LRV points."""
    lightness: float
    """Delta L*."""
    michelson: float
    """Contrast of the LRVs, 0..1."""
    harmony: float
    """Ou & Luo 2006; a number beside the checks, no verdict."""


class Looks(NamedTuple):
    """Colours as they look under one light, for comparing: arrays with one row a colour."""

    lab100: Floats
    ucs: Floats
    """CAM16-UCS J', a', b'."""
    lrv: Floats

    def rows(self, rows: Sequence[int]) -> "Looks":
        chosen = list(rows)
        return Looks(self.lab100[chosen], self.ucs[chosen], self.lrv[chosen])


def looks_of(colours: Sequence[ColourFacts]) -> Looks:
    """Colours under the reference light."""
    return Looks(
        np.array([facts.lab100 for facts in colours]),
        np.array([facts.ucs for facts in colours]),
        np.array([facts.lrv for facts in colours]),
    )


def differences(a: Sequence[ColourFacts], b: Sequence[ColourFacts]) -> tuple[Difference, ...]:
    """The difference of each pair a[i], b[i], in one batch."""
    return looks_apart(looks_of(a), looks_of(b)) if a else ()


def looks_apart(a: Looks, b: Looks) -> tuple[Difference, ...]:
    """The difference of each row of `a` from that of `b`, under whatever light both are given."""
    columns = (
        ciede2000(a.lab100, b.lab100),
        *ucs_parts(a.ucs, b.ucs),
        hue_apart(a.ucs, b.ucs),
        plane_distance(a.ucs, b.ucs),
        np.abs(a.lrv - b.lrv),
        np.abs(lightness(a.lrv) - lightness(b.lrv)),
        michelson(a.lrv, b.lrv),
        harmony(a.lab100, b.lab100),
    )
    return tuple(Difference(*row) for row in np.stack(columns, axis=-1).tolist())


def cie76(lab_a: Floats, lab_b: Floats) -> Floats:
    """Distance in CIELAB (ISO/CIE 11664-4)."""
    return _length(lab_a - lab_b)


def cie94(lab_a: Floats, lab_b: Floats, *, textiles: bool = False) -> Floats:
    """CIE94 (CIE 116-1995); `lab_a` is the standard, so it is not symmetric."""
    k_l, k_1, k_2 = (2.0, 0.048, 0.014) if textiles else (1.0, 0.045, 0.015)
    c_a, c_b = _length(lab_a[..., 1:]), _length(lab_b[..., 1:])
    d_l, d_c = lab_a[..., 0] - lab_b[..., 0], c_a - c_b
    hue_2 = np.maximum(((lab_a[..., 1:] - lab_b[..., 1:]) ** 2).sum(-1) - d_c**2, 0.0)
    terms = (d_l / k_l) ** 2 + (d_c / (1 + k_1 * c_a)) ** 2 + hue_2 / (1 + k_2 * c_a) ** 2
    return np.asarray(np.sqrt(terms))


def ciede2000(lab_a: Floats, lab_b: Floats) -> Floats:
    """CIEDE2000 (ISO/CIE 11664-6), all parametric factors 1.

    Written after Sharma, Wu & Dalal 2005; meant for differences up to about 5 units (ASTM D2244).
    At exactly opposite hues the formula itself jumps, so implementations differ there.
    """
    c_bar = (_length(lab_a[..., 1:]) + _length(lab_b[..., 1:])) / 2.0
    stretch = 1.5 - 0.5 * np.sqrt(c_bar**7 / (c_bar**7 + POW_25_7))
    a_1, b_1 = lab_a[..., 1] * stretch, lab_a[..., 2]
    a_2, b_2 = lab_b[..., 1] * stretch, lab_b[..., 2]
    c_1, c_2 = np.sqrt(a_1**2 + b_1**2), np.sqrt(a_2**2 + b_2**2)
    mean_l, mean_c = (lab_a[..., 0] + lab_b[..., 0]) / 2.0, (c_1 + c_2) / 2.0
    hue_part, mean_h = _hue_terms(np.arctan2(b_1, a_1), np.arctan2(b_2, a_2), c_1, c_2)
    light = (lab_b[..., 0] - lab_a[..., 0]) / _s_l(mean_l)
    chroma = (c_2 - c_1) / (1.0 + 0.045 * mean_c)
    hue = hue_part / (1.0 + 0.015 * mean_c * _t(mean_h))
    total = light**2 + chroma**2 + hue**2 + _rotation(mean_c, mean_h) * chroma * hue
    return np.asarray(np.sqrt(np.maximum(total, 0.0)))


def _hue_terms(h_1: Floats, h_2: Floats, c_1: Floats, c_2: Floats) -> tuple[Floats, Floats]:
    """Delta H' and the mean hue in radians, 0..2 pi; a grey takes the other colour's hue."""
    turn = 2.0 * np.pi
    h_1, h_2 = h_1 % turn, h_2 % turn
    apart = h_2 - h_1
    far = np.abs(apart) > np.pi
    wrapped = np.where(far, apart - np.copysign(turn, apart), apart)
    total = h_1 + h_2
    mean = np.where(far, np.where(total < turn, total + turn, total - turn), total) / 2.0
    grey = c_1 * c_2 == 0.0
    hue_part = 2.0 * np.sqrt(c_1 * c_2) * np.sin(np.where(grey, 0.0, wrapped) / 2.0)
    return hue_part, np.where(grey, total, mean)


def _s_l(mean_l: Floats) -> Floats:
    square = (mean_l - 50.0) ** 2
    return 1.0 + 0.015 * square / np.sqrt(20.0 + square)


def _t(mean_h: Floats) -> Floats:
    return np.asarray(
        1.0
        - 0.17 * np.cos(mean_h - np.radians(30.0))
        + 0.24 * np.cos(2.0 * mean_h)
        + 0.32 * np.cos(3.0 * mean_h + np.radians(6.0))
        - 0.20 * np.cos(4.0 * mean_h - np.radians(63.0))
    )


def _rotation(mean_c: Floats, mean_h: Floats) -> Floats:
    # The hue of the exponent is not wrapped: h - 275 with h in 0..360.
    theta = np.radians(60.0) * np.exp(-(((np.degrees(mean_h) - 275.0) / 25.0) ** 2))
    c_7 = mean_c**7
    return np.asarray(-2.0 * np.sqrt(c_7 / (c_7 + POW_25_7)) * np.sin(theta))


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
    return np.asarray(np.sqrt((vector**2).sum(-1)))
