"""Standing points and shares, by the words of the house file format."""

from math import atan, degrees, pi

import numpy as np
import pytest
from shapely import Point as ShapelyPoint
from shapely import Polygon

from housemap.plan.shares import views
from housemap.plan.stands import centroid, middle_of, standing_points
from tests.support.published_rooms import space_from

ELL = [[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [2.0, 3.0], [2.0, 5.0], [0.0, 5.0]]


def box(west: float, south: float, east: float, north: float) -> list[list[float]]:
    return [[west, south], [east, south], [east, north], [west, north]]


def test_the_grid_starts_in_from_the_south_west_and_keeps_clear_of_the_walls() -> None:
    points = standing_points(space_from({"room": box(10, 20, 11.1, 21.2)}, {}).rooms["room"])
    assert np.allclose(points, [(10.3, 20.3), (10.55, 20.3), (10.8, 20.3),
                                (10.3, 20.55), (10.55, 20.55), (10.8, 20.55),
                                (10.3, 20.8), (10.55, 20.8), (10.8, 20.8)])  # fmt: skip


def test_in_an_l_shape_the_inner_corner_is_kept_clear_of_too() -> None:
    points = standing_points(space_from({"room": ELL}, {}).rooms["room"])
    shape = Polygon(ELL)
    wanted = [
        (x, y)
        for y in np.arange(0.3, 5, 0.25)
        for x in np.arange(0.3, 4, 0.25)
        if shape.contains(ShapelyPoint(x, y))
        and shape.exterior.distance(ShapelyPoint(x, y)) >= 0.3 - 1e-9
    ]
    assert np.allclose(points, wanted)


def test_a_room_too_narrow_for_any_point_uses_its_middle() -> None:
    points = standing_points(space_from({"room": box(0, 0, 0.5, 4)}, {}).rooms["room"])
    assert points.tolist() == [[0.25, 2.0]]


def test_the_middle_is_the_centroid_or_that_of_the_largest_part() -> None:
    hook = [[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [8.9, 9.0], [8.9, 0.1], [0.0, 0.1]]
    assert centroid(tuple((x, y) for x, y in ELL)) == pytest.approx(
        (Polygon(ELL).centroid.x, Polygon(ELL).centroid.y)
    )
    space = space_from({"room": hook}, {})
    assert Polygon(hook).contains(ShapelyPoint(middle_of(space.rooms["room"])))


def test_the_share_seen_through_a_door_is_the_angle_worked_by_hand() -> None:
    """From the one point of a cell of 0.6 m, 0.3 m before an opening as wide without depth."""
    space = space_from(
        {"cell": box(0, 0, 0.6, 0.6), "room": box(0.6, -2, 5, 3)},
        {"door": [[0.6, 0.0], [0.6, 0.0], [0.6, 0.6], [0.6, 0.6]]},
    )
    seen = views(space, "cell")
    assert seen.shares == pytest.approx({"room": 0.25})
    assert seen.best["room"].at_m == pytest.approx((0.3, 0.3))
    assert seen.best["room"].toward_deg == pytest.approx(90.0)


def test_the_depth_of_the_wall_narrows_the_share() -> None:
    space = space_from(
        {"cell": box(0, 0, 0.6, 0.6), "room": box(0.8, -2, 5, 3)},
        {"door": [[0.6, 0.0], [0.8, 0.0], [0.8, 0.6], [0.6, 0.6]]},
    )
    half = atan(0.3 / 0.5)
    assert views(space, "cell").shares["room"] == pytest.approx(2 * half / (2 * pi))


def test_best_looks_to_the_middle_of_what_it_sees() -> None:
    space = space_from(
        {"cell": box(0, 0, 0.6, 0.6), "room": box(0.6, -2, 5, 3)},
        {"door": [[0.6, 0.3], [0.6, 0.3], [0.6, 0.6], [0.6, 0.6]]},
    )
    stand = views(space, "cell").best["room"]
    assert stand.toward_deg == pytest.approx(90 - degrees(pi / 8))
    assert stand.share == pytest.approx(1 / 8)


def test_rooms_in_view_at_once_are_told_by_their_largest_sets() -> None:
    space = space_from(
        {"a": box(0, 0, 4, 3), "b": box(4, 0, 8, 3), "c": box(0, 3, 4, 6)},
        {
            "ab": [[4, 1], [4, 1], [4, 2], [4, 2]],
            "ac": [[1, 3], [1, 3], [2, 3], [2, 3]],
        },
    )
    (together,) = views(space, "a").together
    assert together.rooms == {"b", "c"}
