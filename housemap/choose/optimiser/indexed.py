"""A problem in numbers: rooms, labels and paints by index, arrays padded to one shape.

A label is a candidate of a room. Rooms with a single candidate have no say left: what their pairs
cost is added to the own costs of the others, and the pair is gone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from housemap.choose.optimiser.bucket_elimination import Labels
from housemap.choose.optimiser.elimination_order import Edge
from housemap.choose.optimiser.problem import Array, Problem

Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class FlatPairs:
    """All tables of pairs end to end, so that many choices are looked up at once."""

    cells: Array
    ends: Labels
    """(e, 2)"""
    starts: Labels
    columns: Labels

    def tables(self) -> tuple[Array, ...]:
        """By pair, its part of the cells."""
        parts = np.split(self.cells, self.starts[1:]) if len(self.starts) else []
        return tuple(p.reshape(-1, n) for p, n in zip(parts, self.columns.tolist(), strict=True))

    def at(self, labels: Labels) -> Array:
        """What the pairs cost at choices (b, n): (b)."""
        one, other = labels[:, self.ends[:, 0]], labels[:, self.ends[:, 1]]
        return np.asarray(self.cells[self.starts + one * self.columns + other].sum(axis=1))


@dataclass(frozen=True, slots=True, eq=False)
class Indexed:
    """The arrays of a problem of n rooms, at most m labels each, and k paints."""

    problem: Problem
    paints: tuple[str, ...]
    paint: Labels
    """(n, m): the paint of each label; 0 where the room has no such label."""
    label: Labels
    """(n, k): the label of each paint in the room; -1 where it is no candidate."""
    real: Mask
    """(n, m): whether the room has the label."""
    own: Array
    """(n, m): own costs, `closed` where the room has no such label."""
    edges: tuple[Edge, ...]
    pairs: tuple[Array, ...]
    """By edge: label of the first room by label of the second."""
    flat: FlatPairs
    cap: int
    """At most so many distinct paints; all of them where there is no limit that binds."""
    closed: float
    """More than any choice costs: what a label that is ruled out costs."""
    lifted: Labels
    """Rooms whose paints are paid for by `own` and `pairs`, see `lift`."""

    @property
    def sizes(self) -> Labels:
        """(n): how many labels each room has."""
        return np.asarray(self.real.sum(axis=1), dtype=np.intp)

    @property
    def coupled(self) -> bool:
        """Whether the paints, and not only the pairs, join the rooms."""
        return self.problem.paint_cost > 0 or self.cap < min(len(self.paints), len(self.own))

    def assignment(self, labels: Sequence[int]) -> dict[str, str]:
        rooms = self.problem.rooms
        return {
            room: self.paints[self.paint[number, label]]
            for number, (room, label) in enumerate(zip(rooms, labels, strict=True))
        }

    @property
    def paint_cost(self) -> float:
        """Of each distinct paint, beside `own` and `pairs`."""
        return 0.0 if len(self.lifted) else self.problem.paint_cost

    def costs(self, labels: Labels) -> Array:
        """What choices (b, n) cost, distinct paints included: (b)."""
        paints = self.paint[self.lifted, labels[:, self.lifted]]
        pairs = (paints[:, :, None] == paints[:, None]).sum(axis=(1, 2)) - len(self.lifted)
        unpaid = self.used(labels).sum(axis=1) - (len(self.lifted) - pairs / 2)
        return np.asarray(self._own_and_pairs(labels) + self.problem.paint_cost * unpaid)

    def lifted_costs(self, labels: Labels) -> Array:
        """The same without what the paints of a lifted problem cost beyond `own` and `pairs`."""
        distinct = self.used(labels).sum(axis=1)
        return np.asarray(self._own_and_pairs(labels) + self.paint_cost * distinct)

    def _own_and_pairs(self, labels: Labels) -> Array:
        own: Array = self.own[np.arange(labels.shape[1]), labels].sum(axis=1)
        return own + self.flat.at(labels)

    def used(self, labels: Labels) -> Mask:
        """The paints that choices (b, n) use: (b, k)."""
        used = np.zeros((len(labels), len(self.paints)), dtype=np.bool_)
        rooms = np.arange(labels.shape[1])
        used[np.arange(len(labels))[:, None], self.paint[rooms, labels]] = True
        return used


def index(problem: Problem) -> Indexed:
    rooms = {room: number for number, room in enumerate(problem.rooms)}
    names = sorted({paint for room in rooms for paint in problem.candidates[room]})
    paints = {paint: number for number, paint in enumerate(names)}
    most = max((len(problem.candidates[room]) for room in rooms), default=0)
    paint = np.zeros((len(rooms), most), dtype=np.intp)
    label = np.full((len(rooms), len(paints)), -1, dtype=np.intp)
    real = np.zeros((len(rooms), most), dtype=np.bool_)
    own = np.zeros((len(rooms), most))
    for room, number in rooms.items():
        candidates = [paints[name] for name in problem.candidates[room]]
        paint[number, : len(candidates)] = candidates
        label[number, candidates] = np.arange(len(candidates))
        real[number, : len(candidates)] = True
        own[number, : len(candidates)] = problem.own[room]
    edges, pairs = _with_a_say(problem, rooms, own)
    closed = _beyond(own, pairs)
    own[~real] = closed
    cap = len(paints) if problem.paints is None else min(problem.paints, len(paints))
    flat = _flat(edges, pairs)
    pairs = flat.tables()
    return Indexed(
        problem, tuple(names), paint, label, real, own, edges, pairs, flat, cap, closed, NO_ROOMS
    )


NO_ROOMS: Labels = np.zeros(0, dtype=np.intp)
FEWEST_LIFTED = 3
"""Rooms from which it pays to lift the cost of their paints."""


def lift(indexed: Indexed) -> Indexed | None:
    """With what the paints of some rooms cost among the own costs and those of pairs.

    Rooms of which no two may have one paint for less than a paint costs: each pays for its own
    paint, and two of one paint get that back. By inclusion and exclusion (Bonferroni) that is at
    most what their paints cost, so that relaxations of it are bounds; `costs` adds what is left.
    A room's share in a paint that others may have is worth little to a Lagrangian bound; this is
    all of it, where rooms are to differ. None where too few rooms are.
    """
    price = indexed.problem.paint_cost
    rooms = _differing(indexed, price) if price > 0 else NO_ROOMS
    if len(rooms) < FEWEST_LIFTED:
        return None
    own, among = indexed.own.copy(), set(rooms.tolist())
    own[rooms] += np.where(indexed.real[rooms], price, 0.0)
    pairs = [
        table - price * _same(indexed, edge) if among.issuperset(edge) else table
        for edge, table in zip(indexed.edges, indexed.pairs, strict=True)
    ]
    flat = _flat(indexed.edges, pairs)
    return replace(indexed, own=own, pairs=flat.tables(), flat=flat, lifted=rooms)


def _same(indexed: Indexed, edge: Edge) -> Mask:
    """Whether both labels of a pair are one paint, in the shape of its table."""
    one, other = (indexed.paint[room, : indexed.sizes[room]] for room in edge)
    return np.equal(one[:, None], other)


def _differing(indexed: Indexed, price: float) -> Labels:
    """Many rooms of which any two in one paint cost the price or more."""
    near: dict[int, set[int]] = {room: set() for room in range(len(indexed.own))}
    for edge, table in zip(indexed.edges, indexed.pairs, strict=True):
        if table[_same(indexed, edge)].min(initial=np.inf) >= price:
            near[edge[0]].add(edge[1])
            near[edge[1]].add(edge[0])
    found: list[list[int]] = []
    for first, others in near.items():
        clique = [first]
        for room in sorted(others, key=lambda each: -len(near[each] & others)):
            if near[room].issuperset(clique):
                clique.append(room)
        found.append(clique)
    return np.array(max(found, key=len, default=[]), dtype=np.intp)


def _flat(edges: Sequence[Edge], pairs: Sequence[Array]) -> FlatPairs:
    sizes = [0, *(table.size for table in pairs)]
    return FlatPairs(
        np.concatenate([np.zeros(0), *(table.ravel() for table in pairs)]),
        np.array(edges, dtype=np.intp).reshape(-1, 2),
        np.cumsum(sizes, dtype=np.intp)[:-1],
        np.array([table.shape[1] for table in pairs], dtype=np.intp),
    )


def _with_a_say(
    problem: Problem, rooms: Mapping[str, int], own: Array
) -> tuple[tuple[Edge, ...], tuple[Array, ...]]:
    """The pairs of rooms that both have a choice; the others' costs go to `own`."""
    edges: list[Edge] = []
    pairs: list[Array] = []
    for pair in problem.pairs:
        one, other = rooms[pair.rooms[0]], rooms[pair.rooms[1]]
        rows, columns = pair.cost.shape
        if columns == 1:
            own[one, :rows] += pair.cost[:, 0]
        elif rows == 1:
            own[other, :columns] += pair.cost[0]
        else:
            edges.append((one, other))
            pairs.append(pair.cost)
    return tuple(edges), tuple(pairs)


def _beyond(own: Array, pairs: Sequence[Array]) -> float:
    """A thousand times the most that any choice can cost."""
    rooms = float(np.abs(own).max(axis=1, initial=0.0).sum())
    return 1e3 * (1.0 + rooms + sum(float(np.abs(table).max()) for table in pairs))
