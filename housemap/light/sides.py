"""The walls of a room of any outline, each as a grid of patches."""

from dataclasses import dataclass

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.enclosure import Shape, cell_of, lines, owners
from housemap.light.factors import Ints


@dataclass(frozen=True, slots=True)
class Side:
    """A wall's grid: `owner` is the surface of each cell (along, up)."""

    start_m: Floats
    end_m: Floats
    along: Floats
    up: Floats
    owner: Ints

    @property
    def area_m2(self) -> Floats:
        return np.outer(np.diff(self.along), np.diff(self.up)).ravel()

    @property
    def direction(self) -> Floats:
        span = self.end_m - self.start_m
        return np.asarray(span / np.hypot(*span))

    def places(self, cells: Ints, uniform: Floats) -> Floats:
        """Points spread evenly over cells: (cells, K, 2) in 0..1 to (cells, K, 3)."""
        column, row = np.divmod(cells, self.owner.shape[1])
        along = _within(self.along, column, uniform[..., 0])
        plan = self.start_m + along[..., None] * self.direction
        return np.concatenate([plan, _within(self.up, row, uniform[..., 1])[..., None]], axis=-1)

    def inward(self, local: Floats) -> Floats:
        """Directions about z turned to point into the room."""
        x, y = self.direction
        return np.asarray(local @ np.array([[x, y, 0.0], [0.0, 0.0, 1.0], [-y, x, 0.0]]))

    def cell_of(self, place_m: Floats) -> Ints:
        along = (place_m[:, :2] - self.start_m) @ self.direction
        return cell_of(self.along, along) * self.owner.shape[1] + cell_of(self.up, place_m[:, 2])


def side(shape: Shape, edge: int, step_m: float) -> Side:
    """The wall on an edge of the outline, gridded through its holes."""
    corners = np.array([*shape.outline_m, shape.outline_m[0]])
    start, end = corners[edge], corners[edge + 1]
    key, first_hole = shape.wall_keys[edge], 2 + len(shape.wall_keys)
    holes = [(i, h) for i, h in enumerate(shape.holes, first_hole) if h.surface == key]
    cuts_u = [c for _, h in holes for c in (h.along_m, h.along_m + h.width_m)]
    cuts_v = [c for _, h in holes for c in (h.sill_m, h.sill_m + h.height_m)]
    along = lines(float(np.hypot(*(end - start))), cuts_u, step_m)
    up = lines(shape.height_m, cuts_v, step_m)
    return Side(start, end, along, up, owners(along, up, 2 + edge, holes))


def _within(edges: Floats, cell: Ints, share: Floats) -> Floats:
    return edges[cell, None] + np.diff(edges)[cell, None] * share
