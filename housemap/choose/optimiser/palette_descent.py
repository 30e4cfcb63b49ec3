"""Descent by swaps from palette to palette, each at its exact cost (Teitz & Bart 1968).

That cost is found by elimination over its few paints, many palettes at a time. A palette is a row
of paints; one that is shorter than its neighbours repeats its first paint.
"""

from collections.abc import Iterator, Sequence
from math import inf

import numpy as np

from housemap.choose.optimiser.bucket_elimination import (
    Labels,
    UpwardPass,
    best_labels,
    eliminate,
    min_marginals,
    pair_tables,
)
from housemap.choose.optimiser.dual_decomposition import Relaxation
from housemap.choose.optimiser.incumbent import Incumbent
from housemap.choose.optimiser.problem import Array

CHUNK = 32
CHUNK_CELLS = 2_000_000
INCOMING = 64
"""Paints that a swap tries to bring in, most used first."""


class Palettes:
    """Evaluates palettes on an exact relaxation, and offers the best choices."""

    def __init__(self, relaxation: Relaxation, incumbent: Incumbent) -> None:
        self.relaxation, self.incumbent = relaxation, incumbent
        self.indexed = relaxation.indexed
        self.poll = incumbent.watch.poll
        self._passed: set[frozenset[int]] = set()

    def costs(self, palettes: Labels) -> Array:
        """The least cost with each palette, all of its paints paid for; the best is offered."""
        costs = [self._costs(part) for part in self._parts(palettes)]
        return np.concatenate(costs) if costs else np.zeros(0)

    def descend(self, palette: Labels, ranking: Labels, most: float = inf) -> None:
        """Go down by swaps (and, where paints cost, by leaving out) from a palette.

        Only paints at the head of the ranking are brought in. It ends at a palette of which no
        neighbour is better, where an earlier descent has passed, or when `most` have been tried.
        """
        best = float(self.costs(palette[None])[0])
        while most > 0 and (key := frozenset(palette.tolist())) not in self._passed:
            self._passed.add(key)
            for part in self._parts(self.near(palette, ranking[:INCOMING].tolist())):
                most -= len(part)
                costs = self._costs(part)
                place = int(costs.argmin())
                if costs[place] < best:
                    palette, best = part[place], float(costs[place])
                    break
            else:
                return

    def least_with(self, palettes: Labels) -> Array:
        """(n, m): the least cost with each label, over the palettes that have its paint."""
        least = np.full(self.indexed.own.shape, np.inf)
        for part in self._parts(palettes):
            up, labels, paid = self._eliminated(part)
            marginals = min_marginals(self.relaxation.tree, up, self.poll)
            for step, table in zip(self.relaxation.tree, marginals, strict=True):
                places, has = labels[step.room], labels[step.room] >= 0
                np.minimum.at(least[step.room], places[has], (table + paid[:, None])[has])
        return np.where(least < self.indexed.closed / 2, least, np.inf)

    def _parts(self, palettes: Labels) -> Iterator[Labels]:
        """The palettes in chunks whose tables fit."""
        size = palettes.shape[-1]
        cells = sum(int(size ** len(step.scope)) for step in self.relaxation.tree)
        chunk = max(1, min(CHUNK, CHUNK_CELLS // max(1, cells)))
        return (palettes[at : at + chunk] for at in range(0, len(palettes), chunk))

    def _costs(self, palettes: Labels) -> Array:
        up, labels, paid = self._eliminated(palettes)
        costs = up.cost + paid
        best = int(costs.argmin())
        if costs[best] < self.incumbent.target:
            self._offer(best_labels(self.relaxation.tree, up)[best], labels[:, best])
        return costs

    def _eliminated(self, palettes: Labels) -> tuple[UpwardPass, Labels, Array]:
        """The pass up, the labels (n, palette, place) and what the paints cost (palette)."""
        indexed, tree = self.indexed, self.relaxation.tree
        labels = indexed.label[:, palettes]
        own = np.take_along_axis(indexed.own, labels.reshape(len(labels), -1), axis=1)
        own = np.where(labels >= 0, own.reshape(labels.shape), indexed.closed)
        pairs = pair_tables(tree, [self._pair(number, labels) for number in self.relaxation.held])
        up = eliminate(tree, [own[step.room] for step in tree], pairs, self.poll)
        different = (np.diff(np.sort(palettes, axis=1), axis=1) > 0).sum(axis=1) + 1
        return up, labels, indexed.problem.paint_cost * different

    def _pair(self, number: int, labels: Labels) -> Array:
        one, other = self.indexed.edges[number]
        table = self.indexed.pairs[number]
        return np.asarray(table[labels[one][:, :, None], labels[other][:, None, :]])

    def _offer(self, steps: Labels, labels: Labels) -> None:
        chosen = np.empty(len(labels), dtype=np.intp)
        for step, place in zip(self.relaxation.tree, steps, strict=True):
            chosen[step.room] = labels[step.room, place]
        if (chosen >= 0).all():
            self.incumbent.consider(chosen)

    def near(self, palette: Labels, incoming: Sequence[int]) -> Labels:
        """The palettes that one swap makes, and one paint less or more where that can pay."""
        own = list(dict.fromkeys(palette.tolist()))
        fresh = [paint for paint in incoming if paint not in own]
        rows = [[*own[:at], paint, *own[at + 1 :]] for paint in fresh for at in range(len(own))]
        if self.indexed.problem.paint_cost and len(own) > 1:
            rows += [[*own[:at], *own[at + 1 :], own[at - 1]] for at in range(len(own))]
        if len(own) < self.indexed.cap:
            rows = [[*row, row[0]] for row in rows] + [[*own, paint] for paint in fresh]
        return np.array(rows, dtype=np.intp)
