"""What depends on a room's shape alone, computed once for each shape; skylight through windows.

Shapes that differ only in how their windows and openings are called are one.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import rays, sky
from housemap.light.mesh import Box, Hole, LampPlace, Plane, Shape, box, corners_of_box, frame
from housemap.light.outline_mesh import Prism, prism
from housemap.light.radiosity import Modes, modes_of
from housemap.light.sky import Outside
from housemap.model.house import Aim

Enclosure = Box | Prism
SHAPES = 1024
"""Kept at once; about 0.2 MB each."""
WINDOW_STEP_M, WINDOW_POINTS = 0.2, 12
"""Between the points that stand for a window, and the most of them along each side."""


class Skylight(NamedTuple):
    """Illuminance from a window that passes everything, for 1 lx on the horizontal outside."""

    patches: Floats
    """(N,)."""
    plane: Floats
    """On each cell of the working plane, (P,); none where there is no plane."""


@lru_cache(maxsize=2 * SHAPES)
def skylight(shape: Shape, number: int, outside: Outside) -> Skylight:
    """Through a window, by its number among the holes.

    Its view factors, each times the mean luminance of what is seen through it. What of its light
    that leaves out is given to the patches that lie near it: there it is known least.
    """
    room, plane = enclosure(shape), working_plane(shape)
    mesh, window = room.mesh, shape.holes[number]
    surface = 2 + len(shape.wall_keys) + number
    lit, seen = mesh.surface == surface, modes(shape).seen[surface]
    glass = _glass(shape, window)
    patches = seen * _mean_exitance(mesh.centre_m, mesh.normal, glass, outside)
    near = patches * seen
    missing = sky.glass_share(outside) * mesh.area_m2[lit].sum() - patches @ mesh.area_m2
    patches = patches + near * (missing / max(near @ mesh.area_m2, TINY))
    if plane is None:
        return Skylight(patches, np.zeros(0))
    up = np.broadcast_to([0.0, 0.0, 1.0], plane.centre_m.shape)
    on_plane = plane.exchange_m2[:, lit].sum(1) / plane.area_m2
    if isinstance(room, Prism):
        on_plane = _seen_by_points(shape, window, plane, glass)
    on_plane = on_plane * _mean_exitance(plane.centre_m, up, glass, outside)
    return Skylight(patches, on_plane)


class Glass(NamedTuple):
    """A window as a grid of points, in level bands so high."""

    corner_m: Floats
    axes: Floats
    """Along the window, up it, and out of the room."""
    along_m: Floats
    """Of the points, from the corner."""
    up_m: Floats
    band_m: float

    @property
    def points_m(self) -> Floats:
        """(M, 3)."""
        along, up = np.meshgrid(self.along_m, self.up_m)
        return self.corner_m + np.stack([along.ravel(), up.ravel()], axis=-1) @ self.axes[:2]


def _glass(shape: Shape, window: Hole) -> Glass:
    size = np.array([window.width_m, window.height_m])
    counts = np.clip(np.ceil(size / WINDOW_STEP_M), 2, WINDOW_POINTS).astype(int).tolist()
    along, up = ((np.arange(n) + 0.5) / n * m for n, m in zip(counts, size, strict=True))
    return Glass(*frame(shape, window), along, up, window.height_m / len(up))


def _mean_exitance(centre_m: Floats, normal: Floats, glass: Glass, outside: Outside) -> Floats:
    """Pi times the mean luminance that each place sees in a window, weighted by how it sees it.

    Within a level band luminance is linear in the sine of the elevation: its mean there is that at
    the mean of the sines. Arrays are (places, bands, points along a band).
    """
    away, facing = (glass.corner_m - centre_m) @ glass.axes.T, normal @ glass.axes.T
    along, up, out = away[:, :1] + glass.along_m, away[:, 1:2] + glass.up_m, away[:, 2:]
    square = (along**2)[:, None] + (up**2 + out**2)[..., None] + TINY
    upright = up * facing[:, 1:2] + out * facing[:, 2:]
    ahead = (along * facing[:, :1])[:, None] + upright[..., None]
    each = np.maximum(ahead, 0.0) * np.maximum(out, 0.0)[..., None] / square**2 + TINY
    weight = each.sum(2)
    above = (glass.corner_m - centre_m)[:, 2:] + glass.up_m * glass.axes[1, 2]
    mean_m = weight / (each / np.sqrt(square)).sum(2)
    shine = sky.band_luminance(outside, above, out, mean_m, glass.band_m)
    return np.asarray(np.pi * (weight * shine).sum(1) / weight.sum(1))


def _seen_by_points(shape: Shape, window: Hole, plane: Plane, glass: Glass) -> Floats:
    """View factors of a window from the cells of the working plane, corners in the way.

    Of each cell by four points (Gauss & Legendre), in whose way lies what is in its middle's.
    """
    points = glass.points_m
    away = points - plane.centre_m[:, None]
    start = np.repeat(plane.centre_m, len(points), axis=0)
    hits = rays.cast(shape.outline_m, shape.height_m, start, away.reshape(-1, 3))
    free = (hits.edge == shape.wall_keys.index(window.surface)).reshape(away.shape[:2])
    kernel = np.zeros(free.shape)
    x, y = (np.diff(lines[:2]) / np.sqrt(12.0) for lines in (plane.x_m, plane.y_m))
    for sides in ((-x, -y), (-x, y), (x, -y), (x, y)):
        beside = away + np.array([*sides, [0.0]]).T
        square = np.einsum("npk,npk->np", beside, beside)
        kernel += (
            np.maximum(beside[..., 2], 0.0) * np.maximum(beside @ glass.axes[2], 0.0) / square**2
        )
    area = window.width_m * window.height_m / len(points) / np.pi
    return np.asarray((kernel * free).sum(1) * area / 4.0)


TINY = 1e-12
"""So that a place that sees nothing of a window has a mean too."""


@lru_cache(maxsize=SHAPES)
def enclosure(shape: Shape) -> Enclosure:
    """The mesh of a shape; what its patches exchange is exact for a box, else by rays."""
    return box(shape) if corners_of_box(shape.outline_m) else prism(shape)


@lru_cache(maxsize=SHAPES)
def modes(shape: Shape) -> Modes:
    """How light lies in a shape."""
    return modes_of(enclosure(shape).mesh, 2 + len(shape.wall_keys))


@lru_cache(maxsize=2 * SHAPES)
def lamp_shares(shape: Shape, at_m: LampPlace, aim: Aim) -> Floats:
    """See `Box.lamp_shares`."""
    shares = enclosure(shape).lamp_shares(at_m, aim)
    shares.flags.writeable = False
    return shares


@lru_cache(maxsize=SHAPES)
def working_plane(shape: Shape) -> Plane | None:
    """See `Box.plane`."""
    return enclosure(shape).plane()


def forget() -> None:
    """Compute all shapes anew from here on."""
    for kept in (enclosure, modes, lamp_shares, working_plane, skylight):
        kept.cache_clear()
