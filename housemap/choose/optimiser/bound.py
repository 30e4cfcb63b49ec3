"""Lower bounds by Lagrangian relaxation of "a room may have a paint only if the house has it".

Rooms pay rent for paints, the palette earns it (Geoffrion 1974): at any rents, the cheapest choice
of the rooms by elimination plus the best palette is a bound. The rents climb by projected,
smoothed subgradients with Polyak's step (Polyak 1969; Camerini, Fratta & Maffioli 1975).
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from housemap.choose.optimiser.batch import Batch, by_paint
from housemap.choose.optimiser.eliminate import (
    Labels,
    Poll,
    Up,
    best_labels,
    eliminate,
    summed_pairs,
)
from housemap.choose.optimiser.loose import LooseBest, at_rooms, carried, cheapest, to_rooms
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.relaxation import Relaxation, restrict
from housemap.choose.optimiser.selection import IN, Selection, select

SMOOTHING = 0.3
"""Weight of the newest subgradient in the direction; the best of 0.15 to 1 in trials."""
PATIENCE = 5
"""Steps without a better bound before they are shortened."""
SHORTER = 0.6
FRESH = 0.1
"""Weight of the newest selection in a node's usage of paints."""

Offer = Callable[[Labels, float], None]
"""Told of a choice that keeps to the cap: its labels (n) and cost."""


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
    """(b): the bound."""


class Ground:
    """The tables of a batch of nodes over the labels that are still open."""

    def __init__(self, relaxation: Relaxation, batch: Batch, poll: Poll) -> None:
        self.relaxation, self.batch, self.poll = relaxation, batch, poll
        self.indexed = relaxation.indexed
        self.restricted = restrict(relaxation, batch.is_open)
        self.pairs = summed_pairs(relaxation.tree, self.restricted.pairs)
        self.own = own_costs(relaxation, batch)

    def at(self, rent: Array, pull: Array) -> Point:
        """The relaxation at these multipliers."""
        loose = self.relaxation.loose
        up = eliminate(self.relaxation.tree, self.by_step(rent, pull), self.pairs, self.poll)
        earned = by_paint(self.indexed, rent)
        cap, paint_cost = self.indexed.cap, self.indexed.problem.paint_cost
        selection = select(earned, self.batch.state, cap, paint_cost)
        pairs = cheapest(loose, pull, self.batch.is_open, self.indexed.closed)
        value = up.cost + selection.value + pairs.value
        return Point(up, self.labels(up), selection, earned, pairs, value)

    def by_step(self, rent: Array, pull: Array) -> list[Array]:
        """Own costs with multipliers, by step of the tree."""
        now = self.own + rent
        if pull.size:
            now += to_rooms(self.relaxation.loose, pull)
        columns = np.take_along_axis(now.reshape(len(now), -1), self.restricted.columns, axis=1)
        return [columns[:, span] for span in self.restricted.spans]

    def labels(self, up: Up) -> Labels:
        """The cheapest labels, by room (b, n)."""
        steps = best_labels(self.relaxation.tree, up)
        starts = np.array([span.start for span in self.restricted.spans], dtype=np.intp)
        places = np.take_along_axis(self.restricted.columns, steps + starts, axis=1)
        labels = np.empty_like(steps)
        labels[:, self.relaxation.rooms] = places % self.batch.is_open.shape[2]
        return labels

    def by_room(self, marginals: list[Array]) -> Array:
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


class Climb:
    """The ascent of a batch of nodes."""

    def __init__(self, ground: Ground, offer: Offer) -> None:
        batch = ground.batch
        self.ground, self.offer = ground, offer
        self.rent, self.pull = batch.rent.copy(), batch.pull.copy()
        self.rent_way, self.pull_way = np.zeros_like(batch.rent), np.zeros_like(batch.pull)
        self.best = np.full(len(batch), -np.inf)
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
        """Bound at the present multipliers, then move them towards a bound of `target`."""
        batch = self.ground.batch
        point = self.ground.at(self.rent, self.pull)
        self._offer(point.labels)
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
        batch.bound = np.maximum(batch.bound, point.value)
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

    def _offer(self, labels: Labels) -> None:
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
