"""The route through the house, and moving about in it."""

from itertools import pairwise, permutations
from random import Random

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.file.reader import read_house
from housemap.model.house import House, Opening, Room
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import part_at, space_of
from housemap.plan.house_graph import Legs, graph_of
from housemap.plan.placing import place
from housemap.plan.route import (
    PASSAGE_M,
    entrance,
    length_m,
    route_of,
    stand_in,
    tour,
    walking_lengths_m,
)
from housemap.plan.view import Camera
from housemap.plan.viewpoints import CLEAR_M, gone_through, stepped
from tests.support.plans import random_house
from tests.support.project import DEMO
from tests.support.strategies import houses

houses_of_rooms = st.builds(
    lambda seed, count: random_house(Random(seed), count, loops=0.3),
    st.integers(0, 2**32),
    st.integers(1, 7),
)


def lengths_of(house: House) -> dict[str, float]:
    plan = place(house)
    space = space_of(house, plan)
    stands = {room: stand_in(plan, space, room) for room in house.rooms}
    return walking_lengths_m(graph_of(house), plan, stands)


def legs_of(house: House) -> Legs:
    return graph_of(house).legs(lengths_of(house))


def tree(*pairs: str) -> House:
    """Rooms of one letter, without measures: every opening is PASSAGE_M long."""
    rooms = {letter: Room(letter) for letter in sorted(set("".join(pairs)))}
    return House(rooms=rooms, openings={p: Opening((p[0], p[1]), "doorway") for p in pairs})


@given(houses_of_rooms)
@settings(max_examples=20, deadline=None)
def test_ways_on_foot_are_as_long_as_by_floyd_and_warshall_and_lead_there(house: House) -> None:
    graph, lengths = graph_of(house), lengths_of(house)
    dense: nx.MultiGraph[str] = nx.MultiGraph()
    dense.add_nodes_from(house.rooms)
    for key, opening in house.openings.items():
        dense.add_edge(*opening.between, weight=lengths[key])
    shortest = nx.floyd_warshall(dense)
    for start, ends in graph.legs(lengths).items():
        for end, leg in ends.items():
            assert leg.length_m == pytest.approx(shortest[start][end])
            assert leg.length_m == pytest.approx(sum(lengths[key] for key in leg.through))
            assert (start, *graph.rooms_along(start, leg.through))[-1] == end


@given(houses_of_rooms)
@settings(max_examples=20, deadline=None)
def test_a_small_route_is_hardly_longer_than_the_shortest_of_all_orders(house: House) -> None:
    legs = legs_of(house)
    start, *rest = house.rooms
    shortest = min(length_m(legs, (start, *order)) for order in permutations(rest))
    assert length_m(legs, tour(legs, list(house.rooms))) <= 1.2 * shortest + 1e-9


def test_a_large_tree_is_walked_each_way_once_but_for_the_longest_branch() -> None:
    """The shortest walk over a tree is twice its length less the way to its farthest leaf."""
    house = tree("ab", "bc", "cd", "de", "af", "fg", "ah", "hi", "ij", "ak", "kl")
    order = tour(legs_of(house), list(house.rooms))
    assert length_m(legs_of(house), order) == pytest.approx(PASSAGE_M * (2 * 11 - 4))
    assert order[-1] == "e"


@given(st.integers(0, 2**32))
@settings(max_examples=8, deadline=None)
def test_a_large_route_is_no_longer_than_twice_the_tree_of_openings(seed: int) -> None:
    house = random_house(Random(seed), 25)
    legs = legs_of(house)
    order = tour(legs, list(house.rooms))
    graph: nx.Graph[str] = nx.Graph()
    graph.add_weighted_edges_from((a, b, leg.length_m) for a in legs for b, leg in legs[a].items())
    spanning = nx.minimum_spanning_tree(graph).size(weight="weight")
    assert sorted(order) == sorted(house.rooms)
    assert spanning - 1e-9 <= length_m(legs, order) <= 2 * spanning


@given(houses())
@settings(max_examples=40, deadline=None)
def test_every_room_of_any_house_is_a_stop_once(house: House) -> None:
    plan = place(house)
    route = route_of(graph_of(house), plan, space_of(house, plan))
    assert sorted(stop.room for stop in route.stops) == sorted(house.rooms)
    assert not route.stops or route.stops[0].room == entrance(graph_of(house))


def test_the_route_of_the_demo_house_begins_in_the_porch_and_follows_openings() -> None:
    house = read_house(DEMO)
    plan = place(house)
    space = space_of(house, plan)
    route = route_of(graph_of(house), plan, space)
    assert route.stops[0].room == "porch"
    for before, stop in pairwise(route.stops):
        here = before.room
        for key in stop.through:
            a, b = house.openings[key].between
            assert here in {a, b}
            here = b if here == a else a
        assert here == stop.room
        assert part_at(space, stop.room, stop.at_m)
    levels = [house.rooms[stop.room].level for stop in route.stops]
    assert sum(a != b for a, b in pairwise(levels)) <= 2


def test_rooms_that_nothing_joins_come_last() -> None:
    house = tree("ab", "cd")
    plan = place(house)
    route = route_of(graph_of(house), plan, space_of(house, plan))
    assert [stop.room for stop in route.stops] == ["a", "b", "c", "d"]
    assert route.stops[2].through == ()


@given(houses_of_rooms, st.floats(0, 360), st.floats(0.1, 5))
@settings(max_examples=40, deadline=None)
def test_a_step_ends_in_the_room_it_names(house: House, toward: float, length: float) -> None:
    plan = place(house)
    space = space_of(house, plan)
    here = Camera("r000", stand_in(plan, space, "r000"), toward)
    there = stepped(space, here, 0.0, length)
    assert part_at(space, there.room, there.at_m)


def test_a_step_stops_before_a_wall_and_goes_on_through_a_door() -> None:
    rooms = {key: Room(key, size_m=(4.0, 3.0), height_m=2.4) for key in ("a", "b")}
    door = Opening(("a", "b"), "doorway", wall="e", along_m=1.0, to_wall="w", to_along_m=1.0,
                   width_m=1.0)  # fmt: skip
    house = House(rooms=rooms, openings={"door": door})
    plan = place(house)
    space = space_of(house, plan)
    here = Camera("a", (2.0, 1.5), 0.0)
    assert stepped(space, here, 180.0, 9.0).at_m[1] == pytest.approx(CLEAR_M)
    beyond = stepped(space, here, 90.0, 3.0)
    assert beyond.room == "b"
    assert beyond.at_m[0] == pytest.approx(5.0)
    in_the_wall = stepped(space, here._replace(at_m=(3.0, 1.5)), 90.0, 1.05)
    assert in_the_wall.room == "b"
    assert in_the_wall.at_m[0] == pytest.approx(4.1 + CLEAR_M)
    behind = gone_through(Elevations(house, plan, space), here, "door")
    assert behind.room == "b"
    assert behind.at_m == pytest.approx((4.61, 1.5))
