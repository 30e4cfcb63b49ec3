"""The order of elimination, its width and what it costs, before any table is built."""

from itertools import combinations
from math import inf, prod

import networkx as nx
import pytest
from networkx.algorithms.approximation import treewidth_min_fill_in

from housemap.choose.optimiser.elimination_order import Budget, Edge, Order, min_fill

PATH = [(n, n + 1) for n in range(9)]
CYCLE = [*PATH, (0, 9)]
GRID = [(5 * y + x, 5 * y + x + 1) for y in range(5) for x in range(4)] + [
    (5 * y + x, 5 * y + x + 5) for y in range(4) for x in range(5)
]
CLIQUE = list(combinations(range(7), 2))


def order_of(count: int, edges: list[Edge], labels: int = 2) -> Order:
    order = min_fill([labels] * count, edges)
    assert order is not None
    return order


def width_of(order: Order) -> int:
    return max(map(len, order.scopes))


@pytest.mark.parametrize(
    ("count", "edges", "width"),
    [(10, [], 0), (10, PATH, 1), (10, CYCLE, 2), (25, GRID, 5), (7, CLIQUE, 6)],
)
def test_graphs_of_known_treewidth_get_it(count: int, edges: list[Edge], width: int) -> None:
    """Of a path 1, a cycle 2, a k by k grid k, k rooms that are all joined k - 1.

    Bodlaender 1998, "A partial k-arboretum of graphs with bounded treewidth".
    """
    assert width_of(order_of(count, edges)) == width


@pytest.mark.parametrize("seed", range(20))
def test_random_graphs_come_out_no_wider_than_with_networkx(seed: int) -> None:
    graph = nx.gnp_random_graph(30, 0.12, seed=seed)
    ours = width_of(order_of(30, sorted(graph.edges)))
    theirs, _ = treewidth_min_fill_in(graph)
    assert ours <= theirs + 1, "ties are broken in different ways"


@pytest.mark.parametrize("edges", [PATH, CYCLE, CLIQUE])
def test_every_room_and_every_pair_has_its_step(edges: list[Edge]) -> None:
    order = order_of(10, edges)
    step = {room: number for number, room in enumerate(order.rooms)}
    assert sorted(order.rooms) == list(range(10))
    for one, other in edges:
        first, second = sorted((step[one], step[other]))
        assert second in order.scopes[first]
    for number, scope in enumerate(order.scopes):
        assert all(later > number for later in scope)
        if scope:
            assert set(scope[1:]) <= set(order.scopes[scope[0]]), "the next step can take the table"


def test_the_cells_are_counted_from_the_labels() -> None:
    """Three rooms of five in a row: 25 + 25 + 5 are computed, 5 + 5 + 1 kept."""
    row = [(0, 1), (1, 2)]
    assert min_fill([5] * 3, row, Budget(55, 11))
    assert min_fill([5] * 3, row, Budget(54, 11)) is None
    assert min_fill([5] * 3, row, Budget(55, 10)) is None
    sizes = [2, 3, 4, 5, 6, 7, 8]
    assert min_fill(sizes, CLIQUE, Budget(prod(sizes) - 1, inf)) is None


def test_what_is_too_wide_is_known_from_the_graph_alone() -> None:
    everyone = list(combinations(range(200), 2))
    assert min_fill([24] * 200, everyone, Budget(10**9, 10**7)) is None


def test_an_order_wider_than_allowed_is_given_up() -> None:
    assert min_fill([2] * 25, GRID, Budget(inf, inf, 5)) is not None
    assert min_fill([2] * 25, GRID, Budget(inf, inf, 4)) is None


def test_the_signal_to_stop_is_looked_at_for_every_room() -> None:
    looks: list[int] = []
    min_fill([2] * 10, PATH, poll=lambda: looks.append(1))
    assert len(looks) == 10
