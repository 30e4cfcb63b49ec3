"""The route: every room once from the entrance, with little back and forth; where one stands.

The tree of shortest ways is walked, near branches first and the longest last, then shortened by
turning stretches round (2-opt, Croes 1958) and by moving rooms (Or 1976) until nothing is gained.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import dist
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.model.geometry import middle, minus
from housemap.model.house import Point
from housemap.plan.floor_plan import Plan
from housemap.plan.free_space import Space
from housemap.plan.house_graph import HouseGraph, Legs
from housemap.plan.visibility import bearing_deg, centroid, middle_of, standing_points

PASSAGE_M = 4.0
"""From one room to the next where measures are missing (our assumption)."""
STAIRS_M = 6.0
"""A flight from level to level (our assumption)."""


def walking_lengths_m(
    graph: HouseGraph, plan: Plan, stands: Mapping[str, Point]
) -> dict[str, float]:
    """How far it is through each opening from where one stands in one room to the other."""

    def length(key: str) -> float:
        a, b = graph.openings[key].between
        placed = plan.openings.get(key)
        if graph.rooms[a].level != graph.rooms[b].level:
            return STAIRS_M
        if placed is None or not placed.measured:
            return PASSAGE_M
        ends = middle(*placed.near_m), middle(*placed.far_m)
        ways = (ends, ends[::-1])
        return min(dist(stands[a], one) + dist(one, on) + dist(on, stands[b]) for one, on in ways)

    return {key: length(key) for key in graph.openings}


SHORTENED = range(3, 151)
"""Of so many rooms the tree's order is shortened; fewer have one order, more take too long."""
GAIN_M = 1e-9

Floats = NDArray[np.float64]
Order = NDArray[np.intp]


def length_m(legs: Legs, order: Sequence[str]) -> float:
    return sum(legs[a][b].length_m for a, b in pairwise(order))


def tour(legs: Legs, rooms: Sequence[str]) -> list[str]:
    """All of `rooms`, which are joined, in walking order; the first one is kept first."""
    order = _tree_order(legs, rooms)
    return _shortened(legs, order) if len(rooms) in SHORTENED else order


def _tree_order(legs: Legs, rooms: Sequence[str]) -> list[str]:
    """Depth first over the tree of shortest ways from the first room, the deepest branch last."""
    start = rooms[0]
    reached = {legs[start][room].through: room for room in rooms}
    children: dict[str, list[str]] = {room: [] for room in rooms}
    for room in rooms[1:]:
        children[reached[legs[start][room].through[:-1]]].append(room)
    depth: dict[str, float] = {}
    for room in sorted(rooms, key=lambda room: -len(legs[start][room].through)):
        below = [depth[child] for child in children[room]]
        depth[room] = max([legs[start][room].length_m, *below])
    order: list[str] = []
    waiting = [start]
    while waiting:
        here = waiting.pop()
        order.append(here)
        waiting += sorted(children[here], key=lambda child: (-depth[child], child))
    return order


def _shortened(legs: Legs, order: Sequence[str]) -> list[str]:
    """With the change that shortens it most, again and again until none does."""
    metres = np.array([[legs[a][b].length_m for b in order] for a in order])
    at = np.arange(len(order))
    while True:
        turned, moved = _turned(metres, at), _moved(metres, at)
        gain, better = turned if turned[0] >= moved[0] else moved
        if gain <= GAIN_M:
            return [order[i] for i in at.tolist()]
        at = better


def _turned(metres: Floats, at: Order) -> tuple[float, Order]:
    """What is gained by the one stretch best walked the other way round."""
    between = metres[np.ix_(at, at)]
    onward = np.append(np.diagonal(between, 1), 0.0)  # nothing behind the last room
    across = np.hstack([between[1:, 2:], np.zeros((len(at) - 1, 1))])
    gains = np.triu(onward[:-1, None] + onward[None, 1:] - between[:-1, 1:] - across)
    i, j = np.unravel_index(gains.argmax(), gains.shape) + np.array(1)
    return float(gains.max()), np.concatenate([at[:i], at[i : j + 1][::-1], at[j + 1 :]])


def _moved(metres: Floats, at: Order) -> tuple[float, Order]:
    """What is gained by up to three rooms in a row that are best visited elsewhere."""
    best = 0.0, at
    for count in (1, 2, 3):
        for i in range(1, len(at) - count + 1):
            some, rest = at[i : i + count], np.concatenate([at[:i], at[i + count :]])
            back = np.append(metres[some[-1], rest[1:]] - metres[rest[:-1], rest[1:]], 0.0)
            spent = metres[rest, some[0]] + back
            k = int(spent.argmin())
            if spent[i - 1] - spent[k] > best[0]:
                moved = np.concatenate([rest[: k + 1], some, rest[k + 1 :]])
                best = float(spent[i - 1] - spent[k]), moved
    return best


class Stop(NamedTuple):
    """A room on the route, where one stands in it and looks."""

    room: str
    at_m: Point
    """In plan coordinates; schematic where the room has no measures."""
    toward_deg: float
    """The way one comes in; clockwise from plan-north."""
    through: tuple[str, ...]
    """The openings from the stop before; none where no opening leads here."""


class Route(NamedTuple):
    """Every room once."""

    stops: tuple[Stop, ...]
    length_m: float
    """On foot, from stop to stop; what no opening joins counts nothing."""


def entrance(graph: HouseGraph) -> str | None:
    """The room in which the route begins; None for a house without rooms.

    Outdoors where it opens into a hall, else anywhere outdoors that opens into the house, else
    a hall, else the first room; of several the lowest level's first.
    """
    rooms = graph.rooms

    def rank(key: str) -> tuple[int, int]:
        behind = {rooms[room].use for room in graph.opens_into(key)}
        outdoors = rooms[key].use == "outdoor"
        if outdoors and behind - {"outdoor"}:
            return (0 if "hall" in behind else 1), abs(rooms[key].level)
        return (2 if rooms[key].use == "hall" else 3), abs(rooms[key].level)

    return min(rooms, key=rank, default=None)


def route_of(graph: HouseGraph, plan: Plan, space: Space) -> Route:
    """The route of a placed house; parts that no opening joins follow one after the other."""
    stands = {key: stand_in(plan, space, key) for key in graph.rooms}
    legs = graph.legs(walking_lengths_m(graph, plan, stands))
    stops: list[Stop] = []
    total = 0.0
    first = entrance(graph)
    parts = sorted(graph.components(), key=lambda part: first not in part)
    for i, part in enumerate(parts):
        start = part[0] if i or first is None else first
        order = tour(legs, [start, *(room for room in part if room != start)])
        total += length_m(legs, order)
        stops += _stops(plan, stands, legs, order)
    return Route(tuple(stops), total)


def stand_in(plan: Plan, space: Space, room: str) -> Point:
    """The standing point nearest the middle of a room; of a schematic block its middle."""
    if room not in space.rooms:
        return centroid(plan.rooms[room].outline_m)
    points = standing_points(space.rooms[room])
    to_middle = np.linalg.norm(points - np.array(middle_of(space.rooms[room])), axis=-1)
    x, y = points[np.argmin(np.round(to_middle, 9))]
    return float(x), float(y)


def _stops(
    plan: Plan, stands: Mapping[str, Point], legs: Legs, order: Sequence[str]
) -> Iterator[Stop]:
    """Each room with the way from the one before; the first looks on to the second.

    Where the opening has no place one looks to plan-north.
    """
    for i, room in enumerate(order):
        through, at = legs[order[i - 1]][room].through if i else (), stands[room]
        ahead = legs[room][order[1]].through[:1] if len(order) > 1 else ()
        placed = plan.openings.get((through[-1:] or ahead or ("",))[0])
        toward = 0.0
        if placed:
            x, y = minus(at, middle(middle(*placed.near_m), middle(*placed.far_m)))
            toward = bearing_deg(x, y) if through else bearing_deg(-x, -y)
        yield Stop(room, at, toward, through)
