"""What one sees from one standing point, as polygons in the plan; pure Python."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from housemap.model.house import Point
from housemap.model.polygon import Polygon, edges
from housemap.plan.space import PartKey, Passage, Space, part_at
from housemap.plan.vectors import cross, direction, dot, minus, plus, scaled
from housemap.plan.ways import DEPTH

_EDGE_M2 = 1e-9

Wedge = tuple[Point, Point]
"""Directions of its right and its left side."""


@dataclass(frozen=True, slots=True)
class Region:
    """A convex piece of the floor that is seen; counter-clockwise."""

    room: str | None
    """None within the thickness of a wall."""
    opening: str | None
    """The opening whose depth it lies in, or through which it is seen; None in one's own room."""
    outline_m: Polygon


def regions(space: Space, room: str, at_m: Point) -> tuple[Region, ...]:
    """The visibility polygon (isovist, Benedikt 1979) of a point in a room, in pieces.

    Empty where the point does not lie in the room.
    """
    start = part_at(space, room, at_m)
    return tuple(_from(space, at_m, (start,), None, ())) if start else ()


def in_field(
    found: Iterable[Region], eye: Point, toward_deg: float, field_deg: float
) -> tuple[Region, ...]:
    """What of the regions lies in a field of view of less than half a turn."""
    right, left = (direction(toward_deg + side * field_deg / 2) for side in (1, -1))
    cut = ((each, clipped(each.outline_m, eye, (right, left))) for each in found)
    return tuple(replace(each, outline_m=outline) for each, outline in cut if outline)


def _from(
    space: Space,
    eye: Point,
    parts: tuple[PartKey, ...],
    wedge: Wedge | None,
    openings: tuple[str, ...],
) -> Iterator[Region]:
    """The last part as far as the wedge shows it, and what its passages show."""
    part = space.part(parts[-1])
    seen = clipped(part.points, eye, wedge)
    if seen:
        yield Region(parts[-1][0], openings[-1] if openings else None, seen)
    for passage in part.passages:
        if passage.to in parts or (passage.opening and len(openings) == DEPTH):
            continue
        mouth = _narrowed(eye, wedge, passage.rights[:1], passage.lefts[:1])
        if mouth is None:
            continue
        if passage.opening:
            depth = clipped(_quad(passage), eye, mouth)
            if depth:
                yield Region(None, passage.opening, depth)
        beyond = _narrowed(eye, mouth, passage.rights[1:], passage.lefts[1:])
        if beyond:
            longer = (*openings, passage.opening) if passage.opening else openings
            yield from _from(space, eye, (*parts, passage.to), beyond, longer)


def _quad(passage: Passage) -> Polygon:
    (near_left, far_left), (near_right, far_right) = passage.lefts, passage.rights
    return near_left, near_right, far_right, far_left


def _narrowed(
    eye: Point, wedge: Wedge | None, rights: tuple[Point, ...], lefts: tuple[Point, ...]
) -> Wedge | None:
    """The wedge within the ends; None where nothing is left of it."""
    right, left = wedge or (minus(rights[0], eye), minus(lefts[0], eye))
    for end in rights:
        if cross(right, minus(end, eye)) > 0:
            right = minus(end, eye)
    for end in lefts:
        if cross(left, minus(end, eye)) < 0:
            left = minus(end, eye)
    turn = cross(right, left)
    half_turn = abs(turn) <= _EDGE_M2 and dot(right, left) < 0
    return (right, left) if turn > _EDGE_M2 or half_turn else None


def clipped(polygon: Polygon, eye: Point, wedge: Wedge | None) -> Polygon:
    """A convex polygon within a wedge at the eye; empty where they do not meet."""
    if wedge is None:
        return polygon
    right, left = wedge
    return _half(_half(polygon, eye, right), eye, scaled(left, -1))


def _half(polygon: Polygon, start: Point, direction: Point) -> Polygon:
    """What lies to the left of a line (one step of Sutherland & Hodgman 1974)."""
    kept: list[Point] = []
    for a, b in edges(polygon) if polygon else ():
        side_a, side_b = cross(direction, minus(a, start)), cross(direction, minus(b, start))
        if side_a >= 0:
            kept.append(a)
        if (side_a > 0 > side_b) or (side_a < 0 < side_b):
            kept.append(plus(a, scaled(minus(b, a), side_a / (side_a - side_b))))
    return tuple(kept) if len(kept) > 2 else ()  # noqa: PLR2004 a polygon has three corners
