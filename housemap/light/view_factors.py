"""View factors between axis-aligned rectangles in closed form, for whole grids of them at once.

A rectangle's edges are grid lines, so the four-fold integral of a pair of rectangles is a
difference of one corner function over their lines: each corner pair is computed once and shared
by the patches that meet there. Formulas: Howell, A Catalog of Radiation Heat Transfer
Configuration Factors, C-13 (parallel) and C-15 (perpendicular), rewritten as corner functions.
"""

import numpy as np

from housemap.colorimetry.arrays import Floats

Ints = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


def parallel(a_u: Floats, a_v: Floats, b_u: Floats, b_v: Floats, gap_m: float) -> Floats:
    """Area times view factor, m2, between grids in two planes `gap_m` (above 0) apart.

    Lines (n + 1,) along the two shared axes; gives (a cells u, a cells v, b cells u, b cells v).
    """
    u, at_u = _distances(a_u, b_u)
    v, at_v = _distances(a_v, b_v)
    along_u = _between(_corner_parallel(u[:, None], v[None, :], gap_m), at_u)
    both = _between(along_u.transpose(2, 0, 1), at_v)
    return both.transpose(2, 0, 3, 1)


def perpendicular(a_s: Floats, a_d: Floats, b_s: Floats, b_d: Floats) -> Floats:
    """Area times view factor, m2, between grids in two planes at right angles.

    `s` are lines along the axis that both planes share, `d` are the lines' distances (0 or more)
    from the other grid's plane; gives (a cells s, a cells d, b cells s, b cells d).
    """
    s, at_s = _distances(a_s, b_s)
    corners = _corner_perpendicular(s[:, None, None], a_d[None, :, None], b_d[None, None, :])
    rows = corners[:, 1:] - corners[:, :-1]
    across = rows[..., 1:] - rows[..., :-1]
    return np.abs(_between(across, at_s)).transpose(0, 2, 1, 3)


def _distances(a: Floats, b: Floats) -> tuple[Floats, Ints]:
    """As np.unique gives them, with less ado: the distances of lines, and which each pair has."""
    every = np.abs(a[:, None] - b).round(12)
    flat = every.ravel()
    order = flat.argsort()
    rising = flat[order]
    new = np.empty(len(flat), bool)
    new[0] = True
    np.not_equal(rising[1:], rising[:-1], out=new[1:])
    which = np.empty(len(flat), np.intp)
    which[order] = new.cumsum() - 1
    return rising[new], which.reshape(every.shape)


def _between(corners: Floats, which: Ints) -> Floats:
    """From distances on the first axis to cells of both grids on the first two."""
    lines = corners[which]
    rows = lines[1:] - lines[:-1]
    return np.asarray(rows[:, 1:] - rows[:, :-1])


def _corner_parallel(u: Floats, v: Floats, gap_m: float) -> Floats:
    u2, v2 = u**2 + gap_m**2, v**2
    u_gap, v_gap = np.sqrt(u2), np.sqrt(v2 + gap_m**2)
    corners: Floats = np.log(u2 + v2)
    corners *= -(gap_m**2) / (4.0 * np.pi)
    corners += (v / (2.0 * np.pi)) * u_gap * np.arctan(v / u_gap)
    corners += (u / (2.0 * np.pi)) * v_gap * np.arctan(u / v_gap)
    return corners


def _corner_perpendicular(s: Floats, a_d: Floats, b_d: Floats) -> Floats:
    # Where d or r is 0 its term is 0 too; the least number above keeps it from being 0 / 0.
    s2, d2 = s**2, a_d**2 + b_d**2 + np.finfo(np.float64).tiny
    d = np.sqrt(d2)
    corners: Floats = np.log(s2 + d2)
    corners *= s2 / (8.0 * np.pi) - d2 / (8.0 * np.pi)
    arcs = s / d
    np.arctan(arcs, out=arcs)
    arcs *= s / (2.0 * np.pi) * d
    corners += arcs
    return corners


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
