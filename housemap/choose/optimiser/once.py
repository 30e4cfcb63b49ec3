"""A single elimination in little memory, for problems that are solved by it.

As eliminate.py, for one case; but a table is let go as soon as it has been used, and of each step
only the best label of its room is kept, by labels of its scope.
"""

from collections.abc import Sequence
from math import prod

import numpy as np
from numpy.typing import NDArray

from housemap.choose.optimiser.eliminate import (
    DIRECT,
    Labels,
    Table,
    added_up,
    shape_of,
    slice_of,
    summed_pairs,
    total,
)
from housemap.choose.optimiser.problem import Array, Poll, no_poll
from housemap.choose.optimiser.tree import Tree

Choice = NDArray[np.uint16]
"""The best label of a room by labels of the scope; rooms have at most 65,535 candidates."""

WORK = 4_000_000_000
"""Cells computed: ten seconds."""
KEPT = 60_000_000
"""Cells of all choices: 120 MB."""
ALIVE = 15_000_000
"""Cells of tables at one time: 120 MB."""


def single_pass_affordable(tree: Tree, sizes: Labels) -> bool:
    """Whether one elimination over so many labels in each room (n) keeps to these limits."""
    by_step = [int(sizes[step.room]) for step in tree]
    cells = [prod(by_step[other] for other in step.scope) for step in tree]
    work = sum(size * count for size, count in zip(by_step, cells, strict=True))
    return work <= WORK and sum(cells) <= KEPT and _most_alive(tree, cells) <= ALIVE


def single_pass(
    tree: Tree, own: Sequence[Array], pair_costs: Sequence[Array], poll: Poll = no_poll
) -> Labels:
    """The labels (n) of least cost. `own` by room; `pair_costs` by edge, all of them in the tree."""
    pairs = summed_pairs(tree, [table[None] for table in pair_costs])
    alive: dict[int, Table] = {}
    choices: list[Choice] = []
    for number, step in enumerate(tree):
        poll()
        tables = [
            own[step.room][None],
            *pairs[number],
            *(alive.pop(child) for child in step.children),
        ]
        sums = added_up(step, tables)
        alive[number], choice = _least_and_choice(sums, poll)
        choices.append(choice)
    return _traced(tree, choices)


def _traced(tree: Tree, choices: Sequence[Choice]) -> Labels:
    steps = [0] * len(tree)
    labels = np.empty(len(tree), dtype=np.intp)
    for number in range(len(tree) - 1, -1, -1):
        step = tree[number]
        steps[number] = int(choices[number][tuple(steps[other] for other in step.scope)])
        labels[step.room] = steps[number]
    return labels


def _least_and_choice(tables: Sequence[Table], poll: Poll) -> tuple[Table, Choice]:
    """The least over the room (axis 1) of the sum of the tables, and where it is."""
    shape = shape_of(tables)
    if prod(shape) <= DIRECT:
        whole = total(tables)
        return whole.min(axis=1), whole[0].argmin(axis=0).astype(np.uint16)
    least = np.full(shape[:1] + shape[2:], np.inf)
    room, choice = np.empty_like(least), np.zeros(least.shape, dtype=np.uint16)
    for label in range(shape[1]):
        poll()
        part = slice_of(tables, label, room)
        np.copyto(choice, label, where=part < least)
        np.minimum(least, part, out=least)
    return least, choice[0]


def _most_alive(tree: Tree, cells: Sequence[int]) -> int:
    """Cells of tables that wait to be used, at the worst time."""
    now = worst = 0
    for step, count in zip(tree, cells, strict=True):
        now += count
        worst = max(worst, now)
        now -= sum(cells[child] for child in step.children)
    return worst
