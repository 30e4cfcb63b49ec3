"""Where one stands in a room: the grid of standing points of the house file format; numpy."""

from math import floor

import numpy as np
from numpy.typing import NDArray

from housemap.model.house import Point
from housemap.model.polygon import Polygon, box_of, edges, signed_area_m2
from housemap.plan.space import SpaceRoom
from housemap.plan.vectors import cross, plus, scaled

GRID_M = 0.25
CLEAR_M = 0.3
"""Points keep this far from the walls, and the grid starts so far in from the box."""
_SLACK_M = 1e-6

Floats = NDArray[np.float64]


def standing_points(room: SpaceRoom) -> Floats:
    """Points in plan coordinates, shape (n, 2): from the south row up, each from the west.

    A room too narrow for any has its middle.
    """
    west, south, east, north = box_of(room.outline_m)
    xs, ys = _grid(west, east), _grid(south, north)
    points = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    if not _is_box(room.outline_m):
        points = points[_inside(room.outline_m, points) & _clear(room.outline_m, points)]
    return points if len(points) else np.array([middle_of(room)])


def middle_of(room: SpaceRoom) -> Point:
    """The centroid of the floor, or of its largest convex part where that lies outside."""
    centre = centroid(room.outline_m)
    if bool(_inside(room.outline_m, np.array([centre]))[0]):
        return centre
    largest = max(room.parts, key=lambda part: signed_area_m2(part.points))
    return centroid(largest.points)


def centroid(polygon: Polygon) -> Point:
    """The centre of gravity of a polygon (Green's theorem), by its first corner's frame."""
    x0, y0 = polygon[0]
    own = tuple((x - x0, y - y0) for x, y in polygon)
    total: Point = (0.0, 0.0)
    for a, b in edges(own):
        total = plus(total, scaled(plus(a, b), cross(a, b)))
    return plus((x0, y0), scaled(total, 1 / (6 * signed_area_m2(own))))


def _grid(low: float, high: float) -> Floats:
    steps = floor((high - low - 2 * CLEAR_M + _SLACK_M) / GRID_M)
    return low + CLEAR_M + GRID_M * np.arange(steps + 1, dtype=np.float64)


def _is_box(outline: Polygon) -> bool:
    return len(outline) == 4 and all(  # noqa: PLR2004 a box has four sides
        a[0] == b[0] or a[1] == b[1] for a, b in edges(outline)
    )


def _inside(outline: Polygon, points: Floats) -> NDArray[np.bool_]:
    """Whether a line to the east crosses the outline an odd number of times."""
    x, y = points[:, 0], points[:, 1]
    odd = np.zeros(len(points), dtype=np.bool_)
    for (ax, ay), (bx, by) in edges(outline):
        if ay != by:
            odd ^= ((ay > y) != (by > y)) & (x < ax + (y - ay) / (by - ay) * (bx - ax))
    return odd


def _clear(outline: Polygon, points: Floats) -> NDArray[np.bool_]:
    """Whether no wall is nearer than CLEAR_M."""
    clear = np.ones(len(points), dtype=np.bool_)
    for a, b in edges(outline):
        start, run = np.array(a), np.array(b) - np.array(a)
        along = np.clip((points - start) @ run / (run @ run), 0.0, 1.0)
        nearest = start + along[:, None] * run
        clear &= np.linalg.norm(points - nearest, axis=-1) >= CLEAR_M - _SLACK_M
    return clear
