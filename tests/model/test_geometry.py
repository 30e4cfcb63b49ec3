"""Polygons, against shapely."""

from math import cos, isclose, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon as Reference

from housemap.model.geometry import (
    Polygon,
    box_m,
    floor_area_m2,
    floor_outline_m,
    is_measured,
    is_simple,
    overlap_area_m2,
    perimeter_m,
    signed_area_m2,
    wall_of,
    walls,
)
from housemap.model.house import Room
from tests.support.strategies import rooms

coordinates = st.integers(0, 8).map(float)
points = st.tuples(coordinates, coordinates)
any_polygons = st.lists(points, min_size=3, max_size=7).map(tuple)


@st.composite
def stars(draw: st.DrawFn) -> Polygon:
    """Draw a simple polygon: corners at rising angles around a middle."""
    x, y = draw(points)
    radii = draw(st.lists(st.integers(1, 50), min_size=3, max_size=8))
    angles = [2 * pi * i / len(radii) for i in range(len(radii))]
    return tuple(
        (x + r / 10 * cos(a), y + r / 10 * sin(a)) for r, a in zip(radii, angles, strict=True)
    )


@given(any_polygons)
def test_area_and_simplicity_are_those_of_shapely(polygon: Polygon) -> None:
    reference = Reference(polygon)
    whole = reference.is_valid and len(set(polygon)) == len(polygon)
    assert is_simple(polygon) == whole
    if whole:
        assert abs(signed_area_m2(polygon)) == reference.area


@given(stars(), stars())
def test_the_shared_area_is_that_of_shapely(one: Polygon, other: Polygon) -> None:
    expected = Reference(one).intersection(Reference(other)).area
    assert abs(overlap_area_m2(one, other) - expected) < 1e-9


def test_a_straight_corner_is_simple_and_a_spike_is_not() -> None:
    assert is_simple(((0, 0), (1, 0), (2, 0), (2, 2), (0, 2)))
    assert not is_simple(((0, 0), (3, 0), (2, 0), (2, 2), (0, 2)))
    assert not is_simple(((0, 0), (2, 2), (2, 0), (0, 2)))


# The floor and walls of a room.

ELL = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (2.0, 3.0), (2.0, 5.0), (0.0, 5.0))
"""The outline in house-format.md: 4 x 3 m and 2 x 2 m."""


def test_a_size_room_counts_along_its_walls_from_west_and_south() -> None:
    room = Room("Hall", size_m=(1.8, 5.2))
    assert [(w.key, w.start_m, w.end_m, w.length_m) for w in walls(room)] == [
        ("n", (0, 5.2), (1.8, 5.2), 1.8),
        ("e", (1.8, 0), (1.8, 5.2), 5.2),
        ("s", (0, 0), (1.8, 0), 1.8),
        ("w", (0, 0), (0, 5.2), 5.2),
    ]
    north = wall_of(room, "n")
    assert north is not None
    assert north.at(0.6) == pytest.approx((0.6, 5.2))


def test_an_outline_room_counts_its_edges_from_point_0() -> None:
    room = Room("Lounge", outline_m=ELL)
    assert [wall.key for wall in walls(room)] == ["0", "1", "2", "3", "4", "5"]
    assert walls(room)[2].start_m == (4.0, 3.0)
    assert walls(room)[5].end_m == (0.0, 0.0)
    assert floor_area_m2(room) == 4 * 3 + 2 * 2
    assert perimeter_m(room) == 18


def test_the_origin_is_the_south_west_corner_of_the_box_wherever_points_are_counted_from() -> None:
    away = tuple((x + 7.0, y - 2.0) for x, y in ELL)
    assert floor_outline_m(Room("Lounge", outline_m=away)) == ELL
    assert box_m(Room("Lounge", outline_m=away)) == (4, 5)


def test_an_unmeasured_room_has_no_walls() -> None:
    room = Room("Loft")
    assert walls(room) == ()
    assert (floor_outline_m(room), floor_area_m2(room), perimeter_m(room), box_m(room)) == (
        None, None, None, None,
    )  # fmt: skip


@given(rooms([], []))
def test_area_and_perimeter_are_those_of_shapely(room: Room) -> None:
    outline = floor_outline_m(room)
    if outline is None:
        assert not is_measured(room)
        return
    reference = Reference(outline)
    assert isclose(floor_area_m2(room) or 0, reference.area)
    assert isclose(perimeter_m(room) or 0, reference.length)
    assert reference.exterior.is_ccw
