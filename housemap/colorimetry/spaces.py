"""CIE 1976 L*a*b* and IEC 61966-2-1 sRGB to and from XYZ."""

import re

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.errors import ColourError

LAB_EPSILON = 216 / 24389
LAB_KAPPA = 24389 / 27
"""The exact ratios of ISO/CIE 11664-4."""

SRGB_STRAIGHT, LINEAR_STRAIGHT = 0.04045, 0.0031308
"""Where the transfer curve of IEC 61966-2-1 begins, encoded and linear."""
SRGB_WHITE_XY = (0.3127, 0.3290)
HEX = re.compile(r"#[0-9a-fA-F]{6}")
SRGB_PRIMARIES_XY = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))


def xy_to_xyz(x: float, y: float) -> Floats:
    """XYZ100 of a chromaticity at Y 100."""
    return np.array([x / y, 1.0, (1.0 - x - y) / y]) * 100.0


SRGB_WHITE: Floats = xy_to_xyz(*SRGB_WHITE_XY)
"""XYZ100 of sRGB 1, 1, 1."""

_PRIMARIES: Floats = np.array([xy_to_xyz(*xy) for xy in SRGB_PRIMARIES_XY]).T
SRGB_TO_XYZ100: Floats = _PRIMARIES * np.linalg.solve(_PRIMARIES, SRGB_WHITE)
"""From the primaries, not rounded to the four decimals of the standard's text."""

XYZ100_TO_SRGB: Floats = np.linalg.inv(SRGB_TO_XYZ100).astype(np.float64)


def xyz_to_lab(xyz100: Floats, white100: Floats) -> Floats:
    """CIELAB (ISO/CIE 11664-4): (..., 3) to (..., 3)."""
    t = xyz100 / white100
    f = np.where(t > LAB_EPSILON, np.cbrt(t), (LAB_KAPPA * t + 16.0) / 116.0)
    fx, fy, fz = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)], axis=-1)


def lab_to_xyz(lab100: Floats, white100: Floats) -> Floats:
    """XYZ100 of CIELAB: (..., 3) to (..., 3)."""
    fy = (lab100[..., 0] + 16.0) / 116.0
    f = np.stack([fy + lab100[..., 1] / 500.0, fy, fy - lab100[..., 2] / 200.0], axis=-1)
    cube = f**3
    t = np.where(cube > LAB_EPSILON, cube, (116.0 * f - 16.0) / LAB_KAPPA)
    return t * white100


def lightness(y100: Floats) -> Floats:
    """L* of a luminance factor in percent (ISO/CIE 11664-4)."""
    t = y100 / 100.0
    return np.where(t > LAB_EPSILON, 116.0 * np.cbrt(t) - 16.0, LAB_KAPPA * t)


def srgb_to_xyz(srgb1: Floats) -> Floats:
    """XYZ100 (D65, 2 degrees) of gamma-encoded sRGB; negative values keep their sign."""
    return linear_from_srgb(srgb1) @ SRGB_TO_XYZ100.T


def linear_from_srgb(srgb1: Floats) -> Floats:
    """The sRGB curve undone (IEC 61966-2-1)."""
    size = np.abs(srgb1)
    linear = np.where(size <= SRGB_STRAIGHT, size / 12.92, ((size + 0.055) / 1.055) ** 2.4)
    return np.copysign(linear, srgb1)


def srgb_from_linear(linear1: Floats) -> Floats:
    """The sRGB curve (IEC 61966-2-1)."""
    size = np.abs(linear1)
    encoded = np.where(size <= LINEAR_STRAIGHT, 12.92 * size, 1.055 * size ** (1 / 2.4) - 0.055)
    return np.copysign(encoded, linear1)


def xyz_to_srgb(xyz100: Floats) -> Floats:
    """Gamma-encoded sRGB of XYZ100; outside 0..1 where the screen cannot show it.

    Negative light is encoded with its sign, so that the way back is exact.
    """
    return srgb_from_linear(xyz100 @ XYZ100_TO_SRGB.T)


def hex_to_srgb(text: str) -> tuple[float, float, float]:
    """Read "#rrggbb" as sRGB 0..1; raises ColourError."""
    if not HEX.fullmatch(text):
        raise ColourError(f'an sRGB colour is written "#rrggbb", found "{text}"')
    red, green, blue = bytes.fromhex(text[1:])
    return red / 255.0, green / 255.0, blue / 255.0


def srgb_to_hex(srgb1: Floats) -> list[str]:
    """Write sRGB rows within 0..1, shape (n, 3), as "#rrggbb"."""
    text = np.rint(np.clip(srgb1, 0.0, 1.0) * 255.0).astype(np.uint8).tobytes().hex()
    return [f"#{text[at : at + 6]}" for at in range(0, len(text), 6)]
