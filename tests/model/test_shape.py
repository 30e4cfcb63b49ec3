"""The floor and walls of a room."""

from math import isclose

import pytest
from hypothesis import given
from shapely import Polygon as Reference

from housemap.model.house import Room
from housemap.model.shape import (
    box_m,
    floor_area_m2,
    floor_outline_m,
    is_measured,
    perimeter_m,
    wall_of,
    walls,
)
from tests.support.strategies import rooms

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
