"""A level polygon cut into trapezoids between its corners' x, and those into patches."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.factors import Ints
from housemap.model.house import Point


@dataclass(frozen=True, slots=True)
class Strip:
    """A trapezoid with two sides along y, as `columns` x `rows` patches.

    `low_m` and `high_m` are y at its west and east sides.
    """

    west_m: float
    east_m: float
    low_m: Point
    high_m: Point
    columns: int
    rows: int

    @property
    def cells(self) -> int:
        return self.columns * self.rows

    @property
    def area_m2(self) -> Floats:
        """Of each patch, columns first."""
        edges = np.linspace(0.0, 1.0, self.columns + 1)
        height = self._height(edges)
        column = (height[1:] + height[:-1]) / 2.0 * (self.east_m - self.west_m) / self.columns
        return np.repeat(column / self.rows, self.rows)

    def places(self, uniform: Floats) -> Floats:
        """Points spread evenly over each patch: (cells, K, 2) in 0..1 to the same."""
        edges = np.linspace(0.0, 1.0, self.columns + 1)
        height = self._height(edges)
        column, row = np.divmod(np.arange(self.cells)[:, None], self.rows)
        before, after = height[column], height[column + 1]
        share = uniform[..., 0]
        # Where the ends differ in height, more of the area lies toward the higher one.
        reach = np.sqrt(before**2 + share * (after**2 - before**2))
        within = share * (before + after) / (before + reach)
        across = edges[column] + within / self.columns
        up = (row + uniform[..., 1]) / self.rows
        x = self.west_m + across * (self.east_m - self.west_m)
        y = _mix(self.low_m, across) + up * self._height(across)
        return np.stack([x, y], axis=-1)

    def outside_m(self, place_m: Floats) -> Floats:
        """How far points lie outside, at most 0 within: (M, 2) to (M,)."""
        across = (place_m[:, 0] - self.west_m) / (self.east_m - self.west_m)
        beside = np.maximum(self.west_m - place_m[:, 0], place_m[:, 0] - self.east_m)
        below = _mix(self.low_m, across) - place_m[:, 1]
        above = place_m[:, 1] - _mix(self.high_m, across)
        return np.maximum(beside, np.maximum(below, above))

    def cell_of(self, place_m: Floats) -> Ints:
        """Which patch each of its points lies in."""
        across = (place_m[:, 0] - self.west_m) / (self.east_m - self.west_m)
        across = np.clip(across, 0.0, 1.0)
        height = self._height(across)
        up = (place_m[:, 1] - _mix(self.low_m, across)) / np.where(height > 0.0, height, 1.0)
        column = np.clip((across * self.columns).astype(np.intp), 0, self.columns - 1)
        row = np.clip((up * self.rows).astype(np.intp), 0, self.rows - 1)
        return np.asarray(column * self.rows + row)

    def _height(self, across: Floats) -> Floats:
        return _mix(self.high_m, across) - _mix(self.low_m, across)


def strips(outline_m: Sequence[Point], step_m: float) -> tuple[Strip, ...]:
    """The trapezoids of a simple polygon, each gridded to `step_m` or less."""
    stops = sorted({x for x, _ in outline_m})
    return tuple(
        _strip(west, east, low, high, step_m)
        for west, east in pairwise(stops)
        for low, high in _spans(outline_m, west, east)
    )


def _spans(outline_m: Sequence[Point], west: float, east: float) -> list[tuple[Point, Point]]:
    """Lower and upper side of each piece of the polygon between two neighbouring corner x."""
    sides = []
    for (x0, y0), (x1, y1) in zip(outline_m, [*outline_m[1:], outline_m[0]], strict=True):
        if min(x0, x1) <= west and max(x0, x1) >= east:
            slope = (y1 - y0) / (x1 - x0)
            sides.append((y0 + slope * (west - x0), y0 + slope * (east - x0)))
    sides.sort(key=sum)
    return list(zip(sides[::2], sides[1::2], strict=True))


def _strip(west: float, east: float, low: Point, high: Point, step_m: float) -> Strip:
    tallest = max(high[0] - low[0], high[1] - low[1])
    columns, rows = (max(1, int(np.ceil(x / step_m - 1e-9))) for x in (east - west, tallest))
    return Strip(west, east, low, high, columns, rows)


def _mix(ends: Point, across: Floats) -> Floats:
    return ends[0] + (ends[1] - ends[0]) * across
