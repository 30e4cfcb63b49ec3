"""The inside of a room as patches: what the two kinds of enclosure (box, prism) have in common."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Protocol

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.factors import Ints
from housemap.light.rays import Hits
from housemap.model.house import Aim, Point

FLOOR, CEILING = "floor", "ceiling"
PATCH_M = 0.5
"""Largest side of a patch. On the box rooms of the tests it keeps each surface's mean illuminance
within 0.7 % of a mesh refined to the limit."""
PATCHES = 1000
"""Where a room would need more patches than this, they are made larger."""
NARROWEST_M = 0.002
"""Cuts of a surface nearer to each other than this are one."""
PLANE_M = 0.85
"""Height of the working plane (EN 17037; from memory)."""
PLANE_BORDER_M = 0.5
"""Left out of the working plane along each wall; in a narrow room a quarter of its width."""

LampPlace = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Hole:
    """A rectangle in a surface that is a surface of its own: a window or an opening.

    On a wall `along_m` runs along the wall and `sill_m` up; on the floor or ceiling they are x and
    y of the near corner, and the sizes run the same ways.
    """

    name: str
    surface: str
    along_m: float
    sill_m: float
    width_m: float
    height_m: float
    shines: bool = False
    """Whether light comes in through it."""


@dataclass(frozen=True, slots=True)
class Shape:
    """All that the exchange of light between patches depends on; compares by value."""

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

    def nameless(self) -> "Shape":
        """The same shape, its holes told by number."""
        holes = (replace(hole, name=str(number)) for number, hole in enumerate(self.holes))
        return replace(self, holes=tuple(holes))


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Patches of an enclosure.

    `surface` says for each of N patches which of `surfaces` it belongs to; `exchange_m2` (N, N) is
    area times view factor, symmetric, its rows adding to the areas.
    """

    surfaces: tuple[str, ...]
    surface: Ints
    area_m2: Floats
    centre_m: Floats
    exchange_m2: Floats

    def surface_area_m2(self) -> Floats:
        return np.bincount(self.surface, self.area_m2, len(self.surfaces)).astype(np.float64)


@dataclass(frozen=True, slots=True, eq=False)
class Plane:
    """The working plane: the floor's shape at PLANE_M, less a border."""

    border_m: float
    area_m2: float
    factors: Floats
    """View factors from the plane to each patch, (N,)."""


class Enclosure(Protocol):
    """A room's inside: the exchange between its patches, and what shines into it."""

    @property
    def mesh(self) -> Mesh: ...

    @property
    def patch_m(self) -> float:
        """Largest side of a patch as meshed."""
        ...

    @property
    def exact(self) -> bool:
        """Whether the exchange is in closed form."""
        ...

    def called(self, surfaces: tuple[str, ...]) -> "Enclosure":
        """The same with other names for its surfaces."""
        ...

    def lamp_shares(self, at_m: LampPlace, aim: Aim) -> Floats:
        """The share of a lamp's flux that falls on each patch, (N,), in all 1."""
        ...

    def plane(self) -> Plane | None:
        """The working plane; None in a room too low or too narrow for one."""
        ...

    def patch_of(self, hits: Hits) -> Ints:
        """The patch that each ray ends on."""
        ...


def lines(length_m: float, cuts_m: Sequence[float], step_m: float) -> Floats:
    """Grid lines from 0 to `length_m` through every cut, no cell wider than `step_m`.

    Cells at both ends are half as wide: light varies most beside an edge of the room.
    """
    stops = [0.0]
    for cut in sorted({*cuts_m, length_m}):
        if cut - stops[-1] > NARROWEST_M and (cut == length_m or length_m - cut > NARROWEST_M):
            stops.append(min(cut, length_m))
    stops[-1] = length_m
    parts = [np.zeros(1)]
    for start, end in pairwise(stops):
        widths = _widths(end - start, step_m, (start == 0.0, end == length_m))
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
    return np.clip(np.searchsorted(edges, place) - 1, 0, len(edges) - 2)


def patch_size_m(shape: Shape) -> float:
    """The step of the grid: PATCH_M, larger where that makes too many patches."""
    corners = np.array([*shape.outline_m, shape.outline_m[0]])
    around = np.hypot(*np.diff(corners, axis=0).T).sum()
    box = np.prod(np.ptp(corners, axis=0))
    return float(max(PATCH_M, np.sqrt((around * shape.height_m + 2.0 * box) / PATCHES)))


def plane_border_m(shape: Shape) -> float:
    box = np.ptp(np.array(shape.outline_m), axis=0)
    return float(min(PLANE_BORDER_M, box.min() / 4.0))
