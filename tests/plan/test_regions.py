"""Visibility polygons against published isovists; the data files name their sources."""

from typing import Any

import pytest
from shapely import LineString, Polygon, union_all

from housemap.plan.regions import Region, regions
from housemap.plan.space import Space
from housemap.plan.ways import ways
from tests.support.published_rooms import published, space_from

ISOVISTS = published("isovist")["cases"]
HOUSES = published("rooms_that_see_each_other")["cases"]
VIEWS = [(case, view) for case in HOUSES for view in case["isovists"]]


def seen_from(space: Space, at: list[float]) -> tuple[Region, ...]:
    """From whichever room the point lies in."""
    return next(found for room in space.rooms if (found := regions(space, room, (at[0], at[1]))))


def area(found: tuple[Region, ...], room: str | None = None) -> float:
    shapes = [Polygon(each.outline_m) for each in found if room in {None, each.room}]
    return float(sum(shape.area for shape in shapes))


@pytest.mark.parametrize("case", ISOVISTS, ids=lambda case: str(case["name"]))
def test_the_isovist_of_one_room_is_the_published_one(case: dict[str, Any]) -> None:
    space = space_from({"room": case["walls"]}, {})
    found = seen_from(space, case["viewpoint"])
    assert area(found) == pytest.approx(case["area"], abs=1e-6)
    if "isovist" in case:
        joined = union_all([Polygon(each.outline_m) for each in found])
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
    for room, wanted in view["area_by_room"].items():
        assert area(found, room) == pytest.approx(wanted, abs=1e-4)


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
        shapes = [Polygon(each.outline_m) for each in seen_from(space, view["viewpoint"])]
        seen = union_all([shape.buffer(1e-7) for shape in shapes]).intersection(wall).length
        assert seen / wall.length == pytest.approx(view["visible_share"], abs=0.002)


def test_a_point_outside_the_room_sees_nothing_in_it() -> None:
    space = space_from({"room": ISOVISTS[1]["walls"]}, {})
    assert regions(space, "room", (9.0, 9.0)) == ()
