"""Rays in a prism: a floor plan of straight walls, and a floor and a ceiling that are level.

A ray meets the nearest wall in plan, or the floor or ceiling before it, so that what stands in
the way is exact for any outline. Rays are spread evenly, not at random: the same room always gives
the same figures.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.view_factors import Ints
from housemap.model.house import Point

ON_FLOOR, ON_CEILING = -1, -2
NUDGE = 1e-6


class Hits(NamedTuple):
    """Where rays end: an edge of the outline, ON_FLOOR or ON_CEILING, and the place, (M, 3)."""

    edge: Ints
    place_m: Floats


def spread(count: int, dimensions: int) -> Floats:
    """Evenly spread points of the unit cube, (count, dimensions), not to be written to.

    Additive recurrence on the powers of the root of x^(d+1) = x + 1 (Roberts 2018).
    """
    return _sequence(1 << (int(count) - 1).bit_length(), dimensions)[:count]


@lru_cache(maxsize=32)
def _sequence(count: int, dimensions: int) -> Floats:
    root = 2.0
    for _ in range(30):
        root = (1.0 + root) ** (1.0 / (dimensions + 1))
    steps = root ** -np.arange(1.0, dimensions + 1)
    points = np.asarray((0.5 + np.arange(1, count + 1)[:, None] * steps) % 1.0)
    points.flags.writeable = False
    return points


def cosine_directions(uniform: Floats) -> Floats:
    """Directions about the z axis with density cos / pi: (..., 2) in 0..1 to (..., 3)."""
    radius, turn = np.sqrt(uniform[..., 0]), 2.0 * np.pi * uniform[..., 1]
    up = np.sqrt(1.0 - uniform[..., 0])
    return np.stack([radius * np.cos(turn), radius * np.sin(turn), up], axis=-1)


def cosine_spread(count: int) -> Floats:
    """Evenly spread directions about the z axis with density cos / pi, not to be written to.

    By the last two dimensions of `spread(count, 4)`.
    """
    return _directions(1 << (int(count) - 1).bit_length())[:count]


@lru_cache(maxsize=8)
def _directions(count: int) -> Floats:
    directions = cosine_directions(spread(count, 4)[:, 2:])
    directions.flags.writeable = False
    return directions


def even_directions(uniform: Floats) -> Floats:
    """Directions with the same density everywhere: (..., 2) in 0..1 to (..., 3)."""
    z, turn = 1.0 - 2.0 * uniform[..., 0], 2.0 * np.pi * uniform[..., 1]
    radius = np.sqrt(1.0 - z**2)
    return np.stack([radius * np.cos(turn), radius * np.sin(turn), z], axis=-1)


def cast(outline_m: tuple[Point, ...], height_m: float, start_m: Floats, toward: Floats) -> Hits:
    """End every ray that starts inside or on the prism: (M, 3) and (M, 3)."""
    x, y, z = np.ascontiguousarray(start_m.T)
    dx, dy, dz = np.ascontiguousarray(toward.T)
    with np.errstate(divide="ignore", invalid="ignore"):
        far = np.where(dz > 0.0, height_m - z, -z) / dz
        far[dz == 0.0] = np.inf
        edge = np.where(dz > 0.0, ON_CEILING, ON_FLOOR)
        for i, (a, b) in enumerate(zip(outline_m, outline_m[1:] + outline_m[:1], strict=True)):
            reach = _to_wall(a, b, (x, y), (dx, dy))
            nearer = reach < far
            far, edge = np.where(nearer, reach, far), np.where(nearer, i, edge)
    return Hits(edge, np.stack([x + far * dx, y + far * dy, z + far * dz], axis=-1))


def _to_wall(
    a: Point, b: Point, start_m: tuple[Floats, Floats], toward: tuple[Floats, Floats]
) -> Floats:
    """How far each ray runs to a wall that it meets from within, else infinity."""
    along_x, along_y = b[0] - a[0], b[1] - a[1]
    x, y, dx, dy = start_m[0] - a[0], start_m[1] - a[1], *toward
    leaving = dx * along_y - dy * along_x
    behind = y * along_x - x * along_y
    reach = np.maximum(behind, 0.0) / leaving
    place = ((x + reach * dx) * along_x + (y + reach * dy) * along_y) / (along_x**2 + along_y**2)
    meets = (leaving > 0.0) & (behind > -NUDGE) & (np.abs(place - 0.5) <= 0.5 + NUDGE)
    return np.where(meets, reach, np.inf)


# Points against an outline: inside or not, how far from the walls, a grid of them.

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
