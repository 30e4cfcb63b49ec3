"""An order in which to walk through all rooms with little back and forth; pure Python.

Up to EXACT rooms the shortest walk is found (Held & Karp 1962). Beyond that: the tree of shortest
ways is walked, near branches first and the longest last, then shortened by turning stretches
round (2-opt, Croes 1958) and by moving rooms (Or 1976) until nothing is gained.
"""

from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise

from housemap.plan.walking import Leg

EXACT = 10
SHORTENED = 150
"""Above so many rooms the tree's order is kept as it is."""
GAIN_M = 1e-9

Legs = Mapping[str, Mapping[str, Leg]]


def length_m(legs: Legs, order: Sequence[str]) -> float:
    return sum(legs[a][b].length_m for a, b in pairwise(order))


def tour(legs: Legs, rooms: Sequence[str]) -> list[str]:
    """All of `rooms`, which are joined, in walking order; the first one stays first."""
    if len(rooms) <= EXACT:
        return _shortest(legs, rooms)
    order = _tree_order(legs, rooms)
    return _shortened(legs, order) if len(rooms) <= SHORTENED else order


def _shortest(legs: Legs, rooms: Sequence[str]) -> list[str]:
    """Held & Karp: the best walk over each set of rooms, by where it ends."""
    start, *rest = rooms
    best: dict[tuple[frozenset[str], str], tuple[float, list[str]]] = {
        (frozenset((room,)), room): (legs[start][room].length_m, [start, room]) for room in rest
    }
    for size in range(2, len(rest) + 1):
        longer: dict[tuple[frozenset[str], str], tuple[float, list[str]]] = {}
        for chosen in combinations(rest, size):
            met = frozenset(chosen)
            for last in chosen:
                walks = (best[met - {last}, before] for before in chosen if before != last)
                longer[met, last] = min(
                    (so_far + legs[order[-1]][last].length_m, [*order, last])
                    for so_far, order in walks
                )
        best = longer
    return min(best.values())[1] if best else [start]


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


def _shortened(legs: Legs, order: list[str]) -> list[str]:
    """Takes the first change that gains, until none does."""
    while True:
        gained = _turned(legs, order) or _moved(legs, order)
        if gained is None:
            return order
        order = gained


def _turned(legs: Legs, order: list[str]) -> list[str] | None:
    """With one stretch walked the other way round, if that is shorter."""
    for i in range(1, len(order)):
        before, first = order[i - 1], order[i]
        for j in range(i + 1, len(order)):
            last, after = order[j], order[j + 1] if j + 1 < len(order) else None
            was = legs[before][first].length_m + _to(legs, last, after)
            if legs[before][last].length_m + _to(legs, first, after) < was - GAIN_M:
                return [*order[:i], *order[i : j + 1][::-1], *order[j + 1 :]]
    return None


def _moved(legs: Legs, order: list[str]) -> list[str] | None:
    """With up to three rooms in a row visited elsewhere, if that is shorter."""
    for count in (1, 2, 3):
        for i in range(1, len(order) - count + 1):
            some, rest = order[i : i + count], [*order[:i], *order[i + count :]]
            after = order[i + count] if i + count < len(order) else None
            saved = (
                legs[order[i - 1]][some[0]].length_m
                + _to(legs, some[-1], after)
                - _to(legs, order[i - 1], after)
            )
            for k in range(len(rest)):
                beyond = rest[k + 1] if k + 1 < len(rest) else None
                spent = (
                    legs[rest[k]][some[0]].length_m
                    + _to(legs, some[-1], beyond)
                    - _to(legs, rest[k], beyond)
                )
                if spent < saved - GAIN_M:
                    return [*rest[: k + 1], *some, *rest[k + 1 :]]
    return None


def _to(legs: Legs, here: str, there: str | None) -> float:
    """Nothing where the walk ends."""
    return legs[here][there].length_m if there else 0.0
