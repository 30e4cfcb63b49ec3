"""A rectangular room: every view factor in closed form."""

from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.enclosure import (
    CEILING,
    FLOOR,
    PLANE_M,
    Hole,
    LampPlace,
    Mesh,
    Plane,
    Shape,
    lines,
    owners,
    patch_size_m,
    plane_border_m,
)
from housemap.light.faces import Face, above_plane, exchange_m2, lamp_on
from housemap.light.factors import Ints
from housemap.light.rays import ON_CEILING, ON_FLOOR, Hits
from housemap.model.house import Aim, Point

OFF_WALL_M = 0.001
"""A lamp at a wall is this far from it."""


@dataclass(frozen=True, slots=True, eq=False)
class Box:
    """An Enclosure whose walls are axis-aligned; `size_m` is x, y, z."""

    size_m: tuple[float, float, float]
    faces: tuple[Face, ...]
    mesh: Mesh
    patch_m: float
    border_m: float
    """Of the working plane."""

    def lamp_shares(self, at_m: LampPlace, aim: Aim) -> Floats:
        x, y, z = np.clip(at_m, 0.0, self.size_m)
        x = np.clip(x, OFF_WALL_M, self.size_m[0] - OFF_WALL_M)
        y = np.clip(y, OFF_WALL_M, self.size_m[1] - OFF_WALL_M)
        shares = [lamp_on(face, (x, y, z), aim).ravel() for face in self.faces]
        return np.concatenate(shares)

    def plane(self) -> Plane | None:
        if self.size_m[2] <= PLANE_M:
            return None
        grid = {i: np.array([self.border_m, self.size_m[i] - self.border_m]) for i in (0, 1)}
        plane = Face("plane", 2, PLANE_M, grid, np.zeros((1, 1), np.intp))
        area = float(plane.area_m2.sum())
        floor, *above = self.faces
        seen = [exchange_m2(plane, above_plane(face)).ravel() / area for face in above]
        return Plane(self.border_m, area, np.concatenate([np.zeros(floor.cells), *seen]))

    @property
    def exact(self) -> bool:
        return True

    def called(self, surfaces: tuple[str, ...]) -> "Box":
        return replace(self, mesh=replace(self.mesh, surfaces=surfaces))

    def patch_of(self, hits: Hits) -> Ints:
        patch, first = np.zeros(len(hits.edge), np.intp), 0
        for edge, face in zip((ON_FLOOR, ON_CEILING, 0, 1, 2, 3), self.faces, strict=True):
            here = hits.edge == edge
            patch[here] = first + face.cell_of(hits.place_m[here])
            first += face.cells
        return patch


def corners_of_box(outline_m: tuple[Point, ...]) -> Point | None:
    """The far corner where the outline is an axis-aligned rectangle with a corner at 0, 0."""
    xs, ys = sorted({x for x, _ in outline_m}), sorted({y for _, y in outline_m})
    if len(outline_m) == 4 and len(xs) == len(ys) == 2 and (xs[0], ys[0]) == (0.0, 0.0):  # noqa: PLR2004 - a rectangle
        return xs[1], ys[1]
    return None


def box(shape: Shape, patch_m: float | None = None) -> Box:
    """Mesh a rectangular shape (see `corners_of_box`) and compute its exchange."""
    step = patch_m or patch_size_m(shape)
    far = corners_of_box(shape.outline_m)
    assert far is not None
    size = (*far, shape.height_m)
    names = shape.surfaces
    holes = list(enumerate(shape.holes, start=2 + len(shape.wall_keys)))
    plates = [(FLOOR, 2, 0.0), (CEILING, 2, size[2])]
    for i, key in enumerate(shape.wall_keys):
        start, end = shape.outline_m[i], shape.outline_m[(i + 1) % 4]
        holes = [(k, _turned(h, start, end) if h.surface == key else h) for k, h in holes]
        axis = 0 if start[0] == end[0] else 1
        plates.append((key, axis, start[axis]))
    faces = [_face(plate, size, step, names, holes) for plate in plates]
    return Box(size, tuple(faces), _mesh(names, faces), step, plane_border_m(shape))


def _turned(hole: Hole, start: Point, end: Point) -> Hole:
    """The hole with `along_m` counted up the wall's axis instead of along the edge."""
    axis = 1 if start[0] == end[0] else 0
    if end[axis] > start[axis]:
        return hole
    return replace(hole, along_m=start[axis] - hole.along_m - hole.width_m)


def _face(
    plate: tuple[str, int, float],
    size_m: tuple[float, float, float],
    step_m: float,
    names: tuple[str, ...],
    holes: list[tuple[int, Hole]],
) -> Face:
    name, axis, at_m = plate
    mine = [(index, hole) for index, hole in holes if hole.surface == name]
    first, second = (i for i in range(3) if i != axis)
    cuts_u = [c for _, h in mine for c in (h.along_m, h.along_m + h.width_m)]
    cuts_v = [c for _, h in mine for c in (h.sill_m, h.sill_m + h.height_m)]
    u, v = lines(size_m[first], cuts_u, step_m), lines(size_m[second], cuts_v, step_m)
    owner = owners(u, v, names.index(name), mine)
    return Face(name, axis, at_m, {first: u, second: v}, owner)


def _mesh(names: tuple[str, ...], faces: list[Face]) -> Mesh:
    ends = np.cumsum([0, *(face.cells for face in faces)]).tolist()
    exchange = np.zeros((ends[-1], ends[-1]))
    for i, j in combinations(range(len(faces)), 2):
        a, b = slice(ends[i], ends[i + 1]), slice(ends[j], ends[j + 1])
        block, shape = exchange_m2(faces[i], faces[j]), faces[i].owner.shape + faces[j].owner.shape
        exchange[a, b].reshape(shape)[...] = block
        exchange[b, a].reshape(shape[2:] + shape[:2])[...] = block.transpose(2, 3, 0, 1)
    return Mesh(
        surfaces=names,
        surface=np.concatenate([face.owner.ravel() for face in faces]),
        area_m2=np.concatenate([face.area_m2 for face in faces]),
        centre_m=np.concatenate([face.centre_m for face in faces]),
        exchange_m2=exchange,
    )
