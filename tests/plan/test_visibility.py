"""Standing points, shares and visibility polygons.

By the words of the house file format and against published isovists; the data files name their
sources.
"""

from collections.abc import Iterable, Sequence
from math import atan, cos, degrees, pi, radians, sin
from random import Random
from statistics import mean, stdev
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, union_all
from shapely import Point as ShapelyPoint

from housemap.plan.free_space import Space
from housemap.plan.sightings import ways
from housemap.plan.visibility import (
    centroid,
    in_field,
    middle_of,
    regions,
    standing_points,
    views,
)
from tests.support.published_rooms import published, space_from

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
    assert together == {"b", "c"}


ISOVISTS = published("isovist")["cases"]
HOUSES = published("rooms_that_see_each_other")["cases"]
VIEWS = [(case, view) for case in HOUSES for view in case["isovists"]]


def seen_from(space: Space, at: list[float]) -> list[Polygon]:
    """From whichever room the point lies in."""
    found = (regions(space, room, (at[0], at[1])) for room in space.rooms)
    return [Polygon(each) for each in next(filter(None, found))]


def area(found: Iterable[Polygon]) -> float:
    return float(sum(shape.area for shape in found))


def area_in(room: Sequence[Sequence[float]], found: Iterable[Polygon]) -> float:
    return area(shape.intersection(Polygon(room)) for shape in found)


@pytest.mark.parametrize("case", ISOVISTS, ids=lambda case: str(case["name"]))
def test_the_isovist_of_one_room_is_the_published_one(case: dict[str, Any]) -> None:
    space = space_from({"room": case["walls"]}, {})
    found = seen_from(space, case["viewpoint"])
    assert area(found) == pytest.approx(case["area"], abs=1e-6)
    if "isovist" in case:
        joined = union_all(found)
        wanted = Polygon(case["isovist"])
        assert joined.symmetric_difference(wanted).area < 1e-9
        assert joined.length == pytest.approx(case["perimeter"], abs=1e-6)


@pytest.mark.parametrize(("case", "view"), VIEWS, ids=lambda each: str(each.get("name", "view")))
def test_isovist_areas_are_those_of_three_other_programs(
    case: dict[str, Any], view: dict[str, Any]
) -> None:
    space = space_from(case["rooms"], case["openings"])
    found = seen_from(space, view["viewpoint"])
    assert area(found) == pytest.approx(view["area"], abs=1e-4)
    for room, expected in view["area_by_room"].items():
        assert area_in(case["rooms"][room], found) == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize("case", HOUSES, ids=lambda case: str(case["name"]))
def test_the_published_pairs_see_each_other_and_no_others(case: dict[str, Any]) -> None:
    space = space_from(case["rooms"], case["openings"])
    wanted = {
        tuple(sorted((pair["a"], pair["b"])))
        for pair in case["room_pairs"]
        if pair["see_each_other"]
    }
    assert set(ways(space)) == wanted


@pytest.mark.parametrize("case", HOUSES, ids=lambda case: str(case["name"]))
def test_the_published_share_of_a_wall_is_seen(case: dict[str, Any]) -> None:
    space = space_from(case["rooms"], case["openings"])
    for view in case["wall_visible_share"]:
        wall = LineString(view["segment"])
        shapes = [shape.buffer(1e-7) for shape in seen_from(space, view["viewpoint"])]
        seen = union_all(shapes).intersection(wall).length
        assert seen / wall.length == pytest.approx(view["visible_share"], abs=0.002)


@pytest.mark.parametrize("case", HOUSES, ids=lambda case: str(case["name"]))
def test_random_points_see_each_other_as_often_as_published(case: dict[str, Any]) -> None:
    """A point of A sees a point of B with the probability (area seen of B) / (area of B)."""
    space = space_from(case["rooms"], case["openings"])
    random = Random(5)
    for pair in case["room_pairs"]:
        (west, south), (east, north) = case["rooms"][pair["a"]][0], case["rooms"][pair["a"]][2]
        other = case["rooms"][pair["b"]]
        points = [(random.uniform(west, east), random.uniform(south, north)) for _ in range(600)]
        seen = (map(Polygon, regions(space, pair["a"], at)) for at in points)
        parts = [area_in(other, shapes) / Polygon(other).area for shapes in seen]
        error = stdev(parts) / len(parts) ** 0.5 + pair["se"]
        assert abs(mean(parts) - pair["random_pair_visibility"]) <= 4 * error + 0.003


@given(st.integers(0, 2**32), st.integers(3, 12))
def test_from_its_kernel_a_star_shaped_room_is_seen_whole(seed: int, corners: int) -> None:
    random = Random(seed)
    turns = [2 * pi * (i + random.uniform(0.1, 0.9)) / corners for i in range(corners)]
    outline = [[r * cos(t), r * sin(t)] for t in turns for r in (random.uniform(1, 6),)]
    shape = Polygon(outline)
    if shape.contains(ShapelyPoint(0, 0)):
        found = regions(space_from({"room": outline}, {}), "room", (0.0, 0.0))
        assert area(map(Polygon, found)) == pytest.approx(shape.area, rel=1e-6)


@given(st.floats(0, 360))
def test_what_is_seen_does_not_depend_on_how_the_house_is_turned(turn: float) -> None:
    case = HOUSES[1]
    cos_t, sin_t = cos(radians(turn)), sin(radians(turn))

    def turned(points: list[list[float]]) -> list[list[float]]:
        return [[x * cos_t - y * sin_t, x * sin_t + y * cos_t] for x, y in points]

    rooms = {key: turned(room) for key, room in case["rooms"].items()}
    space = space_from(rooms, {key: turned(door) for key, door in case["openings"].items()})
    view = case["isovists"][1]
    (eye,) = turned([view["viewpoint"]])
    found = seen_from(space, eye)
    for room, expected in view["area_by_room"].items():
        assert area_in(rooms[room], found) == pytest.approx(expected, abs=1e-4)


def test_a_field_of_view_keeps_what_lies_within_it() -> None:
    space = space_from({"room": [[0, 0], [4, 0], [4, 4], [0, 4]]}, {})
    found = in_field(regions(space, "room", (2.0, 2.0)), (2.0, 2.0), 0.0, 90.0)
    assert area(map(Polygon, found)) == pytest.approx(4.0)
    assert all(y >= 2.0 for each in found for _, y in each)


def test_a_point_outside_the_room_sees_nothing_in_it() -> None:
    space = space_from({"room": ISOVISTS[1]["walls"]}, {})
    assert regions(space, "room", (9.0, 9.0)) == ()
