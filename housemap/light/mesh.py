"""The inside of a room as patches; a rectangular room with every view factor in closed form."""

from collections.abc import Callable, Sequence
from dataclasses import field, replace
from functools import lru_cache, partial
from itertools import combinations, pairwise
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from housemap.colorimetry.arrays import Floats, Singles
from housemap.light import view_factors
from housemap.light.view_factors import Ints
from housemap.model.frozen import frozen
from housemap.model.house import Aim, Point

FLOOR, CEILING = "floor", "ceiling"
UP = 2
"""The axis."""
PATCH_M = 0.5
"""Largest side of a patch. On the box rooms of the tests it keeps each surface's mean illuminance
within 0.7 % of a mesh refined to the limit."""
PATCHES = 1000
"""Where a room would need more patches than this, they are made larger."""
EXCHANGES = 64
"""Rooms of which is kept what their patches exchange, about 0.5 MB each."""
NARROWEST_M = 0.002
"""Cuts of a surface nearer to each other than this are one."""
PLANE_M = 0.85
"""Height of the working plane (EN 17037; from memory)."""
PLANE_BORDER_M = 0.5
"""Left out of the working plane along each wall; in a narrow room a quarter of its width."""

PLANE_CELL_M = 0.6

LampPlace = tuple[float, float, float]


@frozen()
class Hole:
    """A rectangle in a surface that is a surface of its own: a window or an opening.

    On a wall `along_m` runs along the wall and `sill_m` up; on the floor or ceiling they are x and
    y of the near corner, and the sizes run the same ways.
    """

    name: str = field(compare=False)
    surface: str
    along_m: float
    sill_m: float
    width_m: float
    height_m: float
    shines: bool = False
    """Whether light comes in through it."""


class Shape(NamedTuple):
    """All that light between patches depends on; equal whatever its holes are called."""

    outline_m: tuple[Point, ...]
    """Counter-clockwise."""
    wall_keys: tuple[str, ...]
    """One for each edge."""
    height_m: float
    holes: tuple[Hole, ...] = ()

    @property
    def surfaces(self) -> tuple[str, ...]:
        """The names of all surfaces, in the order of `Mesh.surfaces`."""
        return FLOOR, CEILING, *self.wall_keys, *(hole.name for hole in self.holes)


@frozen(eq=False)
class Mesh:
    """Patches of an enclosure; `surface` says of each of N to which of `surfaces` it belongs."""

    surfaces: tuple[str, ...]
    """Of the first of all equal shapes; `Shape.surfaces` has each shape's own names."""
    surface: Ints
    area_m2: Floats
    centre_m: Floats
    normal: Floats
    """Into the room, (N, 3)."""
    exchange: Callable[[type[np.floating[Any]]], npt.NDArray[Any]]
    """Computes area times view factor, (N, N): symmetric, its rows add to the areas."""

    @property
    def exchange_m2(self) -> Singles:
        """The same, kept for a while: it is larger than all the rest."""
        return _exchange_m2(self)

    def surface_area_m2(self) -> Floats:
        return np.bincount(self.surface, self.area_m2, len(self.surfaces)).astype(np.float64)


@lru_cache(maxsize=EXCHANGES)
def _exchange_m2(mesh: Mesh) -> Singles:
    exchange: Singles = mesh.exchange(np.float32)
    exchange.flags.writeable = False
    return exchange


class Plane(NamedTuple):
    """The working plane: the floor's shape at PLANE_M, less a border, in P cells."""

    x_m: Floats
    y_m: Floats
    """Lines of the grid."""
    cell: Ints
    """The cell between each two lines, (x, y); -1 where the plane does not reach."""
    area_m2: Floats
    """(P,)."""
    centre_m: Floats
    """(P, 3)."""
    exchange_m2: Singles
    """Area times view factor, from each cell to each patch: (P, N)."""


def frame(shape: Shape, hole: Hole) -> tuple[Floats, Floats]:
    """The corner of a hole and its axes: along, up, and out of the room."""
    up = np.array([0.0, 0.0, 1.0])
    if hole.surface in {FLOOR, CEILING}:
        out = up if hole.surface == CEILING else -up
        z = shape.height_m if hole.surface == CEILING else 0.0
        return np.array([hole.along_m, hole.sill_m, z]), np.array([*np.eye(3)[:2], out])
    edge = shape.wall_keys.index(hole.surface)
    start, end = shape.outline_m[edge], shape.outline_m[(edge + 1) % len(shape.outline_m)]
    span = np.array([end[0] - start[0], end[1] - start[1], 0.0])
    along = span / np.hypot(span[0], span[1])
    origin = np.array([*start, hole.sill_m]) + along * hole.along_m
    return origin, np.array([along, up, [along[1], -along[0], 0.0]])


def lines(length_m: float, cuts_m: Sequence[float], step_m: float, *, level: bool = True) -> Floats:
    """Grid lines from 0 to `length_m` through every cut, no cell wider than `step_m`.

    Along `level` lines the cells at both ends are half as wide: light varies most beside an edge
    of the room. Up the walls of a box that gains nothing (measured against ray tracing).
    """
    stops = [0.0]
    for cut in sorted({*cuts_m, length_m}):
        if cut - stops[-1] > NARROWEST_M and (cut == length_m or length_m - cut > NARROWEST_M):
            stops.append(min(cut, length_m))
    stops[-1] = length_m
    parts = [np.zeros(1)]
    for start, end in pairwise(stops):
        widths = _widths(end - start, step_m, (level and start == 0.0, level and end == length_m))
        parts.append(start + (end - start) * np.cumsum(widths) / widths.sum())
    return np.concatenate(parts)


def _widths(length_m: float, step_m: float, at_edge: tuple[bool, bool]) -> Floats:
    """Relative widths of the cells between two stops, halved where they end at an edge."""
    count = max(1, int(np.ceil(length_m / step_m - 1e-9)))
    if not any(at_edge) or length_m < step_m / 2.0:
        return np.ones(count)
    widths = np.ones(count + 1)
    widths[0] = 0.5 if at_edge[0] else 1.0
    widths[-1] = 0.5 if at_edge[1] else 1.0
    return widths


def cuts_of(holes: Sequence[tuple[int, Hole]]) -> tuple[list[float], list[float]]:
    """Where holes begin and end, along their surface and up it."""
    along = [c for _, h in holes for c in (h.along_m, h.along_m + h.width_m)]
    return along, [c for _, h in holes for c in (h.sill_m, h.sill_m + h.height_m)]


def owners(u: Floats, v: Floats, surface: int, holes: Sequence[tuple[int, Hole]]) -> Ints:
    """The surface of each cell of a grid, (cells u, cells v): a hole's own where one is."""
    middle_u, middle_v = (u[1:] + u[:-1]) / 2.0, (v[1:] + v[:-1]) / 2.0
    of = np.full((len(middle_u), len(middle_v)), surface)
    for index, hole in holes:
        inside_u = np.abs(middle_u - hole.along_m - hole.width_m / 2.0) < hole.width_m / 2.0
        inside_v = np.abs(middle_v - hole.sill_m - hole.height_m / 2.0) < hole.height_m / 2.0
        of[inside_u[:, None] & inside_v[None, :]] = index
    return of


def cell_of(edges: Floats, place: Floats) -> Ints:
    """Which cell between lines each place is in; the nearest one where it is in none."""
    return np.searchsorted(edges[1:-1], place)


def patch_size_m(shape: Shape) -> float:
    """The step of the grid: PATCH_M, larger where that makes too many patches."""
    corners = np.array([*shape.outline_m, shape.outline_m[0]])
    around = np.hypot(*np.diff(corners, axis=0).T).sum()
    box = np.prod(np.ptp(corners, axis=0))
    return float(max(PATCH_M, np.sqrt((around * shape.height_m + 2.0 * box) / PATCHES)))


def plane_lines(length_m: float) -> Floats:
    """Of a grid over the working plane, from 0."""
    return np.linspace(0.0, length_m, 1 + max(1, int(np.ceil(length_m / PLANE_CELL_M - 1e-9))))


def plane_border_m(shape: Shape) -> float:
    box = np.ptp(np.array(shape.outline_m), axis=0)
    return float(min(PLANE_BORDER_M, box.min() / 4.0))


class Face(NamedTuple):
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

    @property
    def normal(self) -> Floats:
        """Of each cell, (cells, 3): a side at 0 looks up its axis, the other one down."""
        normal = np.zeros((self.cells, 3))
        normal[:, self.axis] = 1.0 if self.at_m == 0.0 else -1.0
        return normal


def exchange_m2(a: Face, b: Face) -> Floats:
    """Area times view factor of two faces' cells: (a u, a v, b u, b v)."""
    if a.axis == b.axis:
        (a_u, a_v), (b_u, b_v) = a.grid.values(), b.grid.values()
        return view_factors.parallel(a_u, a_v, b_u, b_v, abs(a.at_m - b.at_m))
    shared = 3 - a.axis - b.axis
    block = view_factors.perpendicular(
        a.grid[shared], np.abs(a.grid[b.axis] - b.at_m),
        b.grid[shared], np.abs(b.grid[a.axis] - a.at_m),
    )  # fmt: skip
    if shared > b.axis:
        block = block.swapaxes(0, 1)
    return block.swapaxes(2, 3) if shared > a.axis else block


def above_plane(face: Face) -> Face:
    """The face with what lies below the working plane folded away, cell by cell."""
    if face.axis == UP:
        return face
    return face._replace(grid=face.grid | {UP: np.maximum(face.grid[UP], PLANE_M)})


def lamp_on(face: Face, at_m: LampPlace, aim: Aim) -> Floats:
    """The share of a lamp's flux that falls on each cell: (cells u, cells v)."""
    (first, u), (second, v) = face.grid.items()
    gap = abs(face.at_m - at_m[face.axis])
    u, v = u - at_m[first], v - at_m[second]
    if aim == "all":
        return view_factors.even(u, v, gap)
    if face.axis != UP:
        return view_factors.lambertian_beside(u, -v if aim == "down" else v, gap)
    faces_it = (face.name == FLOOR) == (aim == "down")
    return view_factors.lambertian_facing(u, v, gap) if faces_it else np.zeros(face.owner.shape)


OFF_WALL_M = 0.001
"""A lamp at a wall is this far from it."""


@frozen(eq=False)
class Box:
    """A room whose walls are axis-aligned; `size_m` is x, y, z."""

    size_m: tuple[float, float, float]
    faces: tuple[Face, ...]
    mesh: Mesh
    border_m: float
    """Of the working plane."""

    def lamp_shares(self, at_m: LampPlace, aim: Aim) -> Floats:
        """The share of a lamp's flux that falls on each patch, (N,), in all 1."""
        x, y, z = np.clip(at_m, 0.0, self.size_m)
        x = np.clip(x, OFF_WALL_M, self.size_m[0] - OFF_WALL_M)
        y = np.clip(y, OFF_WALL_M, self.size_m[1] - OFF_WALL_M)
        shares = [lamp_on(face, (x, y, z), aim).ravel() for face in self.faces]
        return np.concatenate(shares)

    def plane(self) -> Plane | None:
        """The working plane; None in a room too low or too narrow for one."""
        if self.size_m[2] <= PLANE_M:
            return None
        x, y = (self.border_m + plane_lines(self.size_m[i] - 2.0 * self.border_m) for i in (0, 1))
        cell = np.arange((len(x) - 1) * (len(y) - 1)).reshape(len(x) - 1, len(y) - 1)
        plane = Face("plane", 2, PLANE_M, {0: x, 1: y}, cell)
        floor, *above = self.faces
        seen = [exchange_m2(plane, above_plane(f)).reshape(cell.size, f.cells) for f in above]
        exchange = np.concatenate([np.zeros((cell.size, floor.cells)), *seen], axis=1)
        exchange = exchange.astype(np.float32)
        return Plane(x, y, cell, plane.area_m2, plane.centre_m, exchange)


def corners_of_box(outline_m: tuple[Point, ...]) -> Point | None:
    """The far corner where the outline is an axis-aligned rectangle with a corner at 0, 0."""
    xs, ys = sorted({x for x, _ in outline_m}), sorted({y for _, y in outline_m})
    if len(outline_m) == 4 and len(xs) == len(ys) == 2 and (xs[0], ys[0]) == (0.0, 0.0):  # noqa: PLR2004 - a rectangle
        return xs[1], ys[1]
    return None


def box(shape: Shape) -> Box:
    """Mesh a rectangular shape (see `corners_of_box`)."""
    step = patch_size_m(shape)
    far = corners_of_box(shape.outline_m)
    assert far is not None
    size = (*far, shape.height_m)
    names = shape.surfaces
    holes = list(enumerate(shape.holes, start=2 + len(shape.wall_keys)))
    plates = [(FLOOR, 2, 0.0), (CEILING, 2, size[2])]
    for i, key in enumerate(shape.wall_keys):
        start, end = shape.outline_m[i], shape.outline_m[(i + 1) % 4]
        axis = 0 if start[0] == end[0] else 1
        plates.append((key, axis, start[axis]))
        if end[1 - axis] < start[1 - axis]:  # a hole is counted up the axis, not along the edge
            holes = [(k, _turned(h, start[1 - axis]) if h.surface == key else h) for k, h in holes]
    faces = [_face(plate, size, step, names, holes) for plate in plates]
    mesh = Mesh(
        names, np.concatenate([face.owner.ravel() for face in faces]),
        np.concatenate([face.area_m2 for face in faces]),
        np.concatenate([face.centre_m for face in faces]),
        np.concatenate([face.normal for face in faces]), partial(_exchange_of, faces),
    )  # fmt: skip
    return Box(size, tuple(faces), mesh, plane_border_m(shape))


def _turned(hole: Hole, start_m: float) -> Hole:
    return replace(hole, along_m=start_m - hole.along_m - hole.width_m)


def _face(
    plate: tuple[str, int, float], size_m: tuple[float, float, float], step_m: float,
    names: tuple[str, ...], holes: list[tuple[int, Hole]],
) -> Face:  # fmt: skip
    name, axis, at_m = plate
    mine = [(index, hole) for index, hole in holes if hole.surface == name]
    first, second = (i for i in range(3) if i != axis)
    cuts_u, cuts_v = cuts_of(mine)
    u = lines(size_m[first], cuts_u, step_m)
    v = lines(size_m[second], cuts_v, step_m, level=second != UP)
    owner = owners(u, v, names.index(name), mine)
    return Face(name, axis, at_m, {first: u, second: v}, owner)


def _exchange_of(faces: Sequence[Face], kind: type[np.floating[Any]]) -> npt.NDArray[Any]:
    ends = np.cumsum([0, *(face.cells for face in faces)]).tolist()
    exchange = np.zeros((ends[-1], ends[-1]), kind)
    for i, j in combinations(range(len(faces)), 2):
        a, b = slice(ends[i], ends[i + 1]), slice(ends[j], ends[j + 1])
        block, shape = exchange_m2(faces[i], faces[j]), faces[i].owner.shape + faces[j].owner.shape
        exchange[a, b].reshape(shape)[...] = block
        exchange[b, a].reshape(shape[2:] + shape[:2])[...] = block.transpose(2, 3, 0, 1)
    return exchange
