"""ASTM D1535 notation of colours, both ways, by interpolation in the Munsell renotation.

Chromaticity is interpolated linearly in chroma and in the Y of the value, and along the hue
circle between the 40 hues (ASTM D1535 6; Newhall, Nickerson & Judd 1943). Y is that of ASTM
D1535, relative to the perfect diffuser, not the renotation table's own MgO scale. Everything is
for illuminant C and the 2 degree observer.
"""

from functools import cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import spaces, tables
from housemap.colorimetry.arrays import Floats

WHITE_XY = (0.31006, 0.31616)
"""Illuminant C, 2 degrees."""
WHITE: Floats = spaces.xy_to_xyz(*WHITE_XY)
OBSERVED = "C/2"
QUINTIC = (0.00081939, -0.020484, 0.23352, -0.22533, 1.1914, 0.0)
"""Y of a value, highest power first (ASTM D1535-08e1 equation 2)."""
LIGHTEST_TABULATED = 9.8
"""Above value 9 there are no chips: the rings of equal chroma shrink toward ideal white at 10, as
colour-science has it, but no further than here, or the faintest tint would count as strong."""
HUE_STEP = 2.5
IDEAL_VALUE = 10.0
TINY = 1e-15
ROUNDS = 20


class _Renotation(NamedTuple):
    y100: Floats
    """Y of each value level, rising, shape (levels,)."""
    offset: np.ndarray[tuple[int, ...], np.dtype[np.complex128]]
    """x + iy less the white's, shape (levels, 41 hues, chroma / 2); the last hue is the first."""


def value_to_y(value: Floats) -> Floats:
    """Luminance factor in percent of a Munsell value (ASTM D1535)."""
    return np.asarray(np.polyval(QUINTIC, value))


def y_to_value(y100: Floats) -> Floats:
    """Munsell value of a luminance factor in percent, 0..10 (ASTM D1535, inverted by Newton)."""
    y100 = np.clip(y100, 0.0, 100.0)
    value = spaces.lightness(y100) / 10.0
    slope = np.polyder(QUINTIC)
    for _ in range(6):
        value = value - (value_to_y(value) - y100) / np.polyval(slope, value)
    return np.clip(value, 0.0, 10.0)


@cache
def _renotation() -> _Renotation:
    rows = tables.load(tables.RENOTATION)
    levels = np.unique(rows["value"])
    levels = levels[levels < IDEAL_VALUE]
    rings = int(rows["chroma"].max() / 2.0) + 1
    offset = np.full((len(levels), 40, rings), np.nan + 0j)
    kept = rows["value"] < IDEAL_VALUE
    place = (
        np.searchsorted(levels, rows["value"][kept]),
        (rows["hue100"][kept] / HUE_STEP).astype(int),
        (rows["chroma"][kept] / 2.0).astype(int),
    )
    offset[place] = (rows["x"] - WHITE_XY[0] + 1j * (rows["y"] - WHITE_XY[1]))[kept]
    offset[:, :, 0] = 0.0
    _extrapolate(offset)
    ideal = np.zeros((1, 40, rings))
    y100 = np.append(value_to_y(levels), 100.0)
    table = np.concatenate([offset, ideal])
    return _Renotation(y100, np.concatenate([table, table[:, :1]], axis=1))


def _extrapolate(offset: np.ndarray[tuple[int, ...], np.dtype[np.complex128]]) -> None:
    """Fill outward: the next lighter level where a hue has no chip at all, else a straight line."""
    for level in range(len(offset) - 2, -1, -1):
        empty = np.isnan(offset[level, :, 1])
        offset[level, empty, 1] = offset[level + 1, empty, 1]
    for ring in range(2, offset.shape[2]):
        onward = 2.0 * offset[:, :, ring - 1] - offset[:, :, ring - 2]
        offset[:, :, ring] = np.where(np.isnan(offset[:, :, ring]), onward, offset[:, :, ring])


class _Cell(NamedTuple):
    """Where the hue lines and chroma rings are at one luminance: offset and both slopes."""

    offset: np.ndarray[tuple[int, ...], np.dtype[np.complex128]]
    by_hue: np.ndarray[tuple[int, ...], np.dtype[np.complex128]]
    by_chroma: np.ndarray[tuple[int, ...], np.dtype[np.complex128]]


def _sheets(y100: Floats) -> np.ndarray[tuple[int, ...], np.dtype[np.complex128]]:
    """The table at each luminance: (n,) to (n, 41, rings)."""
    table = _renotation()
    y100 = np.clip(y100, table.y100[0], value_to_y(np.array(LIGHTEST_TABULATED)))
    above = np.clip(np.searchsorted(table.y100, y100), 1, len(table.y100) - 1)
    low, high = table.y100[above - 1], table.y100[above]
    share = ((y100 - low) / (high - low))[:, None, None]
    return table.offset[above - 1] * (1.0 - share) + table.offset[above] * share


def _cell(
    sheets: np.ndarray[tuple[int, ...], np.dtype[np.complex128]], hue40: Floats, ring: Floats
) -> _Cell:
    rows = np.arange(len(sheets))
    h = np.clip(np.floor(hue40).astype(int), 0, 39)
    r = np.clip(np.floor(ring).astype(int), 0, sheets.shape[2] - 2)
    u, v = hue40 - h, ring - r
    a, b = sheets[rows, h, r], sheets[rows, h, r + 1]
    c, d = sheets[rows, h + 1, r], sheets[rows, h + 1, r + 1]
    before, after = a + (b - a) * v, c + (d - c) * v
    return _Cell(before + (after - before) * u, after - before, (b - a) * (1 - u) + (d - c) * u)


def to_xyz(hvc: Floats) -> Floats:
    """XYZ100 (illuminant C, 2 degrees) of hue number 0..100, value and chroma: (n, 3) to (n, 3)."""
    y100 = value_to_y(hvc[:, 1])
    offset = _cell(_sheets(y100), hvc[:, 0] / HUE_STEP, hvc[:, 2] / 2.0).offset
    x, y = WHITE_XY[0] + offset.real, WHITE_XY[1] + offset.imag
    return np.stack([x / y, np.ones_like(x), (1.0 - x - y) / y], axis=-1) * y100[:, None]


def from_xyz(xyz100: Floats) -> Floats:
    """Hue number 0..100, value and chroma of XYZ100 (illuminant C, 2 degrees): (n, 3) to (n, 3).

    Newton on the table's own cells, so that `to_xyz` gives the colour back.
    """
    total = np.maximum(xyz100.sum(-1), TINY)
    goal = xyz100[:, 0] / total - WHITE_XY[0] + 1j * (xyz100[:, 1] / total - WHITE_XY[1])
    goal = np.where(xyz100[:, 1] > TINY, goal, 0.0)
    sheets = _sheets(xyz100[:, 1])
    hue40, ring = _first_guess(sheets, goal)
    for _ in range(ROUNDS):
        cell = _cell(sheets, hue40, ring)
        miss = goal - cell.offset
        area = (np.conj(cell.by_hue) * cell.by_chroma).imag
        safe = np.where(np.abs(area) > TINY, area, TINY)
        turn = (np.conj(miss) * cell.by_chroma).imag / safe
        out = (np.conj(cell.by_hue) * miss).imag / safe
        hue40 = (hue40 + np.clip(turn, -1.0, 1.0)) % 40.0
        ring = np.clip(ring + np.clip(out, -2.0, 2.0), 0.0, None)
    return np.stack([hue40 * HUE_STEP, y_to_value(xyz100[:, 1]), 2.0 * ring], axis=-1)


def _first_guess(
    sheets: np.ndarray[tuple[int, ...], np.dtype[np.complex128]],
    goal: np.ndarray[tuple[int, ...], np.dtype[np.complex128]],
) -> tuple[Floats, Floats]:
    inner = sheets[:, :40, 1]
    turned = np.abs(np.angle(goal[:, None] * np.conj(inner)))
    nearest = turned.argmin(1)
    radius = np.abs(inner[np.arange(len(goal)), nearest])
    return nearest + 0.5, np.abs(goal) / radius
