"""Measures of space syntax against published definitions and hand-worked graphs.

tests/plan/data/space_syntax.json names its sources.
"""

import json
from math import inf
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from housemap.model.house import House, Opening, Room, Sightline
from housemap.plan.graph import connections, diamond, house_graph
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
    found = connections(house_of(graph["edges"]))
    for node, wanted in graph["expect"].items():
        connection = found[f"r{node}"]
        integration = wanted["integration_1_over_RRA"]
        assert connection.depth_total == wanted["TD"]
        assert connection.mean_depth == pytest.approx(wanted["MD"])
        assert connection.asymmetry == pytest.approx(wanted["RA"])
        assert connection.real_asymmetry == pytest.approx(wanted["RRA"], abs=1e-5)
        assert connection.integration == pytest.approx(
            inf if integration is None else integration, abs=1e-5
        )
        assert connection.control == pytest.approx(wanted["control"])
        assert connection.neighbours == wanted["connectivity"]


@pytest.mark.parametrize("row", PUBLISHED["D_values"], ids=lambda row: f"k={row['k']}")
def test_d_values_are_those_of_the_table(row: dict[str, float]) -> None:
    assert diamond(int(row["k"])) == pytest.approx(row["D"], abs=6e-5)


def test_one_or_two_rooms_have_no_integration_and_divide_nothing_by_zero() -> None:
    alone = connections(house_of([], 0))["r0"]
    assert (alone.k, alone.depth_total, alone.mean_depth, alone.integration) == (1, 0, 0.0, None)
    pair = connections(house_of([[0, 1]]))["r0"]
    assert (pair.mean_depth, pair.asymmetry, pair.integration) == (1.0, None, None)


def test_a_house_in_two_parts_is_measured_part_by_part_and_told() -> None:
    found = connections(house_of([[0, 1], [1, 2], [3, 4], [4, 5]]))
    assert {connection.k for connection in found.values()} == {3}
    assert not any(connection.whole for connection in found.values())
    assert found["r1"].integration == inf


def test_a_second_opening_between_two_rooms_changes_nothing() -> None:
    once, twice = house_of([[0, 1], [1, 2]]), house_of([[0, 1], [1, 0], [1, 2]])
    assert connections(once) == connections(twice)


@settings(max_examples=40)
@given(houses())
def test_control_sums_to_the_rooms_that_have_a_neighbour(house: House) -> None:
    """Each room gives 1 in all (Hillier & Hanson 1984): the sum is the number of rooms."""
    found = connections(house).values()
    joined = sum(connection.neighbours > 0 for connection in found)
    assert sum(connection.control for connection in found) == pytest.approx(joined)


def test_the_graph_carries_rooms_openings_and_sightlines() -> None:
    house = small_house()
    graph = house_graph(house)
    assert set(graph.nodes) == set(house.rooms)
    assert graph.nodes["hall"]["node"].room is house.rooms["hall"]
    link = graph.edges["hall", "kitchen"]["link"]
    assert link.openings == (("hall-kitchen", house.openings["hall-kitchen"]),)
    assert graph.edges["hall", "study"]["link"].sightlines == (
        ("hall-study", Sightline(("hall", "study"), share=0.1)),
    )
