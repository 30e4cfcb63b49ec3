"""A room of any outline as patches: exchange by rays, so that corners cast their shadows."""

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from housemap.colorimetry.arrays import Floats
from housemap.light import rays
from housemap.light.mesh import (
    PLANE_M,
    LampPlace,
    Mesh,
    Plane,
    Shape,
    cell_of,
    cuts_of,
    lines,
    owners,
    patch_size_m,
    plane_border_m,
    plane_lines,
)
from housemap.light.rays import GRID_M, inside_points
from housemap.light.view_factors import Ints
from housemap.model.house import Aim, Point


class Side(NamedTuple):
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
    cuts_u, cuts_v = cuts_of(holes)
    along = lines(float(np.hypot(*(end - start))), cuts_u, step_m)
    up = lines(shape.height_m, cuts_v, step_m)
    return Side(start, end, along, up, owners(along, up, 2 + edge, holes))


def _within(edges: Floats, cell: Ints, share: Floats) -> Floats:
    return edges[cell, None] + np.diff(edges)[cell, None] * share


class Strip(NamedTuple):
    """A trapezoid with two sides along y, as `columns` x `rows` patches.

    `low_m` and `high_m` are y at its west and east sides.
    """

    west_m: float
    east_m: float
    low_m: Point
    high_m: Point
    columns: int
    rows: int

    @property
    def cells(self) -> int:
        return self.columns * self.rows

    @property
    def area_m2(self) -> Floats:
        """Of each patch, columns first."""
        edges = np.linspace(0.0, 1.0, self.columns + 1)
        height = self._height(edges)
        column = (height[1:] + height[:-1]) / 2.0 * (self.east_m - self.west_m) / self.columns
        return np.repeat(column / self.rows, self.rows)

    def places(self, uniform: Floats) -> Floats:
        """Points spread evenly over each patch: (cells, K, 2) in 0..1 to the same."""
        edges = np.linspace(0.0, 1.0, self.columns + 1)
        height = self._height(edges)
        column, row = np.divmod(np.arange(self.cells)[:, None], self.rows)
        before, after = height[column], height[column + 1]
        share = uniform[..., 0]
        # Where the ends differ in height, more of the area lies toward the higher one.
        reach = np.sqrt(before**2 + share * (after**2 - before**2))
        within = share * (before + after) / (before + reach)
        across = edges[column] + within / self.columns
        up = (row + uniform[..., 1]) / self.rows
        x = self.west_m + across * (self.east_m - self.west_m)
        y = _mix(self.low_m, across) + up * self._height(across)
        return np.stack([x, y], axis=-1)

    def outside_m(self, place_m: Floats) -> Floats:
        """How far points lie outside, at most 0 within: (M, 2) to (M,)."""
        across = (place_m[:, 0] - self.west_m) / (self.east_m - self.west_m)
        beside = np.maximum(self.west_m - place_m[:, 0], place_m[:, 0] - self.east_m)
        below = _mix(self.low_m, across) - place_m[:, 1]
        above = place_m[:, 1] - _mix(self.high_m, across)
        return np.maximum(beside, np.maximum(below, above))

    def cell_of(self, place_m: Floats) -> Ints:
        """Which patch each of its points lies in."""
        across = (place_m[:, 0] - self.west_m) / (self.east_m - self.west_m)
        height = self._height(across)
        up = (place_m[:, 1] - _mix(self.low_m, across)) / np.where(height > 0.0, height, 1.0)
        column, row = _step(across, self.columns), _step(up, self.rows)
        return np.asarray(column * self.rows + row)

    def _height(self, across: Floats) -> Floats:
        return _mix(self.high_m, across) - _mix(self.low_m, across)


def _step(share: Floats, count: int) -> Ints:
    """Which of `count` equal steps from 0 to 1 a share lies in."""
    return np.minimum(np.maximum(share * count, 0.0), count - 1).astype(np.intp)


def strips(outline_m: Sequence[Point], step_m: float) -> tuple[Strip, ...]:
    """The trapezoids of a simple polygon, each gridded to `step_m` or less."""
    made = []
    for west, east in pairwise(sorted({x for x, _ in outline_m})):
        for low, high in _spans(outline_m, west, east):
            sides = east - west, max(high[0] - low[0], high[1] - low[1])
            columns, rows = (max(1, int(np.ceil(long / step_m - 1e-9))) for long in sides)
            made.append(Strip(west, east, low, high, columns, rows))
    return tuple(made)


def _spans(outline_m: Sequence[Point], west: float, east: float) -> list[tuple[Point, Point]]:
    """Lower and upper side of each piece of the polygon between two neighbouring corner x."""
    sides = []
    for (x0, y0), (x1, y1) in zip(outline_m, [*outline_m[1:], outline_m[0]], strict=True):
        if min(x0, x1) <= west and max(x0, x1) >= east:
            slope = (y1 - y0) / (x1 - x0)
            sides.append((y0 + slope * (west - x0), y0 + slope * (east - x0)))
    sides.sort(key=sum)
    return list(zip(sides[::2], sides[1::2], strict=True))


def _mix(ends: Point, across: Floats) -> Floats:
    return ends[0] + (ends[1] - ends[0]) * across


RAYS = 192
"""From each patch."""
WINDOW_RAYS = 16384
"""From each window, as all light by day comes through them."""


class Patches(NamedTuple):
    """Where the patches are: floor, ceiling, then wall by wall."""

    shape: Shape
    levels: tuple[Strip, ...]
    """Of the floor, and again of the ceiling."""
    sides: tuple[Side, ...]

    @property
    def level_cells(self) -> int:
        return sum(strip.cells for strip in self.levels)

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
                toward = _stretched(strip.cells, RAYS) * (1.0, 1.0, up)
                yield first + np.arange(strip.cells), start, toward
                first += strip.cells
        plain = [False] * (2 + len(self.sides))
        of_surface = np.array([*plain, *(hole.shines for hole in self.shape.holes)])
        for wall in self.sides:
            shines = of_surface[wall.owner.ravel()]
            more = max(RAYS, WINDOW_RAYS // max(shines.sum(), 1))
            for cells, number in ((np.flatnonzero(~shines), RAYS), (np.flatnonzero(shines), more)):
                if len(cells):
                    uniform = _stretches(len(cells), number)
                    toward = wall.inward(_stretched(len(cells), number))
                    yield first + cells, wall.places(cells, uniform[..., :2]), toward
            first += wall.owner.size


def _stretches(cells: int, number: int) -> Floats:
    """Points of the unit cube, (cells, number, 4)."""
    return rays.spread(cells * number, 4).reshape(cells, number, 4)


def _stretched(cells: int, number: int) -> Floats:
    """Directions, (cells, number, 3)."""
    return rays.cosine_spread(cells * number).reshape(cells, number, 3)


def at_level(plan_m: Floats, height_m: float) -> Floats:
    """Places in the plan, (..., 2), at a height: (..., 3)."""
    return np.concatenate([plan_m, np.full((*plan_m.shape[:-1], 1), height_m)], axis=-1)


LAMP_RAYS, PLANE_RAYS = 16384, 256
"""From each lamp, and from each cell of the working plane."""
BALANCED = 1e-13
BALANCING_ROUNDS = 500


class Prism(NamedTuple):
    """A room of any outline; its methods are those of `Box`."""

    patches: Patches
    mesh: Mesh

    def ends(self, start_m: Floats, toward: Floats) -> tuple[Ints, Floats]:
        hits = _cast(self.patches.shape, start_m, toward)
        return self.patches.at(hits), hits.place_m

    def lamp_shares(self, at_m: LampPlace, aim: Aim) -> Floats:
        uniform = rays.spread(LAMP_RAYS, 2)
        toward = rays.even_directions(uniform) if aim == "all" else rays.cosine_directions(uniform)
        if aim == "down":
            toward = -toward
        start = np.broadcast_to(np.array(at_m), toward.shape)
        ends = self.patches.at(_cast(self.patches.shape, start, toward))
        return np.bincount(ends, minlength=len(self.mesh.area_m2)) / len(toward)

    def plane(self) -> Plane | None:
        shape = self.patches.shape
        border = plane_border_m(shape)
        free = inside_points(shape.outline_m, border)
        if shape.height_m <= PLANE_M or not len(free):
            return None
        x, y, cell, mine = _plane_cells(free)
        count = np.bincount(mine)
        centre = np.stack([np.bincount(mine, part) / count for part in free.T], axis=-1)
        area = np.asarray(count * GRID_M**2, np.float64)
        exchange = self._seen_from(free[np.argsort(mine, kind="stable")], count) * area[:, None]
        plan = at_level(centre, PLANE_M)
        return Plane(x, y, cell, area, plan, exchange.astype(np.float32))

    def _seen_from(self, plan_m: Floats, count: Ints) -> Floats:
        """View factors to each patch, (cells, N), from cells of `count` points of `plan_m` each."""
        cells, patches = len(count), len(self.mesh.area_m2)
        uniform = rays.spread(cells * PLANE_RAYS, 3).reshape(cells, PLANE_RAYS, 3)
        pick = (np.cumsum(count) - count)[:, None]
        pick = pick + (uniform[..., 2] * count[:, None]).astype(np.intp)
        start = at_level(plan_m[pick].reshape(-1, 2), PLANE_M)
        toward = rays.cosine_directions(uniform[..., :2]).reshape(-1, 3)
        ends = self.patches.at(_cast(self.patches.shape, start, toward))
        pairs = np.repeat(np.arange(cells), PLANE_RAYS) * patches + ends
        seen = np.bincount(pairs, minlength=cells * patches).reshape(cells, patches)
        return seen / PLANE_RAYS


def prism(shape: Shape) -> Prism:
    step = patch_size_m(shape)
    walls = tuple(side(shape, i, step) for i in range(len(shape.wall_keys)))
    levels = strips(shape.outline_m, step)
    plan = [strip.places(np.full((strip.cells, 1, 2), 0.5))[:, 0] for strip in levels]
    floor, up = at_level(np.concatenate(plan), 0.0), np.array([0.0, 0.0, 1.0])
    surface = [np.repeat([0, 1], len(floor))]
    area = [strip.area_m2 for strip in (*levels, *levels)]
    centre = [floor, floor + shape.height_m * up]
    normal = [np.tile(way, (len(floor), 1)) for way in (up, -up)]
    for wall in walls:
        count = wall.owner.size
        surface.append(wall.owner.ravel())
        area.append(wall.area_m2)
        centre.append(wall.places(np.arange(count), np.full((count, 1, 2), 0.5))[:, 0])
        normal.append(np.tile(wall.inward(up), (count, 1)))
    patches, area_m2 = Patches(shape, levels, walls), np.concatenate(area)
    mesh = Mesh(
        shape.surfaces, np.concatenate(surface), area_m2, np.concatenate(centre),
        np.concatenate(normal), partial(_exchange, patches, area_m2),
    )  # fmt: skip
    return Prism(patches, mesh)


def _plane_cells(free_m: Floats) -> tuple[Floats, Floats, Ints, Ints]:
    """Lines in x and y of a grid over points, its cells (-1: no point) and the cell of each."""
    low, high = free_m.min(0) - GRID_M / 2.0, free_m.max(0) + GRID_M / 2.0
    x, y = (a + plane_lines(b - a) for a, b in zip(low, high, strict=True))
    at = cell_of(x, free_m[:, 0]) * (len(y) - 1) + cell_of(y, free_m[:, 1])
    used, mine = np.unique(at, return_inverse=True)
    cell = np.full((len(x) - 1) * (len(y) - 1), -1)
    cell[used] = np.arange(len(used))
    return x, y, cell.reshape(len(x) - 1, -1), mine


def _exchange(patches: Patches, area: Floats, kind: type[np.floating[Any]]) -> npt.NDArray[Any]:
    """Area times view factor from the rays between each two patches, counted both ways."""
    counts = np.zeros((len(area), len(area)))
    per_m2 = np.zeros(len(area))
    for cells, start, toward in patches.bundles():
        number = start.shape[1]
        ends = patches.at(_cast(patches.shape, start.reshape(-1, 3), toward.reshape(-1, 3)))
        pairs = np.repeat(np.arange(len(cells)), number) * len(area) + ends
        found = np.bincount(pairs, minlength=len(cells) * len(area))
        counts[cells] = found.reshape(len(cells), len(area))
        per_m2[cells] = number / area[cells]
    return balanced((counts + counts.T) / np.add.outer(per_m2, per_m2), area).astype(kind)


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
