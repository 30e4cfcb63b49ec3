"""What is left of a problem once some rooms are decided: a tree of affordable size, loose pairs.

Built before any table: pairs are taken into the tree in the order of what they can cost, as many
as the order of elimination stays affordable for.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.loose import Loose, loose_of
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.tree import Tree, tree_of
from housemap.choose.optimiser.width import Budget, Order, min_fill

ONCE = Budget(2_000_000_000, 12_000_000)
"""For a single elimination: some seconds, 100 MB."""
REPEATED = Budget(400_000_000, 5_000_000)
"""For hundreds of them: half a second each at most."""
OFTEN = Budget(500_000, 1_000_000)
"""For thousands of them, where pairs are loose anyway and branching matters more."""
NOW_AND_THEN = Budget(50_000_000, 3_000_000)
"""For the rounds of a polish."""


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
    """The edges with an end that is decided."""

    @property
    def exact(self) -> bool:
        """Whether every pair is in the tree or has an end that is decided."""
        return not len(self.loose.numbers)


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


def relax(indexed: Indexed, budget: Budget) -> Relaxation:
    """The relaxation of a problem: exact if the budget affords that, else a quick one."""
    order = min_fill(indexed.sizes, indexed.edges, budget)
    if order is None:
        return relax_rest(indexed, frozenset())
    return _relaxation(indexed, indexed.sizes, range(len(indexed.edges)), order, frozenset())


def relax_rest(
    indexed: Indexed, decided: frozenset[int], budget: Budget | None = None
) -> Relaxation:
    """A quick relaxation with some rooms decided."""
    sizes = [1 if room in decided else size for room, size in enumerate(indexed.sizes)]
    free = [n for n, edge in enumerate(indexed.edges) if decided.isdisjoint(edge)]
    held, order = _most_held(indexed, sizes, free, budget or OFTEN)
    return _relaxation(indexed, sizes, held, order, decided)


def _relaxation(
    indexed: Indexed,
    sizes: Sequence[int],
    held: Sequence[int],
    order: Order,
    decided: frozenset[int],
) -> Relaxation:
    kept = set(held)
    free = [n for n, edge in enumerate(indexed.edges) if decided.isdisjoint(edge)]
    return Relaxation(
        indexed,
        tree_of(order, [indexed.edges[number] for number in held], sizes),
        np.array(order.rooms, dtype=np.intp),
        tuple(held),
        loose_of(indexed, [number for number in free if number not in kept]),
        tuple(n for n, edge in enumerate(indexed.edges) if not decided.isdisjoint(edge)),
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
    indexed: Indexed, sizes: Sequence[int], free: Sequence[int], budget: Budget
) -> tuple[list[int], Order]:
    """The pairs to hold and their order: all that are affordable, those that cost most first."""
    by_spread = sorted(free, key=lambda number: -float(np.ptp(indexed.pairs[number])))
    edges = [indexed.edges[number] for number in by_spread]
    low, high = 0, len(edges) + 1
    best = min_fill(sizes, ())
    while high - low > 1:
        middle = (low + high) // 2
        order = min_fill(sizes, edges[:middle], budget)
        low, high, best = (low, middle, best) if order is None else (middle, high, order)
    assert best is not None
    return by_spread[:low], best
