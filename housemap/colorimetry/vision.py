"""Colours as other eyes see them: colour vision deficiencies, and lightness alone.

Machado, Oliveira & Fernandes 2009: matrices on linear sRGB for a severity of 1, as published;
`tests/colorimetry/test_vision.py` holds them to colour-science.
"""

from typing import Literal

import numpy as np

from housemap.colorimetry import spaces
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.spaces import linear_from_srgb, srgb_from_linear

Deficiency = Literal["protan", "deutan", "tritan"]
"""Weak or missing: the long-wave (red), middle-wave (green) and short-wave (blue) cones."""

_FULL: dict[Deficiency, Floats] = {
    "protan": np.array([
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ]),
    "deutan": np.array([
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ]),
    "tritan": np.array([
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ]),
}  # fmt: skip


def with_deficiency(srgb1: Floats, deficiency: Deficiency) -> Floats:
    """sRGB, (..., 3) in 0..1, as someone who lacks one kind of cone sees it."""
    linear = linear_from_srgb(srgb1) @ _FULL[deficiency].T
    return srgb_from_linear(np.clip(linear, 0.0, 1.0))


def as_greys(srgb1: Floats) -> Floats:
    """Lightness alone, which is what low vision finds edges by: sRGB greys of the same Y."""
    y = linear_from_srgb(srgb1) @ spaces.SRGB_TO_XYZ100[1] / 100.0
    return np.repeat(srgb_from_linear(np.clip(y, 0.0, 1.0))[..., np.newaxis], 3, axis=-1)
