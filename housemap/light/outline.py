"""Points against an outline: inside or not, how far from the walls, a grid of them."""

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.model.house import Point

Bools = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

GRID_M = 0.05
"""Spacing of the points that stand for the working plane of an outline."""


def inside_points(outline_m: tuple[Point, ...], border_m: float) -> Floats:
    """Points of a grid inside the outline, at least `border_m` from its edges: (M, 2)."""
    corners = np.array(outline_m)
    low, high = corners.min(0), corners.max(0)
    x, y = (np.arange(a + GRID_M / 2.0, b, GRID_M) for a, b in zip(low, high, strict=True))
    points = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
    return points[inside(outline_m, points) & (wall_distance_m(outline_m, points) >= border_m)]


def inside(outline_m: tuple[Point, ...], points_m: Floats) -> Bools:
    """Whether points lie inside, by the parity of edges crossed: (M, 2) to (M,)."""
    odd = np.zeros(len(points_m), bool)
    x, y = points_m.T
    for (x0, y0), (x1, y1) in zip(outline_m, outline_m[1:] + outline_m[:1], strict=True):
        if y0 != y1:
            odd ^= ((y0 > y) != (y1 > y)) & (x < x0 + (y - y0) / (y1 - y0) * (x1 - x0))
    return odd


def wall_distance_m(outline_m: tuple[Point, ...], points_m: Floats) -> Floats:
    """Distance of points to the nearest edge: (M, 2) to (M,)."""
    best = np.full(len(points_m), np.inf)
    for a, b in zip(outline_m, outline_m[1:] + outline_m[:1], strict=True):
        start, span = np.array(a), np.subtract(b, a)
        part = np.clip((points_m - start) @ span / (span @ span), 0.0, 1.0)
        apart = points_m - start - part[:, None] * span
        best = np.minimum(best, np.hypot(*apart.T))
    return best
