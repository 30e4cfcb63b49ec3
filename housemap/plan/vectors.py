"""Plane vectors as pairs of floats: x to plan-east, y to plan-north, metres."""

from math import cos, hypot, radians, sin

from housemap.model.geometry import Box, Polygon
from housemap.model.house import Point

Segment = tuple[Point, Point]


def plus(a: Point, b: Point) -> Point:
    return a[0] + b[0], a[1] + b[1]


def minus(a: Point, b: Point) -> Point:
    return a[0] - b[0], a[1] - b[1]


def scaled(a: Point, by: float) -> Point:
    return a[0] * by, a[1] * by


def dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Point, b: Point) -> float:
    """Above 0 where `b` lies to the left of `a`."""
    return a[0] * b[1] - a[1] * b[0]


def unit(a: Point) -> Point:
    """`a` at length 1; (0, 0) stays."""
    length = hypot(*a)
    return scaled(a, 1 / length) if length else a


def middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def moved_segment(segment: Segment, by: Point) -> Segment:
    return plus(segment[0], by), plus(segment[1], by)


def box_points(box: Box) -> Polygon:
    """Its corners, counter-clockwise from the south-west."""
    west, south, east, north = box
    return (west, south), (east, south), (east, north), (west, north)


def direction(toward_deg: float) -> Point:
    """The unit vector of a bearing clockwise from plan-north."""
    return sin(radians(toward_deg)), cos(radians(toward_deg))
