"""CIEDE2000: the distance of colours that hardly differ."""

import math
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats

POW_25_7 = 25.0**7
COS_6, SIN_6 = math.cos(math.radians(6.0)), math.sin(math.radians(6.0))
COS_30, SIN_30 = math.cos(math.radians(30.0)), math.sin(math.radians(30.0))
COS_63, SIN_63 = math.cos(math.radians(63.0)), math.sin(math.radians(63.0))
BLOCK = 8192
"""Pairs at a time, so that what a formula touches stays in the cache."""


def ciede2000(lab_a: Floats, lab_b: Floats) -> Floats:
    """CIEDE2000 (ISO/CIE 11664-6), all parametric factors 1.

    Written after Sharma, Wu & Dalal 2005; meant for differences up to about 5 units (ASTM D2244).
    At exactly opposite hues the formula itself jumps, so implementations differ there.
    """
    shape = np.broadcast_shapes(lab_a.shape, lab_b.shape)
    pairs = math.prod(shape[:-1])
    if pairs <= BLOCK:
        return _ciede2000(lab_a, lab_b)
    a, b = (np.broadcast_to(lab, shape).reshape(pairs, 3) for lab in (lab_a, lab_b))
    starts = range(0, pairs, BLOCK)
    parts = [_ciede2000(a[start : start + BLOCK], b[start : start + BLOCK]) for start in starts]
    return np.concatenate(parts).reshape(shape[:-1])


def _ciede2000(lab_a: Floats, lab_b: Floats) -> Floats:
    l_1, a_1, b_1 = (lab_a[..., i] for i in range(3))
    l_2, a_2, b_2 = (lab_b[..., i] for i in range(3))
    c_bar = (np.sqrt(a_1 * a_1 + b_1 * b_1) + np.sqrt(a_2 * a_2 + b_2 * b_2)) / 2.0
    stretch = 1.5 - 0.5 * _towards_one(c_bar)
    one, other = _Polar.of(a_1 * stretch, b_1), _Polar.of(a_2 * stretch, b_2)
    hue, cos, sin = _hue_terms(one, other)
    mean_c = (one.c + other.c) / 2.0
    light = (l_2 - l_1) / _s_l((l_1 + l_2) / 2.0)
    chroma = (other.c - one.c) / (1.0 + 0.045 * mean_c)
    hue = hue / (1.0 + 0.015 * mean_c * _t(cos, sin))
    total = light * light + chroma * chroma + hue * hue
    total += _rotation(mean_c, cos, sin) * chroma * hue
    return np.asarray(np.sqrt(np.maximum(total, 0.0)))


class _Polar(NamedTuple):
    """Chroma and the unit vector of the hue, which is 0, 0 for a grey."""

    c: Floats
    x: Floats
    y: Floats

    @classmethod
    def of(cls, a: Floats, b: Floats) -> "_Polar":
        c = np.asarray(np.sqrt(a * a + b * b))
        safe = np.where(c > 0.0, c, 1.0)
        return cls(c, a / safe, b / safe)


def _hue_terms(one: _Polar, other: _Polar) -> tuple[Floats, Floats, Floats]:
    """Delta H', and cosine and sine of the mean hue; a grey takes the other colour's hue.

    The mean hue is where the sum of both unit vectors points or, beyond 90 degrees, at right
    angles to their difference, so that nothing cancels.
    """
    cross = one.x * other.y - one.y * other.x
    far = one.x * other.x + one.y * other.y < 0.0
    # Exactly opposite hues: the standard takes the mean of h1 and h2, both within 0..360.
    first_half = (one.y > 0.0) | ((one.y == 0.0) & (one.x > 0.0))
    turn = np.where(cross == 0.0, np.where(first_half, 1.0, -1.0), np.sign(cross))
    x = np.where(far, (other.y - one.y) * turn, one.x + other.x)
    y = np.where(far, (one.x - other.x) * turn, one.y + other.y)
    length = np.sqrt(x * x + y * y)
    safe = np.where(length > 0.0, length, 1.0)
    sine_of_half = np.where(far, turn * length / 2.0, cross / safe)
    return 2.0 * np.sqrt(one.c * other.c) * sine_of_half, x / safe, y / safe


def _towards_one(c: Floats) -> Floats:
    c_7 = c * c * c
    c_7 = c_7 * c_7 * c
    return np.asarray(np.sqrt(c_7 / (c_7 + POW_25_7)))


def _s_l(mean_l: Floats) -> Floats:
    square = (mean_l - 50.0) ** 2
    return 1.0 + 0.015 * square / np.sqrt(20.0 + square)


def _t(cos: Floats, sin: Floats) -> Floats:
    """T by multiples of the mean hue: 1 - .17 cos(h-30) + .24 cos 2h + .32 cos(3h+6) - ..."""
    cos_2, sin_2 = 2.0 * cos * cos - 1.0, 2.0 * sin * cos
    cos_3, sin_3 = cos_2 * cos - sin_2 * sin, sin_2 * cos + cos_2 * sin
    cos_4, sin_4 = 2.0 * cos_2 * cos_2 - 1.0, 2.0 * sin_2 * cos_2
    return np.asarray(
        1.0
        - 0.17 * (COS_30 * cos + SIN_30 * sin)
        + 0.24 * cos_2
        + 0.32 * (COS_6 * cos_3 - SIN_6 * sin_3)
        - 0.20 * (COS_63 * cos_4 + SIN_63 * sin_4)
    )


def _rotation(mean_c: Floats, cos: Floats, sin: Floats) -> Floats:
    # The hue of the exponent is not wrapped: h - 275 with h in 0..360.
    hue_deg = np.degrees(np.arctan2(sin, cos))
    hue_deg = np.where(hue_deg < 0.0, hue_deg + 360.0, hue_deg)
    off = (hue_deg - 275.0) / 25.0
    theta = np.radians(60.0) * np.exp(-off * off)
    return np.asarray(-2.0 * _towards_one(mean_c) * np.sin(theta))
