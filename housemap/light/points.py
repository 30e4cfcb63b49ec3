"""Light from a small source on axis-aligned rectangles in closed form.

Each function gives the share of a source's flux that falls on every cell of a grid: corner values
on the grid's lines, differenced along both axes. The lines are measured from the source; `gap_m`
is the distance of the source from the grid's plane.
"""

import numpy as np

from housemap.colorimetry.arrays import Floats

NEAREST_M = 1e-9
"""A source in a grid's own plane is moved off it by this, so that nothing is 0 / 0."""


def even(u: Floats, v: Floats, gap_m: float) -> Floats:
    """From a source that shines evenly in all directions: solid angle / 4 pi; (cells u, cells v).

    The solid angle of a rectangle with a corner below the source is the arc tangent of
    u v / (gap r).
    """
    gap = max(gap_m, NEAREST_M)
    r = np.sqrt(u[:, None] ** 2 + v[None, :] ** 2 + gap**2)
    return _cells(np.arctan(u[:, None] * v[None, :] / (gap * r)) / (4.0 * np.pi))


def lambertian_facing(u: Floats, v: Floats, gap_m: float) -> Floats:
    """From a Lambertian element that faces the grid's plane (Howell B-3); (cells u, cells v)."""
    gap = max(gap_m, NEAREST_M)
    across, along = u[:, None], v[None, :]
    u_gap, v_gap = np.hypot(across, gap), np.hypot(along, gap)
    arcs = across / u_gap * np.arctan(along / u_gap) + along / v_gap * np.arctan(across / v_gap)
    return _cells(arcs / (2.0 * np.pi))


def lambertian_beside(u: Floats, ahead: Floats, gap_m: float) -> Floats:
    """From a Lambertian element whose normal runs along the grid (Howell B-4).

    `ahead` are the lines' distances in the direction of the normal; what is behind gets nothing.
    Gives (cells u, cells ahead).
    """
    gap = max(gap_m, NEAREST_M)
    r = np.hypot(np.maximum(ahead, 0.0), gap)[None, :]
    return _cells(-gap / r * np.arctan(u[:, None] / r) / (2.0 * np.pi))


def _cells(corners: Floats) -> Floats:
    return np.abs(np.diff(np.diff(corners, axis=0), axis=1))
