"""Colour differences: small ones by CIEDE2000, large ones by CAM16-UCS, edges by LRV."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import ColourFacts
from housemap.colorimetry.harmony import harmony
from housemap.colorimetry.spaces import lightness


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
    return tuple(Difference(*row) for row in figures_apart(a, b).tolist())


def figures_apart(a: Looks, b: Looks) -> Floats:
    """The same as an array: the figures of a `Difference` in their order, one row a pair."""
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
    return np.stack(columns, axis=-1)


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
