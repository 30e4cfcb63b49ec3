"""Where the patches of a room of any outline lie, and the rays that leave them."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import rays
from housemap.light.enclosure import Shape
from housemap.light.factors import Ints
from housemap.light.outline import Bools
from housemap.light.sides import Side
from housemap.light.strips import Strip

RAYS = 256
"""From each patch."""
WINDOW_RAYS = 16384
"""From each window, as all light by day comes through them."""


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
        return np.concatenate([at_level(level, 0.0), at_level(level, self.shape.height_m), *walls])

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
                start = at_level(strip.places(uniform[..., :2]), height)
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


def _stretches(cells: int, number: int) -> Floats:
    return rays.spread(cells * number, 4).reshape(cells, number, 4)


def at_level(plan_m: Floats, height_m: float) -> Floats:
    """Places in the plan, (..., 2), at a height: (..., 3)."""
    return np.concatenate([plan_m, np.full((*plan_m.shape[:-1], 1), height_m)], axis=-1)
