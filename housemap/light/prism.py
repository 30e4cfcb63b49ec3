"""A room of any outline: exchange between patches by rays, so that corners cast their shadows."""

from dataclasses import dataclass, replace

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import rays
from housemap.light.enclosure import (
    PLANE_M,
    LampPlace,
    Mesh,
    Plane,
    Shape,
    patch_size_m,
    plane_border_m,
)
from housemap.light.factors import Ints
from housemap.light.outline import GRID_M, inside_points
from housemap.light.patches import Patches, at_level
from housemap.light.sides import side
from housemap.light.strips import strips
from housemap.model.house import Aim

LAMP_RAYS, PLANE_RAYS = 16384, 16384
"""From each lamp, and from the working plane."""
BALANCED = 1e-13
BALANCING_ROUNDS = 500


@dataclass(frozen=True, slots=True, eq=False)
class Prism:
    """An Enclosure of any outline."""

    patches: Patches
    mesh: Mesh
    patch_m: float

    @property
    def exact(self) -> bool:
        return False

    def called(self, surfaces: tuple[str, ...]) -> "Prism":
        return replace(self, mesh=replace(self.mesh, surfaces=surfaces))

    def patch_of(self, hits: rays.Hits) -> Ints:
        return self.patches.at(hits)

    def lamp_shares(self, at_m: LampPlace, aim: Aim) -> Floats:
        uniform = rays.spread(LAMP_RAYS, 2)
        toward = rays.even_directions(uniform) if aim == "all" else rays.cosine_directions(uniform)
        if aim == "down":
            toward = -toward
        return self._shares(np.broadcast_to(np.array(at_m), toward.shape), toward)

    def plane(self) -> Plane | None:
        shape = self.patches.shape
        border = plane_border_m(shape)
        free = inside_points(shape.outline_m, border)
        if shape.height_m <= PLANE_M or not len(free):
            return None
        uniform = rays.spread(PLANE_RAYS, 3)
        plan = free[(uniform[:, 2] * len(free)).astype(np.intp)]
        factors = self._shares(at_level(plan, PLANE_M), rays.cosine_directions(uniform[:, :2]))
        return Plane(border, len(free) * GRID_M**2, factors)

    def _shares(self, start_m: Floats, toward: Floats) -> Floats:
        ends = self.patches.at(_cast(self.patches.shape, start_m, toward))
        return np.bincount(ends, minlength=len(self.mesh.area_m2)) / len(toward)


def prism(shape: Shape, patch_m: float | None = None) -> Prism:
    """Mesh a shape of any outline and count its exchange."""
    step = patch_m or patch_size_m(shape)
    walls = tuple(side(shape, i, step) for i in range(len(shape.wall_keys)))
    patches = Patches(shape, strips(shape.outline_m, step), walls)
    mesh = Mesh(
        surfaces=shape.surfaces,
        surface=patches.surface,
        area_m2=patches.area_m2,
        centre_m=patches.centre_m,
        exchange_m2=_exchange(patches),
    )
    return Prism(patches, mesh, step)


def _exchange(patches: Patches) -> Floats:
    """Area times view factor from the rays between each two patches, counted both ways."""
    area = patches.area_m2
    counts = np.zeros((len(area), len(area)))
    per_m2 = np.zeros(len(area))
    for cells, start, toward in patches.bundles():
        number = start.shape[1]
        ends = patches.at(_cast(patches.shape, start.reshape(-1, 3), toward.reshape(-1, 3)))
        pairs = np.repeat(np.arange(len(cells)), number) * len(area) + ends
        found = np.bincount(pairs, minlength=len(cells) * len(area))
        counts[cells] = found.reshape(len(cells), len(area))
        per_m2[cells] = number / area[cells]
    return balanced((counts + counts.T) / np.add.outer(per_m2, per_m2), area)


def balanced(exchange_m2: Floats, area_m2: Floats) -> Floats:
    """Scale a symmetric exchange by d_i d_j so that its rows add to the areas.

    The symmetric form of Sinkhorn & Knopp 1967, each step damped by a square root.
    """
    scale = np.ones(len(area_m2))
    for _ in range(BALANCING_ROUNDS):
        short = area_m2 / (scale * (exchange_m2 @ scale))
        if np.abs(short - 1.0).max() < BALANCED:
            break
        scale = scale * np.sqrt(short)
    return exchange_m2 * np.outer(scale, scale)


def _cast(shape: Shape, start_m: Floats, toward: Floats) -> rays.Hits:
    return rays.cast(shape.outline_m, shape.height_m, start_m, toward)
