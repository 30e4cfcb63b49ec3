"""Sight on random plans against two independent methods (tests.support.rays).

HOUSEMAP_EXAMPLES sets how many random plans are tried; the plans of a short run are small.
"""

import os
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.model.house import House
from housemap.plan.placing import place
from housemap.plan.shares import views
from housemap.plan.space import space_of
from housemap.plan.stands import standing_points
from housemap.plan.ways import ways
from tests.support.plans import random_house
from tests.support.rays import FreeSpace, shares_by_rays

EXAMPLES = int(os.environ.get("HOUSEMAP_EXAMPLES", "10"))
ROOMS, MOST_ROOMS = 9, 40
RAYS = 720
LONG = 50


def plans(most: int) -> st.SearchStrategy[House]:
    return st.builds(
        lambda seed, count, ells, loops: random_house(Random(seed), count, ells=ells, loops=loops),
        st.integers(0, 2**32),
        st.integers(2, most),
        st.sampled_from((0.0, 0.5, 1.0)),
        st.sampled_from((0.0, 0.3, 0.8)),
    )


@settings(max_examples=EXAMPLES, deadline=None)
@given(plans(ROOMS))
def test_the_pairs_are_those_that_lines_past_two_corners_find(house: House) -> None:
    plan = place(house)
    free = FreeSpace(house, plan)
    exact = {frozenset(pair) for pair in ways(space_of(house, plan))}
    assert exact == free.seen_pairs(free.corners())


@pytest.mark.skipif(EXAMPLES < LONG, reason="seconds a plan: for a long run")
@settings(max_examples=max(1, EXAMPLES // LONG), deadline=None)
@given(st.integers(0, 2**32), st.sampled_from((0.0, 0.5)))
def test_so_are_those_of_the_largest_plans(seed: int, ells: float) -> None:
    house = random_house(Random(seed), MOST_ROOMS, ells=ells)
    plan = place(house)
    free = FreeSpace(house, plan)
    exact = {frozenset(pair) for pair in ways(space_of(house, plan))}
    assert exact == free.seen_pairs(free.corners())


@settings(max_examples=max(3, EXAMPLES // 4), deadline=None)
@given(plans(ROOMS))
def test_shares_are_those_of_dense_rays(house: House) -> None:
    plan = place(house)
    space = space_of(house, plan)
    room = next(iter(space.rooms))
    points = standing_points(space.rooms[room])
    found = views(space, room).shares
    by_rays = shares_by_rays(FreeSpace(house, plan), points, RAYS)
    for other in by_rays.keys() - {room}:
        assert abs(float(by_rays[other].mean()) - found.get(other, 0.0)) < 0.002
