"""What depends on a room's shape alone, computed once for each shape; skylight through windows.

Shapes that differ only in how their windows and openings are called are one.
"""

from dataclasses import dataclass, replace
from functools import cache, lru_cache

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import rays, sky
from housemap.light.mesh import (
    PLANE_M,
    Enclosure,
    Hole,
    LampPlace,
    Plane,
    Shape,
    box,
    corners_of_box,
)
from housemap.light.outline_mesh import prism
from housemap.light.radiosity import Modes, modes_of
from housemap.light.rays import wall_distance_m
from housemap.model.house import Aim

SKY_RAYS = 4096


@dataclass(frozen=True, slots=True, eq=False)
class Skylight:
    """Where the light of a window falls first, as shares of all that comes in."""

    patches: Floats
    """(N,), in all 1."""
    plane: float
    """Of that, the share that comes down through the working plane."""


def skylight(
    room: Enclosure, shape: Shape, window: Hole, sky_angle_deg: float, plane: Plane | None
) -> Skylight:
    """Follow rays from a window on a wall; sky and ground as in `sky.glass_share`."""
    start, toward = _rays(shape, window)
    weight = _luminance(sky_angle_deg)
    hits = rays.cast(shape.outline_m, shape.height_m, start, toward)
    patches = np.bincount(room.patch_of(hits), weight, len(room.mesh.area_m2))
    total = weight.sum()
    if plane is None:
        return Skylight(patches / total, 0.0)
    crosses = _crosses_plane(shape, start, toward, hits.place_m, plane.border_m)
    return Skylight(patches / total, float(weight[crosses].sum() / total))


@cache
def _inward() -> Floats:
    """Directions into a room: along the wall, up, and away from it; (SKY_RAYS, 3)."""
    return rays.cosine_directions(rays.spread(SKY_RAYS, 4)[:, 2:])


def _rays(shape: Shape, window: Hole) -> tuple[Floats, Floats]:
    edge = shape.wall_keys.index(window.surface)
    (x0, y0), (x1, y1) = shape.outline_m[edge], shape.outline_m[(edge + 1) % len(shape.outline_m)]
    length = np.hypot(x1 - x0, y1 - y0)
    x, y = (x1 - x0) / length, (y1 - y0) / length
    uniform = rays.spread(SKY_RAYS, 4)
    along = window.along_m + window.width_m * uniform[:, 0]
    up = window.sill_m + window.height_m * uniform[:, 1]
    start = np.column_stack([x0 + along * x, y0 + along * y, up])
    turn = np.array([[x, y, 0.0], [0.0, 0.0, 1.0], [-y, x, 0.0]])
    return start, _inward() @ turn


@lru_cache(maxsize=64)
def _luminance(sky_angle_deg: float) -> Floats:
    """Of what lies outside where each ray comes from: a ray that falls comes from the sky."""
    elevation = -np.arcsin(np.clip(_inward()[:, 1], -1.0, 1.0))
    from_sky = np.where(elevation > np.radians(90.0 - sky_angle_deg), sky.luminance(elevation), 0.0)
    return np.where(elevation < 0.0, sky.ground_luminance(), from_sky)


def _crosses_plane(
    shape: Shape, start: Floats, toward: Floats, end: Floats, border_m: float
) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    falls = (start[:, 2] > PLANE_M) & (end[:, 2] < PLANE_M)
    reach = (start[falls, 2] - PLANE_M) / -toward[falls, 2]
    place = start[falls, :2] + reach[:, None] * toward[falls, :2]
    crosses = falls.copy()
    crosses[falls] = wall_distance_m(shape.outline_m, place) >= border_m
    return crosses


SHAPES = 64
"""Kept at once; about 1 MB each."""


def enclosure(shape: Shape) -> Enclosure:
    """The mesh and exchange of a shape: exact for a box, by rays for any other outline."""
    return _enclosure(shape.nameless()).called(shape.surfaces)


def modes(shape: Shape) -> Modes:
    """How light lies in a shape."""
    return _modes(shape.nameless())


def lamp_shares(shape: Shape, at_m: LampPlace, aim: Aim) -> Floats:
    """See `Enclosure.lamp_shares`."""
    return _lamp_shares(shape.nameless(), at_m, aim)


def working_plane(shape: Shape) -> Plane | None:
    """See `Enclosure.plane`."""
    return _working_plane(shape.nameless())


def window_skylight(shape: Shape, window: Hole, sky_angle_deg: float) -> Skylight:
    """See `skylight`."""
    return _window_skylight(shape.nameless(), replace(window, name=""), sky_angle_deg)


def forget() -> None:
    """Compute all shapes anew from here on."""
    for kept in (_enclosure, _modes, _lamp_shares, _working_plane, _window_skylight):
        kept.cache_clear()


@lru_cache(maxsize=SHAPES)
def _enclosure(shape: Shape) -> Enclosure:
    room: Enclosure = box(shape) if corners_of_box(shape.outline_m) else prism(shape)
    room.mesh.exchange_m2.flags.writeable = False
    return room


@lru_cache(maxsize=SHAPES)
def _modes(shape: Shape) -> Modes:
    return modes_of(_enclosure(shape).mesh)


@lru_cache(maxsize=16 * SHAPES)
def _lamp_shares(shape: Shape, at_m: LampPlace, aim: Aim) -> Floats:
    shares = _enclosure(shape).lamp_shares(at_m, aim)
    shares.flags.writeable = False
    return shares


@lru_cache(maxsize=4 * SHAPES)
def _working_plane(shape: Shape) -> Plane | None:
    return _enclosure(shape).plane()


@lru_cache(maxsize=8 * SHAPES)
def _window_skylight(shape: Shape, window: Hole, sky_angle_deg: float) -> Skylight:
    return skylight(_enclosure(shape), shape, window, sky_angle_deg, _working_plane(shape))
