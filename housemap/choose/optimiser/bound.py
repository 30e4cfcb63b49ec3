"""Lower bounds by Lagrangian relaxation of "a room may have a paint only if the house has it".

Rooms pay rent for paints, the palette earns it (Geoffrion 1974): at any rents, the cheapest choice
of the rooms by elimination plus the best palette is a bound.
"""

from dataclasses import dataclass

import numpy as np

from housemap.choose.optimiser.batch import Batch, by_paint
from housemap.choose.optimiser.eliminate import (
    Labels,
    Table,
    Up,
    best_labels,
    eliminate,
    summed_pairs,
)
from housemap.choose.optimiser.loose import LooseBest, cheapest, to_rooms
from housemap.choose.optimiser.problem import Array, Poll
from housemap.choose.optimiser.relaxation import Relaxation, restrict
from housemap.choose.optimiser.selection import Selection, select

Precision = type[np.float32 | np.float64]


@dataclass(slots=True, eq=False)
class Point:
    """What the relaxation says at given rents and pulls."""

    up: Up
    labels: Labels
    """(b, n)"""
    selection: Selection
    earned: Array
    """(b, k)"""
    loose: LooseBest
    value: Array
    """(b): the bound; in single precision, about the bound."""


class Ground:
    """The tables of a batch of nodes over the labels that are still open."""

    def __init__(self, relaxation: Relaxation, batch: Batch, poll: Poll) -> None:
        self.relaxation, self.batch, self.poll = relaxation, batch, poll
        self.indexed = relaxation.indexed
        self.restricted = restrict(relaxation, batch.is_open)
        self.pairs = summed_pairs(relaxation.tree, self.restricted.pairs)
        self.own = own_costs(relaxation, batch)
        self._single: list[list[Table]] = []

    def at(self, rent: Array, pull: Array, *, single: bool = False) -> Point:
        """The relaxation at these multipliers; in single precision only about so."""
        loose = self.relaxation.loose
        own = self.by_step(rent, pull, np.float32 if single else np.float64)
        tables = self._single_pairs() if single else self.pairs
        up = eliminate(self.relaxation.tree, own, tables, self.poll)
        earned = by_paint(self.indexed, rent)
        cap, paint_cost = self.indexed.cap, self.indexed.problem.paint_cost
        selection = select(earned, self.batch.state, cap, paint_cost)
        pairs = cheapest(loose, pull, self.batch.is_open, self.indexed.closed, self.poll)
        value = up.cost + selection.value + pairs.value
        return Point(up, self.labels(up), selection, earned, pairs, value)

    def _single_pairs(self) -> list[list[Table]]:
        if not self._single:
            self._single = [[table.astype(np.float32) for table in step] for step in self.pairs]
        return self._single

    def by_step(self, rent: Array, pull: Array, precision: Precision) -> list[Table]:
        """Own costs with multipliers, by step of the tree."""
        now = self.own + rent
        if pull.size:
            now += to_rooms(self.relaxation.loose, pull)
        columns = np.take_along_axis(now.reshape(len(now), -1), self.restricted.columns, axis=1)
        columns = columns.astype(precision)
        return [columns[:, span] for span in self.restricted.spans]

    def labels(self, up: Up) -> Labels:
        """The cheapest labels, by room (b, n)."""
        steps = best_labels(self.relaxation.tree, up)
        starts = np.array([span.start for span in self.restricted.spans], dtype=np.intp)
        places = np.take_along_axis(self.restricted.columns, steps + starts, axis=1)
        labels = np.empty_like(steps)
        labels[:, self.relaxation.rooms] = places % self.batch.is_open.shape[2]
        return labels

    def by_room(self, marginals: list[Table]) -> Array:
        """Values by step, put in their places (b, n, m); `closed` elsewhere."""
        spread = np.full(self.own.shape, self.indexed.closed)
        flat = spread.reshape(len(spread), -1)
        columns = np.concatenate(marginals, axis=1)
        np.put_along_axis(flat, self.restricted.columns, columns, axis=1)
        return spread


def own_costs(relaxation: Relaxation, batch: Batch) -> Array:
    """Own costs (b, n, m), with what decided rooms add, `closed` where a label is not open."""
    indexed = relaxation.indexed
    own = np.where(batch.is_open, indexed.own, indexed.closed)
    only = batch.is_open.argmax(axis=2)
    for number in relaxation.decided:
        one, other = indexed.edges[number]
        table = indexed.pairs[number]
        rows, columns = table.shape
        if (batch.is_open[:, one].sum(axis=1) == 1).all():
            own[:, other, :columns] += table[only[:, one]]
        else:
            own[:, one, :rows] += table[:, only[:, other]].T
    return own
