"""The best that the whole house can be with a paint in one room, against trying every choice."""

from dataclasses import replace
from itertools import product

import pytest

from housemap.checks import report_of
from housemap.choose.house_problem import reach_of
from housemap.model.edits import assign
from housemap.model.house import House, SurfacePaints
from tests.choose.support.random_houses import problem_of
from tests.support.houses import grid_house, paint, small_house

COLOURS = {"oat": "#d9d0bf", "sand": "#cbbfa6", "moss": "#7c8468", "rose": "#cfb0a8"}


def half_bare() -> House:
    """Two painted rooms and two bare ones."""
    house = grid_house(4, columns=2)
    rooms = {k: replace(r, windows={}, paints=SurfacePaints()) for k, r in house.rooms.items()}
    paints = {key: paint(hex_, key) for key, hex_ in COLOURS.items()}
    house = replace(house, paints=paints, rooms=rooms)
    return assign(assign(house, "r0000", "walls", "moss"), "r0001", "walls", "rose")


@pytest.mark.parametrize("room", ["r0000", "r0002"])
def test_it_is_the_least_over_every_way_to_fill_the_bare_rooms(room: str) -> None:
    report = report_of(half_bare(), deep=False)
    reach = reach_of(report, room)
    assert reach is not None
    problem = problem_of(report, free=room)
    for tried in COLOURS:
        costs = (
            problem.cost(dict(zip(problem.rooms, paints, strict=True)))
            for paints in product(*(
                [tried] if key == room else problem.candidates[key] for key in problem.rooms
            ))
        )  # fmt: skip
        least = min(costs)
        assert 0.9 * least <= reach.at_least[tried] <= least + 1e-6
        assert reach.at_most[tried] == pytest.approx(least)


def test_a_room_of_any_role_is_weighed_with_every_paint() -> None:
    house = assign(small_house(), "kitchen", "walls", None)
    reach = reach_of(report_of(house, deep=False), "hall")
    assert reach is not None
    assert {*reach.at_most} == {*house.paints}
    assert reach.rooms == 1


def test_where_all_else_is_painted_there_is_nothing_to_reach_for() -> None:
    house = small_house()
    assert reach_of(report_of(house, deep=False), "hall") is None
    bare = assign(house, "hall", "walls", None)
    assert reach_of(report_of(bare, deep=False), "hall") is None
