"""ASTM D1535 notation of colours, both ways, by interpolation in the Munsell renotation.

Chromaticity is interpolated linearly in chroma and in the Y of the value, and along the hue
circle between the 40 hues (ASTM D1535 6; Newhall, Nickerson & Judd 1943). Y is that of ASTM
D1535, relative to the perfect diffuser, not the renotation table's own MgO scale. Everything is
for illuminant C and the 2 degree observer.
"""

from functools import cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import appearance, spaces, tables
from housemap.colorimetry.arrays import Complexes, Floats, Indices
from housemap.errors import ColourError
from housemap.model.notation import hue_name, read_notation

WHITE_XY = (0.31006, 0.31616)
"""Illuminant C, 2 degrees."""
WHITE: Floats = spaces.xy_to_xyz(*WHITE_XY)
OBSERVED = "C/2"
QUINTIC = (0.00081939, -0.020484, 0.23352, -0.22533, 1.1914, 0.0)
"""Y of a value, highest power first (ASTM D1535-08e1 equation 2)."""
LIGHTEST_TABULATED = 9.6
"""Above value 9 there are no chips: the rings of equal chroma shrink toward ideal white at 10, as
colour-science has it, but no further than here, or the faintest tint would count as strong."""
HUE_STEP, HUE_LINES = 2.5, 40
IDEAL_VALUE = 10.0
TINY = 1e-15
DONE_XY = 1e-13
ROUNDS, MOST_RINGS = 20, 50.0


class _Renotation(NamedTuple):
    y100: Floats
    """Y of each value level, rising, shape (levels,)."""
    offset: Complexes
    """x + iy less the white's, shape (levels, 41 hues, chroma / 2); the last hue is the first."""


class _Between(NamedTuple):
    """The value level below each luminance, and how far up to the next; both (n,)."""

    level: Indices
    share: Floats

    def of(self, hue: Indices, ring: Indices) -> Complexes:
        """The table's entries at each luminance."""
        table = _renotation().offset
        low, high = table[self.level, hue, ring], table[self.level + 1, hue, ring]
        return np.asarray(low + (high - low) * self.share)


class _Cell(NamedTuple):
    """Offset from white at a hue and chroma, and its slopes along both; all (n,)."""

    offset: Complexes
    by_hue: Complexes
    by_chroma: Complexes


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
    levels = np.array(sorted(set(rows["value"].tolist())))  # np.unique imports masked arrays
    levels = levels[levels < IDEAL_VALUE]
    rings = int(rows["chroma"].max() / 2.0) + 1
    offset = np.full((len(levels), HUE_LINES, rings), np.nan + 0j)
    kept = rows["value"] < IDEAL_VALUE
    place = (
        np.searchsorted(levels, rows["value"][kept]),
        (rows["hue100"][kept] / HUE_STEP).astype(int),
        (rows["chroma"][kept] / 2.0).astype(int),
    )
    offset[place] = (rows["x"] - WHITE_XY[0] + 1j * (rows["y"] - WHITE_XY[1]))[kept]
    offset[:, :, 0] = 0.0
    _extrapolate(offset)
    ideal = np.zeros((1, HUE_LINES, rings))
    y100 = np.append(value_to_y(levels), 100.0)
    table = np.concatenate([offset, ideal])
    return _Renotation(y100, np.concatenate([table, table[:, :1]], axis=1))


def _extrapolate(offset: Complexes) -> None:
    """Fill outward: the next lighter level where a hue has no chip at all, else a straight line."""
    for level in range(len(offset) - 2, -1, -1):
        empty = np.isnan(offset[level, :, 1])
        offset[level, empty, 1] = offset[level + 1, empty, 1]
    for ring in range(2, offset.shape[2]):
        onward = 2.0 * offset[:, :, ring - 1] - offset[:, :, ring - 2]
        offset[:, :, ring] = np.where(np.isnan(offset[:, :, ring]), onward, offset[:, :, ring])


def _between(y100: Floats) -> _Between:
    levels = _renotation().y100
    y100 = np.clip(y100, levels[0], value_to_y(np.array(LIGHTEST_TABULATED)))
    below = np.clip(np.searchsorted(levels, y100) - 1, 0, len(levels) - 2)
    return _Between(below, (y100 - levels[below]) / (levels[below + 1] - levels[below]))


def _cell(between: _Between, hue40: Floats, ring: Floats) -> _Cell:
    h = np.clip(np.floor(hue40).astype(int), 0, HUE_LINES - 1)
    r = np.clip(np.floor(ring).astype(int), 0, _renotation().offset.shape[2] - 2)
    u, v = hue40 - h, ring - r
    a, b = between.of(h, r), between.of(h, r + 1)
    c, d = between.of(h + 1, r), between.of(h + 1, r + 1)
    before, after = a + (b - a) * v, c + (d - c) * v
    return _Cell(before + (after - before) * u, after - before, (b - a) * (1 - u) + (d - c) * u)


def to_xyz(hvc: Floats) -> Floats:
    """XYZ100 (illuminant C, 2 degrees) of hue number 0..100, value and chroma: (..., 3)."""
    hue40, y100, ring = hvc[..., 0] / HUE_STEP, value_to_y(hvc[..., 1]), hvc[..., 2] / 2.0
    offset = _cell(_between(y100), hue40, ring).offset
    x, y = WHITE_XY[0] + offset.real, WHITE_XY[1] + offset.imag
    return np.stack([x / y, np.ones_like(x), (1.0 - x - y) / y], axis=-1) * y100[..., None]


def from_screen(xyz100: Floats) -> Floats:
    """As `from_xyz`, of what is seen on a D65 screen: as it corresponds under C (CAT16)."""
    return from_xyz(appearance.adapt(xyz100, spaces.SRGB_WHITE, WHITE))


def from_xyz(xyz100: Floats) -> Floats:
    """Hue number 0..100, value and chroma of XYZ100 (illuminant C, 2 degrees): (..., 3).

    Newton on the table's own cells, so that `to_xyz` gives the colour back.
    """
    total = np.maximum(xyz100.sum(-1), TINY)
    goal = xyz100[..., 0] / total - WHITE_XY[0] + 1j * (xyz100[..., 1] / total - WHITE_XY[1])
    goal = np.where(xyz100[..., 1] > TINY, goal, 0.0)
    between = _between(xyz100[..., 1])
    hue40, ring = _first_guess(between, goal)
    for _ in range(ROUNDS):
        cell = _cell(between, hue40, ring)
        miss = goal - cell.offset
        if np.abs(miss).max(initial=0.0) < DONE_XY:
            break
        area = (np.conj(cell.by_hue) * cell.by_chroma).imag
        safe = np.where(np.abs(area) > TINY, area, TINY)
        turn = (np.conj(miss) * cell.by_chroma).imag / safe
        out = (np.conj(cell.by_hue) * miss).imag / safe
        hue40 = (hue40 + np.clip(turn, -1.0, 1.0)) % HUE_LINES
        ring = np.clip(ring + np.clip(out, -2.0, 2.0), 0.0, MOST_RINGS)
    return np.stack([hue40 * HUE_STEP % 100.0, y_to_value(xyz100[..., 1]), 2.0 * ring], axis=-1)


def _first_guess(between: _Between, goal: Complexes) -> tuple[Floats, Floats]:
    """The hue line of chroma 2 that points most nearly at each goal."""
    lines = np.arange(HUE_LINES)
    every = _Between(between.level[..., None], between.share[..., None])
    inner = every.of(lines, np.ones_like(lines))
    nearest = np.abs(np.angle(goal[..., None] * np.conj(inner))).argmin(-1)
    radius = np.abs(between.of(nearest, np.ones_like(nearest)))
    return nearest + 0.5, np.abs(goal) / radius


# ASTM D1535 notation as text: "5Y 7/1", "N 8/".

LEAST_CHROMA = 0.05
"""Below it the text says N: it rounds to /0.0."""


class MunsellNotation(NamedTuple):
    """Hue, value and chroma; `hue100` is 0 where there is no chroma."""

    hue100: float
    """ASTM hue number, 0 <= hue100 < 100."""
    value: float
    chroma: float

    @property
    def hue(self) -> str:
        """To one decimal, as in "2.5GY"; "N" where there is no chroma."""
        neutral = self.chroma < LEAST_CHROMA
        return "N" if neutral else hue_name(round(self.hue100 * 10.0) % 1000 / 10.0)

    @property
    def text(self) -> str:
        chroma = "" if self.chroma < LEAST_CHROMA else _short(self.chroma)
        return f"{self.hue} {_short(self.value)}/{chroma}"


def parse(text: str) -> tuple[float, float, float]:
    """Hue number 0..100, value 0..10 and chroma of a notation; raises ColourError."""
    found = read_notation(text)
    if found is None:
        raise ColourError(f'a notation is written "5Y 7/1" or "N 8/", found "{text}"')
    return found


def written(hue100: float, value: float, chroma: float) -> MunsellNotation:
    return MunsellNotation(0.0 if chroma < LEAST_CHROMA else hue100, value, chroma)


def _short(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
