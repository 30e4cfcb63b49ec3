"""In which order rooms are eliminated, and how large that makes the tables, before any is built.

Min-fill order (Rose 1970; Kjærulff 1990): the next room is the one whose neighbours lack the
fewest joins among themselves. The rooms that a step's table is over are its scope; the longest
scope is the width of the tree decomposition that the order stands for.
"""

import heapq
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import inf, prod

from housemap.choose.optimiser.problem import Poll, no_poll

Edge = tuple[int, int]
Near = list[set[int]]


@dataclass(frozen=True, slots=True)
class Budget:
    """What one elimination may take, in cells computed and cells kept."""

    work: float
    stored: float
    width: float = inf
    """Rooms that a scope may have."""


ENDLESS = Budget(inf, inf)


@dataclass(frozen=True, slots=True)
class Order:
    """Rooms in order of elimination, by number, and what each step leaves."""

    rooms: tuple[int, ...]
    scopes: tuple[tuple[int, ...], ...]
    """By step: the later steps that its table is over, in ascending order."""
    work: int
    """Cells that one elimination computes."""
    stored: int
    """Cells of the tables that it keeps."""

    @property
    def width(self) -> int:
        return max(map(len, self.scopes), default=0)


def min_fill(
    sizes: Sequence[int],
    edges: Iterable[Edge],
    budget: Budget = ENDLESS,
    poll: Poll = no_poll,
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
    return Order(tuple(rooms), in_steps, work, stored)


def neighbours(count: int, edges: Iterable[Edge]) -> Near:
    near: Near = [set() for _ in range(count)]
    for one, other in edges:
        near[one].add(other)
        near[other].add(one)
    return near


def components(count: int, edges: Iterable[Edge]) -> tuple[tuple[int, ...], ...]:
    """The rooms in groups that no edge joins, each ascending."""
    near = neighbours(count, edges)
    left = set(range(count))
    groups: list[tuple[int, ...]] = []
    while left:
        group = {min(left)}
        front = list(group)
        while front:
            fresh = near[front.pop()] - group
            group |= fresh
            front += fresh
        left -= group
        groups.append(tuple(sorted(group)))
    return tuple(groups)


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
