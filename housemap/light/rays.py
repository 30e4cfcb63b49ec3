"""Rays in a prism: a floor plan of straight walls, and a floor and a ceiling that are level.

A ray meets the nearest wall in plan, or the floor or ceiling before it, so that what stands in
the way is exact for any outline. Rays are spread evenly, not at random: the same room always gives
the same figures.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.factors import Ints
from housemap.model.house import Point

ON_FLOOR, ON_CEILING = -1, -2
NUDGE = 1e-9


class Hits(NamedTuple):
    """Where rays end: an edge of the outline, ON_FLOOR or ON_CEILING, and the place, (M, 3)."""

    edge: Ints
    place_m: Floats


def spread(count: int, dimensions: int) -> Floats:
    """Evenly spread points of the unit cube, (count, dimensions), not to be written to.

    Additive recurrence on the powers of the root of x^(d+1) = x + 1 (Roberts 2018).
    """
    return _sequence(1 << (int(count) - 1).bit_length(), dimensions)[:count]


@lru_cache(maxsize=8)
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
