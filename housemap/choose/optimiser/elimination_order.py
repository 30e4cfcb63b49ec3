"""Elimination order and tree: in which order rooms are eliminated, and how their tables fit.

Min-fill order (Rose 1970; Kjærulff 1990): the next room is the one whose neighbours lack the
fewest joins among themselves. The rooms that a step's table is over are its scope; the longest
scope is the width of the tree decomposition of that order. The size of every table is known before
any is built.
"""

import heapq
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from math import inf, prod
from typing import NamedTuple

from housemap.choose.optimiser.problem import Poll, no_poll

Edge = tuple[int, int]
Near = list[set[int]]


class Budget(NamedTuple):
    """What one elimination may take, in cells computed and cells kept."""

    work: float
    stored: float
    width: float = inf
    """Rooms that a scope may have."""


ENDLESS = Budget(inf, inf)


class Order(NamedTuple):
    """Rooms in order of elimination, by number, and what each step leaves."""

    rooms: tuple[int, ...]
    scopes: tuple[tuple[int, ...], ...]
    """By step: the later steps that its table is over, in ascending order."""


def min_fill(
    sizes: Sequence[int], edges: Iterable[Edge], budget: Budget = ENDLESS, poll: Poll = no_poll
) -> Order | None:
    """The order for rooms with so many labels each, joined by the edges.

    None as soon as it is clear that the budget does not afford it.
    """
    near = neighbours(len(sizes), edges)
    rooms: list[int] = []
    scopes: list[tuple[int, ...]] = []
    work = stored = 0
    for room in _by_fill(near, sizes):
        poll()
        if len(near[room]) > budget.width:
            return None
        cells = prod(sizes[other] for other in near[room])
        work, stored = work + cells * sizes[room], stored + cells
        if work > budget.work or stored > budget.stored:
            return None
        rooms.append(room)
        scopes.append(tuple(near[room]))
        _join(near, room)
    step = {room: number for number, room in enumerate(rooms)}
    in_steps = tuple(tuple(sorted(step[other] for other in scope)) for scope in scopes)
    return Order(tuple(rooms), in_steps)


def neighbours(count: int, edges: Iterable[Edge]) -> Near:
    near: Near = [set() for _ in range(count)]
    for one, other in edges:
        near[one].add(other)
        near[other].add(one)
    return near


def _by_fill(near: Near, sizes: Sequence[int]) -> Iterator[int]:
    """Each room once, as `near` stands when it is asked for; the caller joins in between."""
    rank = {room: _rank(near, sizes, room) for room in range(len(near))}
    heap = [(key, room) for room, key in rank.items()]
    heapq.heapify(heap)
    while heap:
        key, room = heapq.heappop(heap)
        if rank.get(room) != key:
            continue
        del rank[room]
        touched = _touched(near, room)
        yield room
        for other in touched:
            rank[other] = _rank(near, sizes, other)
            heapq.heappush(heap, (rank[other], other))


def _rank(near: Near, sizes: Sequence[int], room: int) -> tuple[int, int]:
    """Missing joins, then the size of the table that the step would leave."""
    around = near[room]
    joins = sum(len(around & near[other]) for other in around) // 2
    return len(around) * (len(around) - 1) // 2 - joins, prod(sizes[other] for other in around)


def _touched(near: Near, room: int) -> set[int]:
    """The rooms whose rank may change when the room goes."""
    touched = set(near[room])
    for one, other in combinations(near[room], 2):
        if other not in near[one]:
            touched |= near[one] & near[other]
    return touched - {room}


def _join(near: Near, room: int) -> None:
    """Take the room out and join its neighbours."""
    around = near[room]
    for other in around:
        near[other] |= around
        near[other] -= {room, other}


# The tree. A step adds up the tables that hold its room (own costs, pair costs, tables of earlier
# steps), takes the least over the room and hands the table that is left to the first room of its
# scope. Worked out once, used for any costs.

View = tuple[slice | None, ...]
"""Index that gives a table the axes of a wider one: batch, room, then scope; None where it lacks
the axis."""
ALL = slice(None)


class Fold(NamedTuple):
    """Add one table to another that holds its rooms, before the step's large sum."""

    source: int
    target: int
    view: View


class Step(NamedTuple):
    """The elimination of one room.

    Its tables are numbered: 0 own costs, then those of `pairs`, then those of the steps in
    `children`.
    """

    room: int
    scope: tuple[int, ...]
    parent: int
    """The step that the table goes to; -1 for none."""
    children: tuple[int, ...]
    pairs: tuple[tuple[int, bool], ...]
    """By pair with a later step: its edge, and whether the rows of its costs are that step's."""
    folds: tuple[Fold, ...]
    sums: tuple[tuple[int, View], ...]
    """The tables left after folding, with their views on the whole scope."""
    shared: tuple[tuple[int, tuple[int, ...]], ...]
    """By child: its number and the axes, of a table without batch, that its scope lacks."""


Tree = tuple[Step, ...]


def tree_of(order: Order, edges: Sequence[Edge]) -> Tree:
    """The steps of an order in which every edge joins rooms of one scope."""
    step = {room: number for number, room in enumerate(order.rooms)}
    children: list[list[int]] = [[] for _ in order.rooms]
    for number, scope in enumerate(order.scopes):
        if scope:
            children[scope[0]].append(number)
    pairs: list[dict[int, tuple[int, bool]]] = [{} for _ in order.rooms]
    for edge, (one, other) in enumerate(edges):
        first, second = sorted((step[one], step[other]))
        pairs[first][second] = (edge, step[one] != first)
    each = enumerate(zip(children, pairs, strict=True))
    return tuple(_step(order, number, *both) for number, both in each)


def _step(
    order: Order, number: int, children: list[int], pairs: dict[int, tuple[int, bool]]
) -> Step:
    scope = order.scopes[number]
    held = [(), *((other,) for other in pairs), *(order.scopes[child][1:] for child in children)]
    folds, left = _folded(held, len(scope))
    return Step(
        room=order.rooms[number],
        scope=scope,
        parent=scope[0] if scope else -1,
        children=tuple(children),
        pairs=tuple(pairs.values()),
        folds=folds,
        sums=tuple((table, _view(held[table], scope)) for table in left),
        shared=tuple(
            (child, tuple(at for at, other in enumerate(scope) if other not in order.scopes[child]))
            for child in children
        ),
    )


def _folded(held: list[tuple[int, ...]], full: int) -> tuple[tuple[Fold, ...], tuple[int, ...]]:
    """Each table into the smallest that holds its rooms, if that is not one of the full scope.

    The others are left, small ones first: added up in that order they cost one large sum each.
    """
    by_size = sorted(range(len(held)), key=lambda table: len(held[table]))
    folds: list[Fold] = []
    left: list[int] = []
    for place, table in enumerate(by_size):
        wider = (
            other
            for other in by_size[place + 1 :]
            if len(held[other]) < full and set(held[table]) <= set(held[other])
        )
        target = next(wider, None)
        if target is None:
            left.append(table)
        else:
            folds.append(Fold(table, target, _view(held[table], held[target])))
    return tuple(folds), tuple(left)


def _view(held: tuple[int, ...], scope: tuple[int, ...]) -> View:
    return (ALL, ALL, *(ALL if step in held else None for step in scope))
