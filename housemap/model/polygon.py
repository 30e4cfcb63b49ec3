"""Plane polygons as tuples of points, in metres: no cleverness, exact for straight edges."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from housemap.model.house import Point

Polygon = tuple[Point, ...]
Box = tuple[float, float, float, float]
"""West, south, east, north."""


def edges(polygon: Polygon) -> Iterator[tuple[Point, Point]]:
    """Yield each edge from point i to point i + 1; the last one closes the polygon."""
    return zip(polygon, (*polygon[1:], *polygon[:1]), strict=True)


def signed_area_m2(polygon: Polygon) -> float:
    """Return the area, positive when the points run counter-clockwise (shoelace formula)."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in edges(polygon)) / 2


def box_of(polygon: Polygon) -> Box:
    xs, ys = zip(*polygon, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def moved(polygon: Polygon, by: Point) -> Polygon:
    return tuple((x + by[0], y + by[1]) for x, y in polygon)


def is_simple(polygon: Polygon) -> bool:
    """Whether no edge has length 0 and no two edges touch but neighbours at their common point."""
    sides = tuple(edges(polygon))
    if any(a == b for a, b in sides):
        return False
    last = len(sides) - 1
    for i, (a, b) in enumerate(sides):
        for j in range(i + 1, len(sides)):
            c, d = sides[j]
            if j == i + 1 or (i == 0 and j == last):
                fold = (a, b, d) if j == i + 1 else (c, d, b)
                if _turn(*fold) == 0 and _folds_back(*fold):
                    return False
            elif _touch(a, b, c, d):
                return False
    return True


def overlap_area_m2(one: Polygon, other: Polygon) -> float:
    """Return the area that two simple polygons share.

    Between two neighbouring heights at which an edge starts, ends or crosses another, the shared
    width is linear in y, so that its value half-way times the height is the area there.
    """
    heights = sorted({y for _, y in (*one, *other)} | set(_crossing_heights(one, other)))
    return sum(
        (high - low) * _shared(_spans(one, (low + high) / 2), _spans(other, (low + high) / 2))
        for low, high in pairwise(heights)
    )


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return twice the signed area of a, b, c: positive for a left turn at b."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _folds_back(a: Point, b: Point, c: Point) -> bool:
    return (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) < 0


def _touch(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether segments ab and cd share a point."""
    ab_c, ab_d, cd_a, cd_b = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if ab_c * ab_d < 0 and cd_a * cd_b < 0:
        return True
    return (
        (ab_c == 0 and _within(c, a, b))
        or (ab_d == 0 and _within(d, a, b))
        or (cd_a == 0 and _within(a, c, d))
        or (cd_b == 0 and _within(b, c, d))
    )


def _within(p: Point, a: Point, b: Point) -> bool:
    """Whether p, known to lie on the line ab, lies between a and b."""
    return min(a[0], b[0]) <= p[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= p[1] <= max(a[1], b[1])


def _crossing_heights(one: Polygon, other: Polygon) -> Iterator[float]:
    for a, b in edges(one):
        for c, d in edges(other):
            slope = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
            if slope:
                t = _turn_from(a, c, d) / slope
                if 0 < t < 1:
                    yield a[1] + t * (b[1] - a[1])


def _turn_from(a: Point, c: Point, d: Point) -> float:
    return (c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])


def _spans(polygon: Polygon, y: float) -> list[tuple[float, float]]:
    """Return the stretches of the horizontal line at y that lie inside."""
    xs = sorted(
        a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        for a, b in edges(polygon)
        if (a[1] > y) != (b[1] > y)
    )
    return list(zip(xs[::2], xs[1::2], strict=True))


def _shared(one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]]) -> float:
    return sum(max(0.0, min(b, d) - max(a, c)) for a, b in one for c, d in other)
