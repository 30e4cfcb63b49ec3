"""The overcast sky through a window, direction by direction: for the working plane.

A window as an even emitter sends as much light up as down; the sky sends its light down. On the
surfaces' own light the model keeps the even emitter (curtains and reveals scatter); the mean over
the working plane is compared with standards, so there the sky is followed as it is.
"""

from dataclasses import dataclass

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import rays, sky
from housemap.light.enclosure import PLANE_M, Enclosure, Hole, Plane, Shape
from housemap.light.outline import wall_distance_m

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
    weight = _luminance(toward, sky_angle_deg)
    hits = rays.cast(shape.outline_m, shape.height_m, start, toward)
    patches = np.bincount(room.patch_of(hits), weight, len(room.mesh.area_m2))
    total = weight.sum()
    if plane is None:
        return Skylight(patches / total, 0.0)
    crosses = _crosses_plane(shape, start, toward, hits.place_m, plane.border_m)
    return Skylight(patches / total, float(weight[crosses].sum() / total))


def _rays(shape: Shape, window: Hole) -> tuple[Floats, Floats]:
    edge = shape.wall_keys.index(window.surface)
    corners = np.array([*shape.outline_m, shape.outline_m[0]])
    span = corners[edge + 1] - corners[edge]
    x, y = span / np.hypot(*span)
    uniform = rays.spread(SKY_RAYS, 4)
    along = window.along_m + window.width_m * uniform[:, 0]
    up = window.sill_m + window.height_m * uniform[:, 1]
    start = np.column_stack([corners[edge] + along[:, None] * (x, y), up])
    turn = np.array([[x, y, 0.0], [0.0, 0.0, 1.0], [-y, x, 0.0]])
    return start, rays.cosine_directions(uniform[:, 2:]) @ turn


def _luminance(toward: Floats, sky_angle_deg: float) -> Floats:
    """Of what lies outside where each ray comes from: a ray that falls comes from the sky."""
    elevation = -np.arcsin(np.clip(toward[:, 2], -1.0, 1.0))
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
