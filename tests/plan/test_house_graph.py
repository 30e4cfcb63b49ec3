"""The graph of the house: what it answers, and space syntax against published measures.

tests/plan/data/space_syntax.json names the sources of the measures.
"""

import json
from dataclasses import replace
from math import inf
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from housemap.model.house import House, Opening, Room
from housemap.plan.house_graph import Connection, Exit, HouseGraph, Leg, Sighting, diamond, graph_of
from tests.support.houses import small_house
from tests.support.strategies import houses

PUBLISHED = json.loads((Path(__file__).parent / "data" / "space_syntax.json").read_text("utf-8"))


def house_of(edges: list[list[int]], *alone: int) -> House:
    nodes = sorted({node for edge in edges for node in edge} | set(alone))
    return House(
        rooms={f"r{node}": Room(f"Room {node}") for node in nodes},
        openings={
            f"o{i}": Opening((f"r{a}", f"r{b}"), "doorway") for i, (a, b) in enumerate(edges)
        },
    )


@pytest.mark.parametrize("graph", PUBLISHED["graphs"], ids=lambda graph: str(graph["name"]))
def test_star_chain_and_ring_have_the_published_measures(graph: dict[str, Any]) -> None:
    found = graph_of(house_of(graph["edges"])).connections
    for node, wanted in graph["expect"].items():
        connection = found[f"r{node}"]
        integration = wanted["integration_1_over_RRA"]
        assert connection.integration == pytest.approx(
            inf if integration is None else integration, abs=1e-5
        )
        assert connection.control == pytest.approx(wanted["control"])


@pytest.mark.parametrize("row", PUBLISHED["D_values"], ids=lambda row: f"k={row['k']}")
def test_d_values_are_those_of_the_table(row: dict[str, float]) -> None:
    assert diamond(int(row["k"])) == pytest.approx(row["D"], abs=6e-5)


def test_one_or_two_rooms_have_no_integration_and_divide_nothing_by_zero() -> None:
    assert graph_of(house_of([], 0)).connections["r0"] == Connection(None, 0.0)
    assert graph_of(house_of([[0, 1]])).connections["r0"] == Connection(None, 1.0)


def test_a_house_in_two_parts_is_measured_part_by_part() -> None:
    found = graph_of(house_of([[0, 1], [1, 2], [3, 4], [4, 5]])).connections
    alone = graph_of(house_of([[0, 1], [1, 2]])).connections
    assert [found[room] for room in alone] == list(alone.values())
    assert found["r1"].integration == found["r4"].integration == inf


def test_a_second_opening_between_two_rooms_changes_nothing() -> None:
    once, twice = house_of([[0, 1], [1, 2]]), house_of([[0, 1], [1, 0], [1, 2]])
    assert graph_of(once).connections == graph_of(twice).connections


@settings(max_examples=40)
@given(houses())
def test_control_sums_to_the_rooms_that_have_a_neighbour(house: House) -> None:
    """Each room gives 1 in all (Hillier & Hanson 1984): the sum is the number of rooms."""
    graph = graph_of(house)
    joined = sum(bool(graph.opens_into(room)) for room in house.rooms)
    found = graph.connections.values()
    assert sum(connection.control for connection in found) == pytest.approx(joined)


def test_the_graph_holds_rooms_openings_and_sightlines_but_nothing_that_paint_changes() -> None:
    house = small_house()
    graph = graph_of(house)
    assert list(graph.rooms) == list(house.rooms)
    assert (graph.rooms["study"].level, graph.rooms["kitchen"].use) == (1, "kitchen")
    assert graph.exits("hall") == (Exit("hall-kitchen", "kitchen"),)
    assert graph.linked("hall") == {
        "kitchen": house.openings["hall-kitchen"],
        "study": None,
    }
    repainted = replace(house, rooms={k: replace(r, name="x") for k, r in house.rooms.items()})
    assert graph_of(repainted) == graph


def test_two_openings_between_two_rooms_are_both_known_and_one_neighbour() -> None:
    graph = graph_of(house_of([[0, 1], [1, 0], [1, 2]]))
    assert list(graph.openings_between("r0", "r1")) == ["o0", "o1"]
    assert list(graph.openings_between("r1", "r0")) == ["o0", "o1"]
    assert list(graph.openings_of("r1")) == ["o0", "o1", "o2"]
    assert graph.opens_into("r1") == ("r0", "r2")
    assert graph.rooms_along("r2", ("o2", "o1")) == ("r1", "r0")


def test_sight_is_asked_both_ways() -> None:
    sighting = Sighting(("r0", "r2"), ("o0", "o1"), "sightline", 0.2)
    graph = graph_of(house_of([[0, 1], [1, 2]])).with_sightings({("r0", "r2"): sighting})
    assert graph.sees("r2") == ("r0",)
    assert graph.sees("r1") == ()
    assert graph.sighting("r2", "r0") is graph.sighting("r0", "r2") is sighting
    assert graph.sighting("r0", "r1") is None


def test_one_looks_through_openings_but_not_through_shut_doors_or_hatches() -> None:
    house = house_of([[0, 1], [0, 1], [0, 2], [0, 3]])
    openings = dict(house.openings)
    openings["o1"] = Opening(("r0", "r1"), "cased")
    openings["o2"] = Opening(("r0", "r2"), "doorway", "shut")
    openings["o3"] = Opening(("r0", "r3"), "cased", height_m=1.2)
    graph = graph_of(replace(house, openings=openings))
    assert graph.looks_through("r0") == (Exit("o0", "r1"), Exit("o1", "r1"))
    assert graph.seen_through() == {("r0", "r1"): ("o1", "o0")}


def test_chains_of_sight_are_all_simple_paths_up_to_a_length() -> None:
    ring = graph_of(house_of([[0, 1], [1, 2], [2, 3], [3, 0]]))
    assert set(ring.sight_chains("r0", "r2", most=6)) == {("o0", "o1"), ("o3", "o2")}
    assert list(ring.sight_chains("r0", "r2", most=1)) == []


def test_the_shortest_walk_takes_the_shorter_of_two_doors_and_the_shorter_way_round() -> None:
    graph = graph_of(house_of([[0, 1], [0, 1], [1, 2], [0, 2]], 9))
    legs = graph.legs({"o0": 3.0, "o1": 2.0, "o2": 1.0, "o3": 9.0})
    assert legs["r0"]["r2"] == Leg(("o1", "o2"), 3.0)
    assert legs["r2"]["r0"] == Leg(("o2", "o1"), 3.0)
    assert legs["r9"] == {"r9": Leg((), 0.0)}


def test_parts_are_what_openings_join() -> None:
    graph = graph_of(house_of([[0, 1], [1, 2], [5, 6]]))
    assert graph.components() == (("r0", "r1", "r2"), ("r5", "r6"))


def hops(graph: HouseGraph, start: str) -> dict[str, int]:
    found = {start: 0}
    for here, each in graph.spanning_tree([start], graph.openings):
        found[each.to] = found[here] + 1
    return found


@settings(max_examples=40, deadline=None)
@given(houses())
def test_a_spanning_tree_reaches_the_same_rooms_as_walking_with_the_fewest_doors(
    house: House,
) -> None:
    graph = graph_of(house)
    legs = graph.legs(dict.fromkeys(house.openings, 1.0))
    for room in house.rooms:
        assert hops(graph, room) == {end: leg.length_m for end, leg in legs[room].items()}
        assert set(legs[room]) == set(next(p for p in graph.components() if room in p))
