"""How the tables of an elimination fit together: worked out once, used for any costs.

A step adds up the tables that hold its room (own costs, pair costs, tables of earlier steps),
takes the least over the room and hands the table that is left to the first room of its scope.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import prod

from housemap.choose.optimiser.width import Edge, Order

View = tuple[slice | None, ...]
"""Index that gives a table the axes of a wider one: batch, room, then scope; None where it lacks
the axis."""
ALL = slice(None)
Pairs = dict[int, tuple[int, bool]]
"""By the later step that a pair joins: its edge, and whether its costs must be turned."""

SUMMED = 1_000_000
"""Cells of summed pairs that a tree may keep: 8 MB."""


@dataclass(frozen=True, slots=True)
class Fold:
    """Add one table to another that holds its rooms, before the step's large sum."""

    source: int
    target: int
    view: View


@dataclass(frozen=True, slots=True)
class PairView:
    """The costs of a pair within the sum of its group."""

    edge: int
    turned: bool
    """Whether the rows of its costs are the other room's candidates."""
    view: View


@dataclass(frozen=True, slots=True)
class Step:
    """The elimination of one room.

    Its tables are numbered: 0 own costs, then one for each group of pairs, then those of the
    steps in `children`.
    """

    room: int
    scope: tuple[int, ...]
    parent: int
    """The step that the table goes to; -1 for none."""
    children: tuple[int, ...]
    groups: tuple[tuple[PairView, ...], ...]
    """Pairs whose costs are summed once and for all, however often the own costs change."""
    folds: tuple[Fold, ...]
    sums: tuple[tuple[int, View], ...]
    """The tables left after folding, with their views on the whole scope."""
    shared: tuple[tuple[int, tuple[int, ...]], ...]
    """By child: its number and the axes, of a table without batch, that its scope lacks."""


Tree = tuple[Step, ...]


def tree_of(
    order: Order, edges: Sequence[Edge], sizes: Sequence[int], summed: int = SUMMED
) -> Tree:
    """The steps of an order in which every edge joins rooms of one scope.

    The pairs of a step are summed where that takes at most `summed` cells in all, small ones first.
    """
    step = {room: number for number, room in enumerate(order.rooms)}
    children: list[list[int]] = [[] for _ in order.rooms]
    for number, scope in enumerate(order.scopes):
        if scope:
            children[scope[0]].append(number)
    pairs: list[Pairs] = [{} for _ in order.rooms]
    for edge, (one, other) in enumerate(edges):
        first, second = sorted((step[one], step[other]))
        pairs[first][second] = (edge, step[one] != first)
    cells = [
        sizes[room] * prod(sizes[order.rooms[other]] for other in pairs[number])
        for number, room in enumerate(order.rooms)
    ]
    together = _within(cells, summed)
    return tuple(
        _step(order, number, children[number], _groups(pairs[number], together=number in together))
        for number in range(len(order.rooms))
    )


def _within(cells: Sequence[int], most: int) -> frozenset[int]:
    """The smallest of the tables, as many as have at most so many cells in all."""
    by_size = sorted(range(len(cells)), key=cells.__getitem__)
    total = accumulate(cells[number] for number in by_size)
    return frozenset(number for number, sum_ in zip(by_size, total, strict=True) if sum_ <= most)


def _groups(pairs: Pairs, *, together: bool) -> list[Pairs]:
    if together:
        return [pairs] if pairs else []
    return [{other: pair} for other, pair in pairs.items()]


def _step(order: Order, number: int, children: list[int], groups: list[Pairs]) -> Step:
    scope = order.scopes[number]
    paired = [tuple(sorted(group)) for group in groups]
    held = [(), *paired, *(order.scopes[child][1:] for child in children)]
    folds, left = _folded(held, len(scope))
    return Step(
        room=order.rooms[number],
        scope=scope,
        parent=scope[0] if scope else -1,
        children=tuple(children),
        groups=tuple(
            tuple(PairView(*pair, _view((other,), rooms)) for other, pair in group.items())
            for group, rooms in zip(groups, paired, strict=True)
        ),
        folds=folds,
        sums=tuple((table, _view(held[table], scope)) for table in left),
        shared=tuple((child, _lacking(order.scopes[child][1:], scope)) for child in children),
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


def _lacking(held: tuple[int, ...], scope: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(axis for axis, step in enumerate(scope) if step not in held)
