"""What an elimination works on: a tree that holds the pairs, or as many as are affordable.

Built before any table. Where a tree of all pairs would be too large for the labels that are still
open, the pairs that can cost most are held, the others are loose.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, prod

import numpy as np

from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.loose import Loose, loose_of
from housemap.choose.optimiser.problem import Array, Poll, no_poll
from housemap.choose.optimiser.tree import Tree, tree_of
from housemap.choose.optimiser.width import Budget, Order, min_fill

REPEATED = Budget(400_000_000, 5_000_000)
"""For hundreds of eliminations: half a second each at most."""
OFTEN = Budget(500_000, 1_000_000)
"""For thousands, where pairs are loose anyway and branching matters more."""
LEAST = 4
"""Any tree may compute so many times the cells of the pairs themselves."""
WIDE = Budget(inf, inf, 20)
"""For the tree of all pairs: a wider one is of no use, however few labels are open."""
SMALL = 24
"""Labels up to which sums of pairs that are small enough for all rooms are kept as tables."""


@dataclass(frozen=True, slots=True, eq=False)
class Relaxation:
    indexed: Indexed
    tree: Tree
    rooms: Labels
    """By step: its room."""
    held: tuple[int, ...]
    """The edges in the tree, in the tree's own numbering."""
    loose: Loose
    decided: tuple[int, ...]
    """The edges that are in neither: an end has a single label, which differs by case."""

    @property
    def exact(self) -> bool:
        return not len(self.loose.numbers)

    def fits(self, sizes: Labels, budget: Budget) -> bool:
        """Whether one elimination is affordable with so many labels open in each room (n)."""
        by_step = sizes[self.rooms].tolist()
        cells = [prod(by_step[other] for other in step.scope) for step in self.tree]
        work = sum(size * count for size, count in zip(by_step, cells, strict=True))
        return bool(work <= budget.work and sum(cells) <= budget.stored)


@dataclass(frozen=True, slots=True)
class Restricted:
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
        small = np.minimum(indexed.sizes, SMALL)
        self.whole = _whole(indexed, small, poll)
        """The tree of all pairs, laid out for small rooms; None if it is too wide for any."""
        as_it_is = np.array_equal(small, indexed.sizes)
        self._roomy = self.whole if as_it_is else _whole(indexed, indexed.sizes, poll)

    def relax(
        self, sizes: Labels, exact: Budget | None = None, partial: Budget | None = None
    ) -> Relaxation:
        """For rooms with so many labels open (n): exact if the first budget affords that.

        Else one with loose pairs, whose tree keeps to the second budget. A room with a single
        label counts as decided; it must have a single one in every case of a batch.
        """
        whole = self.whole if sizes.max() <= SMALL else self._roomy
        if whole is not None and whole.fits(sizes, exact or REPEATED):
            return whole
        return _partial(self.indexed, sizes, partial or OFTEN, self.poll)


def _whole(indexed: Indexed, sizes: Labels, poll: Poll) -> Relaxation | None:
    order = min_fill(sizes.tolist(), indexed.edges, WIDE, poll)
    if order is None:
        return None
    edges = range(len(indexed.edges))
    return _relaxation(indexed, sizes.tolist(), edges, order, loose=(), decided=())


def _partial(indexed: Indexed, sizes: Labels, budget: Budget, poll: Poll) -> Relaxation:
    several = (sizes > 1).tolist()
    free = [n for n, (one, other) in enumerate(indexed.edges) if several[one] and several[other]]
    held, order = _most_held(indexed, sizes.tolist(), free, budget, poll)
    loose = set(free).difference(held)
    decided = set(range(len(indexed.edges))).difference(free)
    return _relaxation(
        indexed, sizes.tolist(), held, order, loose=sorted(loose), decided=sorted(decided)
    )


def _relaxation(
    indexed: Indexed,
    sizes: Sequence[int],
    held: Sequence[int],
    order: Order,
    *,
    loose: Sequence[int],
    decided: Sequence[int],
) -> Relaxation:
    return Relaxation(
        indexed,
        tree_of(order, [indexed.edges[number] for number in held], sizes),
        np.array(order.rooms, dtype=np.intp),
        tuple(held),
        loose_of(indexed, loose),
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
