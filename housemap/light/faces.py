"""The six sides of a box, gridded: what two of them exchange, and what a lamp sends to one."""

from dataclasses import dataclass, replace

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import factors, points
from housemap.light.enclosure import FLOOR, PLANE_M, LampPlace, cell_of
from housemap.light.factors import Ints
from housemap.model.house import Aim


@dataclass(frozen=True, slots=True)
class Face:
    """One side of the box: the plane `axis` = `at_m`, gridded along the other two axes."""

    name: str
    axis: int
    at_m: float
    grid: dict[int, Floats]
    """Lines by axis, the lesser axis first."""
    owner: Ints
    """The surface of each cell, (cells of the lesser axis, cells of the greater)."""

    @property
    def cells(self) -> int:
        return self.owner.size

    @property
    def area_m2(self) -> Floats:
        u, v = self.grid.values()
        return np.outer(np.diff(u), np.diff(v)).ravel()

    @property
    def centre_m(self) -> Floats:
        """Of each cell, (cells, 3)."""
        (first, u), (second, v) = self.grid.items()
        centre = np.full((*self.owner.shape, 3), self.at_m)
        centre[..., first] = (u[1:] + u[:-1])[:, None] / 2.0
        centre[..., second] = (v[1:] + v[:-1]) / 2.0
        return centre.reshape(-1, 3)

    def cell_of(self, place_m: Floats) -> Ints:
        (first, u), (second, v) = self.grid.items()
        return cell_of(u, place_m[:, first]) * self.owner.shape[1] + cell_of(v, place_m[:, second])


def exchange_m2(a: Face, b: Face) -> Floats:
    """Area times view factor of two faces' cells: (a u, a v, b u, b v)."""
    if a.axis == b.axis:
        (a_u, a_v), (b_u, b_v) = a.grid.values(), b.grid.values()
        return factors.parallel(a_u, a_v, b_u, b_v, abs(a.at_m - b.at_m))
    shared = 3 - a.axis - b.axis
    block = factors.perpendicular(
        a.grid[shared], np.abs(a.grid[b.axis] - b.at_m),
        b.grid[shared], np.abs(b.grid[a.axis] - a.at_m),
    )  # fmt: skip
    if shared > b.axis:
        block = block.swapaxes(0, 1)
    return block.swapaxes(2, 3) if shared > a.axis else block


def above_plane(face: Face) -> Face:
    """The face with what lies below the working plane folded away, cell by cell."""
    if face.axis == 2:  # noqa: PLR2004 - z
        return face
    return replace(face, grid=face.grid | {2: np.maximum(face.grid[2], PLANE_M)})


def lamp_on(face: Face, at_m: LampPlace, aim: Aim) -> Floats:
    """The share of a lamp's flux that falls on each cell: (cells u, cells v)."""
    (first, u), (second, v) = face.grid.items()
    gap = abs(face.at_m - at_m[face.axis])
    u, v = u - at_m[first], v - at_m[second]
    if aim == "all":
        return points.even(u, v, gap)
    if face.axis != 2:  # noqa: PLR2004 - z
        return points.lambertian_beside(u, -v if aim == "down" else v, gap)
    faces_it = (face.name == FLOOR) == (aim == "down")
    return points.lambertian_facing(u, v, gap) if faces_it else np.zeros(face.owner.shape)
