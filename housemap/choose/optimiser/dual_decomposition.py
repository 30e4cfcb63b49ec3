"""Dual decomposition (Komodakis, Paragios & Tziritas 2007): a tree, and pairs that it cannot hold.

Where a tree of all pairs would be too large for the labels that are still open, the pairs that can
cost most are held in the tree and the others are decoupled: each may choose its own two labels, and
pays a multiplier `pair_dual` (batch, pair, end, label) for them that the rooms get. At the best
multipliers pairs and rooms agree as far as the bound can make them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, prod
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.choose.optimiser.bucket_elimination import Labels
from housemap.choose.optimiser.elimination_order import Budget, Order, Tree, min_fill, tree_of
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.problem import Array, Poll, no_poll

TOGETHER_CELLS = 300_000
"""Cells of decoupled pairs looked at in one go: their tables then lie in the cache."""


@dataclass(frozen=True, slots=True, eq=False)
class Decoupled:
    """The l decoupled pairs of a relaxation, their tables padded with 0."""

    numbers: Labels
    """(l): which edges of the problem."""
    ends: Labels
    """(l, 2): their rooms."""
    tables: Array
    """(l, m, m)"""
    incidence: Array
    """(n, 2 l): 1 where a room is an end; column 2 i + e for end e of pair i."""


class DecoupledBest(NamedTuple):
    """The cheapest labels of each decoupled pair under its multipliers."""

    value: Array
    """(batch): of all pairs."""
    labels: Labels
    """(batch, l, 2)"""
    extra: Array
    """(batch, n, m): what a label adds to it, by all pairs of the room."""


def decoupled_of(indexed: Indexed, numbers: Sequence[int]) -> Decoupled:
    rooms, most = indexed.own.shape
    ends = np.array([indexed.edges[number] for number in numbers], dtype=np.intp).reshape(-1, 2)
    tables = np.zeros((len(numbers), most, most))
    for place, number in enumerate(numbers):
        rows, columns = indexed.pairs[number].shape
        tables[place, :rows, :columns] = indexed.pairs[number]
    incidence = np.zeros((rooms, ends.size))
    incidence[ends.ravel(), np.arange(ends.size)] = 1.0
    return Decoupled(np.array(numbers, dtype=np.intp), ends, tables, incidence)


def to_rooms(decoupled: Decoupled, values: Array) -> Array:
    """Values by end and label (batch, l, 2, m) summed by room (batch, n, m)."""
    return decoupled.incidence @ values.reshape(len(values), decoupled.ends.size, values.shape[-1])


def at_rooms(decoupled: Decoupled, values: NDArray[Any]) -> NDArray[Any]:
    """Values by room (batch, n, ...) at each end (batch, l, 2, ...)."""
    return values[:, decoupled.ends]


def cheapest(
    decoupled: Decoupled, pair_dual: Array, is_open: Mask, closed: float, poll: Poll = no_poll
) -> DecoupledBest:
    """The pairs' own choice among the open labels (batch, n, m)."""
    paid = np.where(at_rooms(decoupled, is_open), -pair_dual, closed)
    batch, count, _, most = paid.shape
    by_end, labels = np.empty_like(paid), np.empty((batch, count, 2), dtype=np.intp)
    together = max(1, TOGETHER_CELLS // (batch * most * most))
    for start in range(0, count, together):
        poll()
        part = slice(start, start + together)
        costs = decoupled.tables[part] + paid[:, part, 0, :, None] + paid[:, part, 1, None, :]
        flat = costs.reshape(*costs.shape[:2], most * most).argmin(axis=2)
        labels[:, part] = np.stack(np.divmod(flat, most), axis=-1)
        by_end[:, part, 0], by_end[:, part, 1] = costs.min(axis=3), costs.min(axis=2)
    least = by_end.min(axis=3)
    return DecoupledBest(
        least[:, :, 0].sum(axis=1), labels, to_rooms(decoupled, by_end - least[..., None])
    )


def carried(before: Labels, after: Labels, pair_dual: Array) -> Array:
    """The multipliers of the pairs that stay decoupled, by number; 0 for those that become so."""
    place = {number: at for at, number in enumerate(before.tolist())}
    result = np.zeros((len(pair_dual), len(after), *pair_dual.shape[2:]))
    for at, number in enumerate(after.tolist()):
        if number in place:
            result[:, at] = pair_dual[:, place[number]]
    return result


# The relaxation: the tree and the pairs left out of it, found before any table is built.

REPEATED = Budget(400_000_000, 5_000_000)
"""For hundreds of eliminations: half a second each at most."""
OFTEN = Budget(500_000, 1_000_000)
"""For thousands, where pairs are decoupled anyway and branching matters more."""
LEAST = 4
"""Any tree may compute so many times the cells of the pairs themselves."""
WIDE = Budget(inf, inf, 20)
"""For the tree of all pairs: a wider one is of no use, however few labels are open."""


@dataclass(frozen=True, slots=True, eq=False)
class Relaxation:
    indexed: Indexed
    tree: Tree
    rooms: Labels
    """By step: its room."""
    held: tuple[int, ...]
    """The edges in the tree, in the tree's own numbering."""
    decoupled: Decoupled
    decided: tuple[int, ...]
    """The edges that are in neither: an end has a single label, which differs by case."""

    @property
    def exact(self) -> bool:
        return not len(self.decoupled.numbers)

    def fits(self, sizes: Labels, budget: Budget) -> bool:
        """Whether one elimination is affordable with so many labels open in each room (n)."""
        by_step = sizes[self.rooms].tolist()
        cells = [prod(by_step[other] for other in step.scope) for step in self.tree]
        work = sum(size * count for size, count in zip(by_step, cells, strict=True))
        return bool(work <= budget.work and sum(cells) <= budget.stored)


class Restricted(NamedTuple):
    """The tables of a relaxation over the labels that are open, case by case.

    A room has as many columns as its most open case needs; in the others, labels that are not open
    fill up, and their own costs keep them out.
    """

    columns: Labels
    """(batch, columns): step by step the labels of its room, as places in a row of n m."""
    spans: tuple[slice, ...]
    """By step: its part of the columns."""
    pairs: tuple[Array, ...]
    """By edge held: costs (batch, one, other)."""


class Relaxer:
    """Finds the relaxation for what is still open."""

    def __init__(self, indexed: Indexed, poll: Poll = no_poll) -> None:
        self.indexed, self.poll = indexed, poll
        sizes, every = indexed.sizes.tolist(), range(len(indexed.edges))
        order = min_fill(sizes, indexed.edges, WIDE, poll)
        self.whole = _relaxation(indexed, every, order, (), ()) if order else None
        """The tree of all pairs; None if it is too wide for any."""

    def relax(self, sizes: Labels) -> Relaxation:
        """For rooms with so many labels open (n): exact if REPEATED affords that.

        Else one with decoupled pairs, whose tree keeps to OFTEN. A room with a single
        label counts as decided; it must have a single one in every case of a batch.
        """
        if self.whole is not None and self.whole.fits(sizes, REPEATED):
            return self.whole
        edges, several = self.indexed.edges, (sizes > 1).tolist()
        free = [n for n, (one, other) in enumerate(edges) if several[one] and several[other]]
        held, order = _most_held(self.indexed, sizes.tolist(), free, OFTEN, self.poll)
        decoupled, decided = {*free} - {*held}, {*range(len(edges))} - {*free}
        return _relaxation(self.indexed, held, order, sorted(decoupled), sorted(decided))


def _relaxation(
    indexed: Indexed, held: Sequence[int], order: Order, decoupled: Sequence[int],
    decided: Sequence[int],
) -> Relaxation:  # fmt: skip
    return Relaxation(
        indexed,
        tree_of(order, [indexed.edges[number] for number in held]),
        np.array(order.rooms, dtype=np.intp),
        tuple(held),
        decoupled_of(indexed, decoupled),
        tuple(decided),
    )


def restrict(relaxation: Relaxation, is_open: Mask) -> Restricted:
    """The tables over the labels (batch, n, m) that are open."""
    indexed = relaxation.indexed
    most = is_open.shape[2]
    counts = is_open.sum(axis=2).max(axis=0)
    first = np.argsort(~is_open, axis=2, kind="stable")
    labels = [first[:, room, : counts[room]] for room in range(len(counts))]
    columns = [labels[room] + room * most for room in relaxation.rooms]
    stops = np.cumsum([0, *(counts[room] for room in relaxation.rooms)]).tolist()
    pairs = []
    for number in relaxation.held:
        one, other = indexed.edges[number]
        pairs.append(indexed.pairs[number][labels[one][:, :, None], labels[other][:, None, :]])
    return Restricted(
        np.concatenate(columns, axis=1),
        tuple(slice(*span) for span in pairwise(stops)),
        tuple(pairs),
    )


def _most_held(
    indexed: Indexed, sizes: Sequence[int], free: Sequence[int], budget: Budget, poll: Poll
) -> tuple[list[int], Order]:
    """The pairs to hold and their order: all that are affordable, those that cost most first.

    Where rooms have so many labels that the pairs alone are large, the budget grows with them.
    """
    by_spread = sorted(free, key=lambda number: -float(np.ptp(indexed.pairs[number])))
    edges = [indexed.edges[number] for number in by_spread]
    least = LEAST * sum(sizes[one] * sizes[other] for one, other in edges)
    budget = Budget(max(budget.work, least), budget.stored)
    low, high = 0, len(edges) + 1
    best = min_fill(sizes, ())
    while high - low > 1:
        middle = (low + high) // 2
        order = min_fill(sizes, edges[:middle], budget, poll)
        low, high, best = (low, middle, best) if order is None else (middle, high, order)
    assert best is not None, "no pairs are always affordable"
    return by_spread[:low], best
