"""Lagrangian relaxation (Geoffrion 1974) of "a room may have a paint only if the house has it".

A room pays the multiplier `paint_dual` for its paint and the palette earns it. At any multipliers
the cheapest choice of the rooms (bucket elimination), the best palette (a sort) and the decoupled
pairs (dual decomposition) add up to a lower bound. The multipliers are raised by smoothed,
projected subgradients with Polyak's step (Polyak 1969; Camerini, Fratta & Maffioli 1975), and
what a bound rules out is removed (reduced-cost fixing).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.choose.optimiser.bucket_elimination import (
    Labels,
    Table,
    UpwardPass,
    best_labels,
    eliminate,
    min_marginals,
    pair_tables,
)
from housemap.choose.optimiser.dual_decomposition import (
    DecoupledBest,
    Relaxation,
    at_rooms,
    carried,
    cheapest,
    restrict,
    to_rooms,
)
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.problem import Array, Poll

State = NDArray[np.int8]
IN, OPEN, OUT = 1, 0, -1


class Selection(NamedTuple):
    """The paints that are best to have, and what every other wish would change (batch, paint)."""

    value: Array
    """(batch): what the paints cost less what they earn."""
    chosen: Mask
    with_paint: Array
    """The value if the paint must be had; infinite where there is no place for it."""
    without: Array
    """The value if it must not; infinite where it is in."""


def select(earned: Array, state: State, cap: int, paint_cost: float) -> Selection:
    """The best paints for what each would earn (batch, paint), 0 for those that are in."""
    free = state == OPEN
    kept = (state == IN).sum(axis=1)
    places = (cap - kept)[:, None]
    net = np.where(free, earned - paint_cost, -np.inf)
    order = np.argsort(-net, axis=1, kind="stable")
    ranked = np.take_along_axis(net, order, axis=1)
    ranks = np.arange(net.shape[1])
    taken = (ranks < places) & (ranked > 0)
    count = taken.sum(axis=1)[:, None]
    chosen = np.zeros_like(free)
    np.put_along_axis(chosen, order, taken, axis=1)
    value = (paint_cost * kept - np.where(taken, ranked, 0.0).sum(axis=1))[:, None]
    last = np.take_along_axis(ranked, np.maximum(count - 1, 0), axis=1)
    following = np.take_along_axis(ranked, np.minimum(count, net.shape[1] - 1), axis=1)
    spare = np.where((count < places) | (count == net.shape[1]), 0.0, np.maximum(following, 0.0))
    pushed = np.where(count < places, 0.0, np.where(count > 0, last, np.inf))
    instead = value - net + pushed
    return Selection(
        value[:, 0],
        chosen | (state == IN),
        np.where(chosen | (state == IN), value, np.where(free, instead, np.inf)),
        np.where(chosen, value + net - spare, np.where(state == IN, np.inf, value)),
    )


# Nodes of the search, side by side in one batch of arrays.


@dataclass(slots=True, eq=False)
class NodeBatch:
    """b nodes: what is still open in each, its multipliers, and what is proved of it."""

    bound: Array
    """(b): no choice that the node still allows costs less."""
    is_open: Mask
    """(b, n, m): the labels that a better choice may have."""
    state: State
    """(b, k): the paints that it must have, may have, can not have."""
    paint_dual: Array
    """(b, n, m), 0 or more: what a room pays for a paint, multiplier of `label => paint`."""
    pair_dual: Array
    """(b, l, 2, m): multipliers of the decoupled pairs."""
    usage: Array
    """(b, k): share of the last selections that had the paint."""

    def __len__(self) -> int:
        return len(self.bound)

    def take(self, cases: object) -> "NodeBatch":
        """The nodes that an index or a mask picks."""
        return NodeBatch(*(getattr(self, field.name)[cases] for field in fields(self)))

    def sizes(self, case: int) -> Labels:
        """(n): how many labels are open in each room of a node."""
        return np.asarray(self.is_open[case].sum(axis=1), dtype=np.intp)

    @property
    def alive(self) -> Mask:
        """(b): whether every room still has a label."""
        return np.asarray(self.is_open.sum(axis=2).min(axis=1) > 0)


def root(indexed: Indexed, decoupled: int) -> NodeBatch:
    rooms, most = indexed.own.shape
    paints = len(indexed.paints)
    return NodeBatch(
        np.array([-np.inf]),
        indexed.real[None].copy(),
        np.zeros((1, paints), dtype=np.int8),
        np.zeros((1, rooms, most)),
        np.zeros((1, decoupled, 2, most)),
        np.full((1, paints), 0.5),
    )


def joined(batches: Sequence[NodeBatch]) -> NodeBatch:
    columns = ([getattr(one, field.name) for one in batches] for field in fields(NodeBatch))
    return NodeBatch(*(np.concatenate(column) for column in columns))


def by_paint(indexed: Indexed, values: Array | Mask) -> Array:
    """Values by room and label (b, n, m) summed by paint (b, k)."""
    batch, paints = len(values), len(indexed.paints)
    places = indexed.paint + paints * np.arange(batch)[:, None, None]
    weights = values.ravel().astype(np.float64)
    sums = np.bincount(places.ravel(), weights, minlength=batch * paints)
    return sums.astype(np.float64).reshape(batch, paints)


def propagate(indexed: Indexed, batch: NodeBatch) -> None:
    """Carry what is known of labels over to paints, and back, in place.

    A room with one label left has its paint; a paint that no room may have is out; once the cap is
    full, the others are out.
    """
    single = batch.is_open & (batch.is_open.sum(axis=2, keepdims=True) == 1)
    batch.state[by_paint(indexed, single) > 0] = IN
    batch.state[(batch.state == OPEN) & (by_paint(indexed, batch.is_open) == 0)] = OUT
    kept = (batch.state == IN).sum(axis=1)[:, None]
    batch.state[(kept >= indexed.cap) & (batch.state == OPEN)] = OUT
    states = batch.state[:, indexed.paint]
    batch.is_open &= (states != OUT) & (kept <= indexed.cap)[:, None]
    batch.paint_dual *= batch.is_open & (states != IN)


# The dual function: a lower bound at given multipliers.

Precision = type[np.float32 | np.float64]


@dataclass(slots=True, eq=False)
class DualPoint:
    """What the relaxation says at given multipliers."""

    up: UpwardPass
    labels: Labels
    """(b, n)"""
    selection: Selection
    decoupled: DecoupledBest
    value: Array
    """(b): the bound; in single precision, about the bound."""


class DualFunction:
    """The tables of a batch of nodes over the labels that are still open."""

    def __init__(self, relaxation: Relaxation, batch: NodeBatch, poll: Poll) -> None:
        self.relaxation, self.batch, self.poll = relaxation, batch, poll
        self.indexed = relaxation.indexed
        self.restricted = restrict(relaxation, batch.is_open)
        self.pairs = pair_tables(relaxation.tree, self.restricted.pairs)
        self.own = own_costs(relaxation, batch)

    def at(self, paint_dual: Array, pair_dual: Array, *, single: bool = False) -> DualPoint:
        """The relaxation at these multipliers; in single precision only about so."""
        decoupled = self.relaxation.decoupled
        own = self.by_step(paint_dual, pair_dual, np.float32 if single else np.float64)
        tables = self._single_pairs if single else self.pairs
        up = eliminate(self.relaxation.tree, own, tables, self.poll)
        earned = by_paint(self.indexed, paint_dual)
        selection = select(earned, self.batch.state, self.indexed.cap, self.indexed.paint_cost)
        pairs = cheapest(decoupled, pair_dual, self.batch.is_open, self.indexed.closed, self.poll)
        value = up.cost + selection.value + pairs.value
        return DualPoint(up, self.labels(up), selection, pairs, value)

    @cached_property
    def _single_pairs(self) -> list[list[Table]]:
        return [[table.astype(np.float32) for table in step] for step in self.pairs]

    def by_step(self, paint_dual: Array, pair_dual: Array, precision: Precision) -> list[Table]:
        """Own costs with multipliers, by step of the tree."""
        now = self.own + paint_dual
        if pair_dual.size:
            now += to_rooms(self.relaxation.decoupled, pair_dual)
        columns = np.take_along_axis(now.reshape(len(now), -1), self.restricted.columns, axis=1)
        columns = columns.astype(precision)
        return [columns[:, span] for span in self.restricted.spans]

    def labels(self, up: UpwardPass) -> Labels:
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


def own_costs(relaxation: Relaxation, batch: NodeBatch) -> Array:
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


# Reduced-cost fixing: labels by min-marginals, paints by what they would change.


class VariableBounds(NamedTuple):
    """Bounds on what a batch of nodes can still reach."""

    labels: Labels
    """(b, n): what the rooms would have at the best multipliers."""
    label: Array
    """(b, n, m): with the label."""
    with_paint: Array
    """(b, k): with the paint in the palette."""
    without: Array
    """(b, k): without it."""
    regret: Array
    """(b, k): what the rooms that would have the paint lose without it, by their own count."""
    conflict: Array
    """(b, n): how much may hang on the pairs of a room that disagree with it."""


def variable_bounds(dual: DualFunction) -> VariableBounds:
    """At the best multipliers of the batch; the bound that they give is kept, in place."""
    batch, indexed = dual.batch, dual.indexed
    point = dual.at(batch.paint_dual, batch.pair_dual)
    batch.bound = np.maximum(batch.bound, point.value)
    marginals = dual.by_room(min_marginals(dual.relaxation.tree, point.up, dual.poll))
    labels = marginals + point.decoupled.extra
    selection = point.selection
    others = (point.decoupled.value + selection.value)[:, None]
    elsewhere = (point.up.cost + point.decoupled.value)[:, None]
    change = (selection.with_paint - selection.value[:, None])[:, indexed.paint]
    most, all_of_it = _missed(dual, labels)
    return VariableBounds(
        point.labels,
        labels + others[..., None] + change,
        elsewhere + selection.with_paint,
        elsewhere + selection.without + most,
        most + all_of_it,
        _conflict(dual, point),
    )


def rule_out(dual: DualFunction, seen: VariableBounds, target: float) -> None:
    """Take out, in place, whatever cannot cost less than the target."""
    batch = dual.batch
    batch.is_open &= seen.label < target
    free = batch.state == OPEN
    batch.state[free & (seen.without >= target)] = IN
    batch.state[free & (seen.with_paint >= target)] = OUT
    neither = free & (seen.without >= target) & (seen.with_paint >= target)
    batch.is_open[neither.any(axis=1)] = False
    propagate(dual.indexed, batch)


def _missed(dual: DualFunction, labels: Array) -> tuple[Array, Array]:
    """(b, k): what rooms lose when they must do without a paint; the most of one, and the sum."""
    shape = dual.batch.state.shape
    if labels.shape[2] == 1:
        return np.zeros(shape), np.zeros(shape)
    two = np.partition(labels, 1, axis=2)[..., :2]
    loss = two[..., 1] - two[..., 0]
    cases = np.arange(len(labels))[:, None]
    best = dual.indexed.paint[np.arange(labels.shape[1]), labels.argmin(axis=2)]
    most, all_of_it = np.zeros(shape), np.zeros(shape)
    np.maximum.at(most, (cases, best), loss)
    np.add.at(all_of_it, (cases, best), loss)
    return most, all_of_it


def _conflict(dual: DualFunction, point: DualPoint) -> Array:
    decoupled = dual.relaxation.decoupled
    if not len(decoupled.numbers):
        return np.zeros(point.labels.shape)
    differ = at_rooms(decoupled, point.labels) != point.decoupled.labels
    weight = np.ptp(decoupled.tables, axis=(1, 2))[:, None] * differ
    return to_rooms(decoupled, weight[..., None])[..., 0]


# The subgradient ascent. Steps are in single precision, what they find is proved in double.

SMOOTHING = 0.3
"""Weight of the newest subgradient in the direction; the best of 0.15 to 1 in trials."""
PATIENCE = 5
"""Steps without a better bound before they are shortened."""
SHORTER = 0.6
FRESH = 0.1
"""Weight of the newest selection in a node's usage of paints."""

Offer = Callable[[Labels, float], None]
"""Called with a choice that keeps to the cap: its labels (n) and cost."""


class SubgradientAscent:
    """The ascent of a batch of nodes."""

    def __init__(self, dual: DualFunction, offer: Offer) -> None:
        batch = dual.batch
        self.dual, self.offer = dual, offer
        self.paint_dual, self.pair_dual = batch.paint_dual.copy(), batch.pair_dual.copy()
        self.paint_direction, self.pair_direction = (
            np.zeros_like(batch.paint_dual),
            np.zeros_like(batch.pair_dual),
        )
        self.best = np.full(len(batch), -np.inf)
        """(b): about the best bound so far, which the multipliers of the batch give."""
        self.scale = np.ones(len(batch))
        self.stalled = np.zeros(len(batch), dtype=np.intp)
        self.newest = 1.0
        self.continue_on(dual)

    def continue_on(self, dual: DualFunction) -> None:
        """On another dual function under the same batch: fewer labels, or another relaxation."""
        if dual.relaxation is not self.dual.relaxation:
            before = self.dual.relaxation.decoupled.numbers
            after = dual.relaxation.decoupled.numbers
            self.pair_dual = carried(before, after, self.pair_dual)
            self.pair_direction = carried(before, after, self.pair_direction)
            self.best = np.full(len(self.best), -np.inf)
        self.dual = dual
        states = dual.batch.state[:, dual.indexed.paint]
        self.payable = dual.batch.is_open & (states != IN)
        self.most = dual.indexed.closed / (4 * len(dual.indexed.own))
        self.paint_dual *= self.payable
        self.paint_direction *= self.payable

    def step(self, target: float) -> None:
        """See the present multipliers, then move them towards a bound of `target`."""
        batch = self.dual.batch
        point = self.dual.at(self.paint_dual, self.pair_dual, single=True)
        self.consider(point.labels)
        self._keep(point)
        batch.usage += FRESH * (point.selection.chosen - batch.usage)
        paint_subgradient, pair_subgradient = self._slopes(point)
        self.paint_direction += self.newest * (paint_subgradient - self.paint_direction)
        self.pair_direction += self.newest * (pair_subgradient - self.pair_direction)
        self.newest = SMOOTHING
        self._move(target - point.value, paint_subgradient, pair_subgradient)

    def _keep(self, point: DualPoint) -> None:
        batch = self.dual.batch
        better = point.value > self.best
        clearly = point.value > self.best + 1e-4 * np.abs(point.value)
        self.best = np.maximum(self.best, point.value)
        batch.paint_dual[better], batch.pair_dual[better] = (
            self.paint_dual[better],
            self.pair_dual[better],
        )
        self.stalled = np.where(clearly, 0, self.stalled + 1)
        tired = self.stalled > PATIENCE
        self.scale[tired] *= SHORTER
        self.stalled[tired] = 0

    def _slopes(self, point: DualPoint) -> tuple[Array, Array]:
        """Subgradients by room and label (b, n, m), and by decoupled pair (b, l, 2, m)."""
        picked = one_hot(point.labels, self.paint_dual.shape[2])
        has = point.selection.chosen[:, self.dual.indexed.paint]
        paint_subgradient = np.where(self.payable, picked - has, 0.0)
        if not self.pair_dual.size:
            return paint_subgradient, self.pair_dual
        decoupled = self.dual.relaxation.decoupled
        wish = one_hot(point.decoupled.labels, self.paint_dual.shape[2])
        return paint_subgradient, at_rooms(decoupled, picked) - wish

    def _move(self, short: Array, paint_subgradient: Array, pair_subgradient: Array) -> None:
        floor = self.paint_dual <= 0
        up_hill = np.where(floor & (paint_subgradient < 0), 0.0, paint_subgradient)
        square = (up_hill**2).sum(axis=(1, 2)) + (pair_subgradient**2).sum(axis=(1, 2, 3))
        size = self.scale * np.maximum(short, 0.0) / np.maximum(square, 1.0)
        way = np.where(floor & (self.paint_direction < 0), 0.0, self.paint_direction)
        self.paint_dual = np.clip(self.paint_dual + size[:, None, None] * way, 0.0, self.most)
        if self.pair_dual.size:
            self.pair_dual = self.pair_dual + size[:, None, None, None] * self.pair_direction

    def consider(self, labels: Labels) -> None:
        """Offer the cheapest of the choices that happen to keep to the cap."""
        indexed = self.dual.indexed
        keeps = indexed.used(labels).sum(axis=1) <= indexed.cap
        if keeps.any():
            costs = np.where(keeps, indexed.costs(labels), np.inf)
            best = int(costs.argmin())
            self.offer(labels[best], float(costs[best]))


def one_hot(labels: Labels, most: int) -> Array:
    """1 at each label (..., m), 0 elsewhere."""
    return np.equal(labels[..., None], np.arange(most)).astype(np.float64)
