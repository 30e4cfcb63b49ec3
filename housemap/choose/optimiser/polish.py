"""Good choices where pairs are loose: hold one end of every loose pair, choose the rest exactly.

Each round is an elimination that may keep everything as it is, so no round makes a choice worse.
"""

import numpy as np

from housemap.choose.optimiser.batch import root
from housemap.choose.optimiser.bound import Ground
from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.incumbent import Incumbent
from housemap.choose.optimiser.indexed import Mask
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.relaxation import Relaxation, Relaxer
from housemap.choose.optimiser.width import Budget

NOW_AND_THEN = Budget(50_000_000, 3_000_000)
"""For the rounds of a polish."""
TRIES = 4
"""Rounds in a row without a gain, each holding other rooms, before it ends."""
SEED = 20


class Polish:
    """Improves choices of a relaxation with loose pairs, and offers the best."""

    def __init__(self, relaxer: Relaxer, relaxation: Relaxation, incumbent: Incumbent) -> None:
        """With the relaxation that the search begins with."""
        self.relaxer, self.relaxation, self.incumbent = relaxer, relaxation, incumbent
        self.indexed = relaxation.indexed
        self.random = np.random.default_rng(SEED)

    def improve(self, allowed: Mask, pull: Array | None = None) -> Labels:
        """The best found among the labels (n, m) allowed, some for every room; from the pulls."""
        labels = self._best(self.relaxation, allowed, pull)
        best, cost, tries = labels, self.incumbent.consider(labels), 0
        while tries < TRIES:
            labels = self._round(best, allowed)
            now = self.incumbent.consider(labels)
            tries = 0 if now < cost else tries + 1
            best, cost = (labels, now) if now < cost else (best, cost)
        return best

    def _round(self, labels: Labels, allowed: Mask) -> Labels:
        held = self._held()
        still = allowed.copy()
        still[held] = False
        still[held, labels[held]] = True
        relaxation = self.relaxer.relax(still.sum(axis=1), NOW_AND_THEN, NOW_AND_THEN)
        return self._best(relaxation, still)

    def _held(self) -> list[int]:
        """Rooms so chosen at random that every loose pair has an end among them."""
        held: set[int] = set()
        for ends in self.random.permutation(self.relaxation.loose.ends).tolist():
            if held.isdisjoint(ends):
                held.add(ends[self.random.integers(2)])
        return sorted(held)

    def _best(self, relaxation: Relaxation, allowed: Mask, pull: Array | None = None) -> Labels:
        batch = root(self.indexed, len(relaxation.loose.numbers))
        batch.is_open &= allowed
        ground = Ground(relaxation, batch, self.incumbent.watch.poll)
        point = ground.at(batch.rent, batch.pull if pull is None else pull)
        return np.asarray(point.labels[0])
