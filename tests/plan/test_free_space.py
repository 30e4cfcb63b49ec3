"""Outlines cut into convex parts; shapely as the reference for areas."""

from itertools import pairwise
from math import cos, pi, sin
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, union_all

from housemap.model.house import Point
from housemap.plan.free_space import convex_parts

ELL = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (2.0, 3.0), (2.0, 5.0), (0.0, 5.0))
CROSS = (
    (1.0, 0.0), (2.0, 0.0), (2.0, 1.0), (3.0, 1.0), (3.0, 2.0), (2.0, 2.0),
    (2.0, 3.0), (1.0, 3.0), (1.0, 2.0), (0.0, 2.0), (0.0, 1.0), (1.0, 1.0),
)  # fmt: skip


def star(random: Random, corners: int) -> tuple[Point, ...]:
    """A simple polygon seen whole from its middle, corners at random distances."""
    turns = [2 * pi * (i + random.uniform(0.1, 0.9)) / corners for i in range(corners)]
    reach = [random.uniform(1, 6) for _ in turns]
    return tuple((r * cos(t), r * sin(t)) for r, t in zip(reach, turns, strict=True))


def is_convex(polygon: tuple[Point, ...]) -> bool:
    ring = Polygon(polygon)
    return bool(ring.convex_hull.area - ring.area < 1e-9)


def test_a_box_is_one_part_and_keeps_its_walls() -> None:
    parts, gaps = convex_parts(((0.0, 0.0), (5.0, 0.0), (5.0, 4.0), (0.0, 4.0)))
    assert gaps == ()
    assert parts[0].walls == (0, 1, 2, 3)


def test_an_l_shape_is_cut_once_along_its_shorter_wall() -> None:
    parts, gaps = convex_parts(ELL)
    assert len(parts) == 2
    assert gaps[0].segment_m in {((2.0, 3.0), (0.0, 3.0)), ((0.0, 3.0), (2.0, 3.0))}
    assert sorted(wall for part in parts for wall in part.walls if wall is not None) == [
        0, 1, 2, 3, 4, 5, 5,
    ]  # fmt: skip


def test_a_cross_hangs_together() -> None:
    parts, gaps = convex_parts(CROSS)
    assert union_all([Polygon(part.points) for part in parts]).equals(Polygon(CROSS))
    assert len(gaps) == len(parts) - 1


@given(st.integers(0, 2**32), st.integers(3, 11))
def test_any_outline_becomes_convex_parts_that_fill_it_and_share_their_gaps(
    seed: int, corners: int
) -> None:
    outline = star(Random(seed), corners)
    parts, gaps = convex_parts(outline)
    polygons = [Polygon(part.points) for part in parts]
    assert all(is_convex(part.points) for part in parts)
    assert sum(polygon.area for polygon in polygons) == pytest.approx(Polygon(outline).area)
    joined = union_all([polygon.buffer(1e-9) for polygon in polygons])
    assert joined.symmetric_difference(Polygon(outline)).area < 1e-5
    for gap in gaps:
        line = LineString(gap.segment_m)
        for part in (gap.a, gap.b):
            assert polygons[part].exterior.buffer(1e-6).covers(line)


@given(st.integers(0, 2**32), st.integers(3, 11))
def test_every_wall_of_the_outline_is_kept_in_full(seed: int, corners: int) -> None:
    outline = star(Random(seed), corners)
    parts, _ = convex_parts(outline)
    length = dict.fromkeys(range(corners), 0.0)
    for part in parts:
        ring = (*part.points, part.points[0])
        for wall, (a, b) in zip(part.walls, pairwise(ring), strict=True):
            if wall is not None:
                length[wall] += LineString((a, b)).length
    closed = (*outline, outline[0])
    for wall, (a, b) in enumerate(pairwise(closed)):
        assert length[wall] == pytest.approx(LineString((a, b)).length)
