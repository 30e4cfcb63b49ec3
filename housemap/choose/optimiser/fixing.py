"""What a bound rules out: labels by min-marginals, paints by what they would change.

A label, or having or not having a paint, whose own bound reaches the cost of the best choice known
can be left out (reduced-cost fixing); what is left makes smaller tables.
"""

from dataclasses import dataclass

import numpy as np

from housemap.choose.optimiser.batch import Batch, settle
from housemap.choose.optimiser.bound import Ground, Point
from housemap.choose.optimiser.eliminate import Labels, min_marginals
from housemap.choose.optimiser.loose import at_rooms, to_rooms
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.selection import IN, OPEN, OUT


@dataclass(frozen=True, slots=True)
class Outlook:
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


def outlook(ground: Ground) -> Outlook:
    """At the best multipliers of the batch; the bound that they give is kept, in place."""
    batch, indexed = ground.batch, ground.indexed
    point = ground.at(batch.rent, batch.pull)
    batch.bound = np.maximum(batch.bound, point.value)
    marginals = ground.by_room(min_marginals(ground.relaxation.tree, point.up, ground.poll))
    labels = marginals + point.loose.extra
    selection = point.selection
    others = (point.loose.value + selection.value)[:, None]
    elsewhere = (point.up.cost + point.loose.value)[:, None]
    change = (selection.with_paint - selection.value[:, None])[:, indexed.paint]
    most, all_of_it = _missed(ground, labels)
    _remember(batch, point)
    return Outlook(
        point.labels,
        labels + others[..., None] + change,
        elsewhere + selection.with_paint,
        elsewhere + selection.without + most,
        most + all_of_it,
        _conflict(ground, point),
    )


def rule_out(ground: Ground, seen: Outlook, target: float) -> None:
    """Take out, in place, whatever cannot cost less than the target."""
    batch = ground.batch
    batch.is_open &= seen.label < target
    free = batch.state == OPEN
    batch.state[free & (seen.without >= target)] = IN
    batch.state[free & (seen.with_paint >= target)] = OUT
    neither = free & (seen.without >= target) & (seen.with_paint >= target)
    batch.is_open[neither.any(axis=1)] = False
    settle(ground.indexed, batch)


def _missed(ground: Ground, labels: Array) -> tuple[Array, Array]:
    """(b, k): what rooms lose when they must do without a paint; the most of one, and the sum."""
    shape = ground.batch.state.shape
    if labels.shape[2] == 1:
        return np.zeros(shape), np.zeros(shape)
    two = np.partition(labels, 1, axis=2)[..., :2]
    loss = two[..., 1] - two[..., 0]
    cases = np.arange(len(labels))[:, None]
    best = ground.indexed.paint[np.arange(labels.shape[1]), labels.argmin(axis=2)]
    most, all_of_it = np.zeros(shape), np.zeros(shape)
    np.maximum.at(most, (cases, best), loss)
    np.add.at(all_of_it, (cases, best), loss)
    return most, all_of_it


def _remember(batch: Batch, point: Point) -> None:
    """Keep the newest cuts: the bound of any palette is a base less what its paints earn."""
    batch.base = np.roll(batch.base, 1, axis=1)
    batch.cut = np.roll(batch.cut, 1, axis=1)
    batch.base[:, 0] = point.up.cost + point.loose.value
    batch.cut[:, 0] = point.earned


def _conflict(ground: Ground, point: Point) -> Array:
    loose = ground.relaxation.loose
    if not len(loose.numbers):
        return np.zeros(point.labels.shape)
    differ = at_rooms(loose, point.labels) != point.loose.labels
    weight = np.ptp(loose.tables, axis=(1, 2))[:, None] * differ
    return to_rooms(loose, weight[..., None])[..., 0]
