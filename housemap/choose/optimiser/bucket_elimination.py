"""Bucket elimination (Dechter 1999): the least cost over a tree of rooms, exactly.

Many cases that differ in their own costs are solved in one pass: the first axis of every table is
the batch, of length 1 where all cases share the table. The second is the step's room, the others
its scope. Large steps take some labels of the room at a time, so that no large table has its axis.
"""

from collections.abc import Sequence
from math import prod
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.choose.optimiser.elimination_order import Step, Tree
from housemap.choose.optimiser.problem import Array, Poll, no_poll

EVERY = slice(None)
Labels = NDArray[np.intp]
Table = NDArray[np.floating[Any]]
"""Costs in double precision, where they are proved, or in single."""

DIRECT = 131_072
"""Cells up to which a step is computed in one go: its table then lies in the cache."""


class UpwardPass(NamedTuple):
    """What the pass from the leaves to the roots found."""

    cost: Array
    """Least cost of each case (batch)."""
    left: list[Table]
    """By step: the table over its scope (batch, scope)."""
    sums: list[list[Table]]
    """By step: tables that add up to the cost of its part of the tree (batch, room, scope)."""


def pair_tables(tree: Tree, pairs: Sequence[Table]) -> list[list[Table]]:
    """By step, the costs of its pairs (batch, room, other); `pairs` by edge (batch, one, other)."""
    return [
        [
            np.ascontiguousarray(pairs[edge].swapaxes(1, 2) if turned else pairs[edge])
            for edge, turned in step.pairs
        ]
        for step in tree
    ]


def eliminate(
    tree: Tree, own: Sequence[Table], pairs: Sequence[Sequence[Table]], poll: Poll = no_poll
) -> UpwardPass:
    """One pass up. `own` by step (batch, room); `pairs` as `pair_tables` gives them."""
    left: list[Table] = []
    sums: list[list[Table]] = []
    cost: Array = np.zeros(1)
    for number, step in enumerate(tree):
        poll()
        tables = [own[number], *pairs[number], *(left[child] for child in step.children)]
        sums.append(added_up(step, tables))
        left.append(_least(sums[-1], poll))
        if step.parent < 0:
            cost = np.asarray(cost + left[-1], dtype=np.float64)
    return UpwardPass(cost, left, sums)


def added_up(step: Step, tables: list[Table]) -> list[Table]:
    """The step's tables with the small ones folded into others, and the axes of its scope."""
    for fold in step.folds:
        tables[fold.target] = tables[fold.target] + tables[fold.source][fold.view]
    return [tables[table][view] for table, view in step.sums]


def best_labels(tree: Tree, up: UpwardPass) -> Labels:
    """The labels that reach the least cost (batch, step); the first of equals."""
    labels = np.zeros((len(tree), len(up.cost)), dtype=np.intp)
    cases = np.arange(len(up.cost))
    for number in range(len(tree) - 1, -1, -1):
        chosen = [labels[step] for step in tree[number].scope]
        room = total([_column(table, chosen, cases) for table in up.sums[number]])
        labels[number] = room.argmin(axis=-1)
    return labels.T


def min_marginals(tree: Tree, up: UpwardPass, poll: Poll = no_poll) -> list[Table]:
    """By step, the least cost of the whole with each label of its room (batch, room).

    One pass down: each step learns what the rest of the tree costs over its scope.
    """
    marginals: list[Table] = [np.empty(0)] * len(tree)
    rest: list[Table | None] = [None] * len(tree)
    for number in range(len(tree) - 1, -1, -1):
        poll()
        step = tree[number]
        tables = list(up.sums[number])
        outside = rest[number]
        if outside is not None:
            tables.append(outside[:, None])
        else:
            others = up.cost - up.left[number]
            tables.append(others.reshape(-1, *([1] * (len(step.scope) + 1))))
        marginals[number], shared = _share(step, tables, poll)
        for (child, _), table in zip(step.shared, shared, strict=True):
            rest[child] = table - up.left[child]
        rest[number] = None
    return marginals


def total(tables: Sequence[Table]) -> Table:
    result = tables[0]
    for table in tables[1:]:
        result = result + table
    return result


def shape_of(tables: Sequence[Table]) -> tuple[int, ...]:
    """The shape of the sum of tables; quicker than asking numpy."""
    if len(tables) == 1:
        return tables[0].shape
    return tuple(map(max, *(table.shape for table in tables)))


def _least(tables: Sequence[Table], poll: Poll) -> Table:
    """The least over the room (axis 1) of the sum of the tables, some labels at a time."""
    shape = shape_of(tables)
    together = max(1, DIRECT * shape[1] // prod(shape))
    if together >= shape[1]:
        return np.asarray(np.minimum.reduce(total(tables), axis=1))
    least: Table | None = None
    for start in range(0, shape[1], together):
        poll()
        some = [t if t.shape[1] == 1 else t[:, start : start + together] for t in tables]
        part = np.minimum.reduce(total(some), axis=1)
        least = part if least is None else np.minimum(least, part, out=least)
    assert least is not None
    return least


def slice_of(tables: Sequence[Table], label: int, out: Table | None = None) -> Table:
    """The sum of the tables at one label of the room; `out` may have room for it."""
    first, *others = (table[:, label if table.shape[1] > 1 else 0] for table in tables)
    if not others:
        return first
    for table in others[:-1]:
        first = first + table
    return np.add(first, others[-1], out=out)


def _share(step: Step, tables: Sequence[Table], poll: Poll) -> tuple[Table, list[Table]]:
    """Min-marginals of the room, and by child the least of the sum over the axes it lacks."""
    shape = shape_of(tables)
    if prod(shape) <= DIRECT:
        whole = total(tables)
        marginals = whole.reshape(*shape[:2], -1).min(axis=2)
        return marginals, [_over(whole, axes, 2) for _, axes in step.shared]
    room = np.empty(shape[:1] + shape[2:])
    slices: list[list[Table]] = [[] for _ in step.shared]
    marginals = np.empty(shape[:2])
    for label in range(shape[1]):
        poll()
        part = slice_of(tables, label, room)
        marginals[:, label] = part.reshape(len(part), -1).min(axis=1)
        for child, (_, axes) in zip(slices, step.shared, strict=True):
            child.append(_over(part, axes, 1).copy())
    return marginals, [np.stack(child, axis=1) for child in slices]


def _over(table: Table, axes: tuple[int, ...], skipped: int) -> Table:
    return np.asarray(table.min(axis=tuple(axis + skipped for axis in axes))) if axes else table


def _column(table: Table, chosen: Sequence[Labels], cases: Labels) -> Table:
    """The table at the labels chosen for its scope: (batch, room)."""
    scope = [0 if n == 1 else at for n, at in zip(table.shape[2:], chosen, strict=True)]
    return table[(0 if len(table) == 1 else cases, EVERY, *scope)]
