"""A room of any outline: exchange between patches by rays, so that corners cast their shadows."""

from collections.abc import Iterator
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
from housemap.light.outline import GRID_M, Bools, inside_points
from housemap.light.sides import Side, side
from housemap.light.strips import Strip, strips
from housemap.model.house import Aim

RAYS = 256
"""From each patch."""
WINDOW_RAYS = 16384
"""From each window, as all light by day comes through them; and from each lamp."""
PLANE_RAYS = 16384
BALANCED = 1e-13
BALANCING_ROUNDS = 500


@dataclass(frozen=True, slots=True)
class Patches:
    """Where the patches are: floor, ceiling, then wall by wall."""

    shape: Shape
    levels: tuple[Strip, ...]
    """Of the floor, and again of the ceiling."""
    sides: tuple[Side, ...]

    @property
    def level_cells(self) -> int:
        return sum(strip.cells for strip in self.levels)

    @property
    def _shines(self) -> Bools:
        """Of each surface."""
        plain = np.zeros(2 + len(self.sides), bool)
        return np.append(plain, [hole.shines for hole in self.shape.holes]).astype(bool)

    @property
    def area_m2(self) -> Floats:
        level = [strip.area_m2 for strip in self.levels]
        return np.concatenate([*level, *level, *(side.area_m2 for side in self.sides)])

    @property
    def surface(self) -> Ints:
        levels = np.repeat([0, 1], self.level_cells)
        return np.concatenate([levels, *(side.owner.ravel() for side in self.sides)])

    @property
    def centre_m(self) -> Floats:
        """Of each patch, (N, 3)."""
        plan = [strip.places(np.full((strip.cells, 1, 2), 0.5))[:, 0] for strip in self.levels]
        level = np.concatenate(plan)
        walls = (
            wall.places(np.arange(wall.owner.size), np.full((wall.owner.size, 1, 2), 0.5))[:, 0]
            for wall in self.sides
        )
        return np.concatenate([_level(level, 0.0), _level(level, self.shape.height_m), *walls])

    def at(self, hits: rays.Hits) -> Ints:
        """The patch that each ray ends on."""
        patch = np.zeros(len(hits.edge), np.intp)
        for edge, first in ((rays.ON_FLOOR, 0), (rays.ON_CEILING, self.level_cells)):
            here = hits.edge == edge
            patch[here] = first + self._level_cell(hits.place_m[here])
        first = 2 * self.level_cells
        for edge, wall in enumerate(self.sides):
            here = hits.edge == edge
            patch[here] = first + wall.cell_of(hits.place_m[here])
            first += wall.owner.size
        return patch

    def _level_cell(self, place_m: Floats) -> Ints:
        outside = np.stack([strip.outside_m(place_m[:, :2]) for strip in self.levels])
        nearest, cell, first = outside.argmin(0), np.zeros(len(place_m), np.intp), 0
        for i, strip in enumerate(self.levels):
            here = nearest == i
            cell[here] = first + strip.cell_of(place_m[here, :2])
            first += strip.cells
        return cell

    def bundles(self) -> Iterator[tuple[Ints, Floats, Floats]]:
        """Rays from every patch: patches (cells,), starts and directions (cells, number, 3).

        Each patch has its own stretch of one even sequence.
        """
        first = 0
        for height, up in ((0.0, 1.0), (self.shape.height_m, -1.0)):
            for strip in self.levels:
                uniform = _stretches(strip.cells, RAYS)
                start = _level(strip.places(uniform[..., :2]), height)
                toward = rays.cosine_directions(uniform[..., 2:]) * (1.0, 1.0, up)
                yield first + np.arange(strip.cells), start, toward
                first += strip.cells
        for wall in self.sides:
            shines = self._shines[wall.owner.ravel()]
            more = max(RAYS, WINDOW_RAYS // max(shines.sum(), 1))
            for cells, number in ((np.flatnonzero(~shines), RAYS), (np.flatnonzero(shines), more)):
                uniform = _stretches(len(cells), number)
                toward = wall.inward(rays.cosine_directions(uniform[..., 2:]))
                yield first + cells, wall.places(cells, uniform[..., :2]), toward
            first += wall.owner.size


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
        uniform = rays.spread(WINDOW_RAYS, 2)
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
        factors = self._shares(_level(plan, PLANE_M), rays.cosine_directions(uniform[:, :2]))
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


def _stretches(cells: int, number: int) -> Floats:
    return rays.spread(cells * number, 4).reshape(cells, number, 4)


def _level(plan_m: Floats, height_m: float) -> Floats:
    return np.concatenate([plan_m, np.full((*plan_m.shape[:-1], 1), height_m)], axis=-1)
