"""The ascent of the multipliers of a bound: projected, smoothed subgradients with Polyak's step.

Polyak 1969; Camerini, Fratta & Maffioli 1975. Steps are computed in single precision, which is
quicker; what they find is proved in double (fixing.py).
"""

from collections.abc import Callable

import numpy as np

from housemap.choose.optimiser.bound import Ground, Point
from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.loose import at_rooms, carried
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.selection import IN

SMOOTHING = 0.3
"""Weight of the newest subgradient in the direction; the best of 0.15 to 1 in trials."""
PATIENCE = 5
"""Steps without a better bound before they are shortened."""
SHORTER = 0.6
FRESH = 0.1
"""Weight of the newest selection in a node's usage of paints."""

Offer = Callable[[Labels, float], None]
"""Told of a choice that keeps to the cap: its labels (n) and cost."""


class Climb:
    """The ascent of a batch of nodes."""

    def __init__(self, ground: Ground, offer: Offer) -> None:
        batch = ground.batch
        self.ground, self.offer = ground, offer
        self.rent, self.pull = batch.rent.copy(), batch.pull.copy()
        self.rent_way, self.pull_way = np.zeros_like(batch.rent), np.zeros_like(batch.pull)
        self.best = np.full(len(batch), -np.inf)
        """(b): about the best bound so far, which the multipliers of the batch give."""
        self.scale = np.ones(len(batch))
        self.stalled = np.zeros(len(batch), dtype=np.intp)
        self.newest = 1.0
        self.go_on(ground)

    def go_on(self, ground: Ground) -> None:
        """On other ground under the same batch: fewer labels, or another relaxation."""
        if ground.relaxation is not self.ground.relaxation:
            before = self.ground.relaxation.loose.numbers
            after = ground.relaxation.loose.numbers
            self.pull = carried(before, after, self.pull)
            self.pull_way = carried(before, after, self.pull_way)
            self.best = np.full(len(self.best), -np.inf)
        self.ground = ground
        states = ground.batch.state[:, ground.indexed.paint]
        self.payable = ground.batch.is_open & (states != IN)
        self.most = ground.indexed.closed / (4 * len(ground.indexed.own))
        self.rent *= self.payable
        self.rent_way *= self.payable

    def step(self, target: float) -> None:
        """See the present multipliers, then move them towards a bound of `target`."""
        batch = self.ground.batch
        point = self.ground.at(self.rent, self.pull, single=True)
        self.consider(point.labels)
        self._keep(point)
        batch.usage += FRESH * (point.selection.chosen - batch.usage)
        rent_slope, pull_slope = self._slopes(point)
        self.rent_way += self.newest * (rent_slope - self.rent_way)
        self.pull_way += self.newest * (pull_slope - self.pull_way)
        self.newest = SMOOTHING
        self._move(target - point.value, rent_slope, pull_slope)

    def _keep(self, point: Point) -> None:
        batch = self.ground.batch
        better = point.value > self.best
        clearly = point.value > self.best + 1e-4 * np.abs(point.value)
        self.best = np.maximum(self.best, point.value)
        batch.rent[better], batch.pull[better] = self.rent[better], self.pull[better]
        self.stalled = np.where(clearly, 0, self.stalled + 1)
        tired = self.stalled > PATIENCE
        self.scale[tired] *= SHORTER
        self.stalled[tired] = 0

    def _slopes(self, point: Point) -> tuple[Array, Array]:
        """Subgradients by rent (b, n, m) and by pull (b, l, 2, m)."""
        picked = one_hot(point.labels, self.rent.shape[2])
        has = point.selection.chosen[:, self.ground.indexed.paint]
        rent_slope = np.where(self.payable, picked - has, 0.0)
        if not self.pull.size:
            return rent_slope, self.pull
        loose = self.ground.relaxation.loose
        wish = one_hot(point.loose.labels, self.rent.shape[2])
        return rent_slope, at_rooms(loose, picked) - wish

    def _move(self, short: Array, rent_slope: Array, pull_slope: Array) -> None:
        floor = self.rent <= 0
        up_hill = np.where(floor & (rent_slope < 0), 0.0, rent_slope)
        square = (up_hill**2).sum(axis=(1, 2)) + (pull_slope**2).sum(axis=(1, 2, 3))
        size = self.scale * np.maximum(short, 0.0) / np.maximum(square, 1.0)
        way = np.where(floor & (self.rent_way < 0), 0.0, self.rent_way)
        self.rent = np.clip(self.rent + size[:, None, None] * way, 0.0, self.most)
        if self.pull.size:
            self.pull = self.pull + size[:, None, None, None] * self.pull_way

    def consider(self, labels: Labels) -> None:
        """Offer the cheapest of the choices that happen to keep to the cap."""
        indexed = self.ground.indexed
        keeps = indexed.used(labels).sum(axis=1) <= indexed.cap
        if keeps.any():
            costs = np.where(keeps, indexed.costs(labels), np.inf)
            best = int(costs.argmin())
            self.offer(labels[best], float(costs[best]))


def one_hot(labels: Labels, most: int) -> Array:
    """1 at each label (..., m), 0 elsewhere."""
    return np.equal(labels[..., None], np.arange(most)).astype(np.float64)
