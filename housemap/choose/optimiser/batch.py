"""Nodes of the search, alone and side by side in one batch of arrays."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.selection import IN, OPEN, OUT, State

CUTS = 4
"""How many of the newest bounds of palettes a node keeps."""


@dataclass(slots=True, eq=False)
class Batch:
    """b nodes: what is still open in each, its multipliers, and what is proved of it."""

    bound: Array
    """(b): no choice that the node still allows costs less."""
    is_open: Mask
    """(b, n, m): the labels that a better choice may have."""
    state: State
    """(b, k): the paints that it must have, may have, can not have."""
    rent: Array
    """(b, n, m), 0 or more: what a room pays for a paint, multiplier of `label => paint`."""
    pull: Array
    """(b, l, 2, m): multipliers of the loose pairs."""
    usage: Array
    """(b, k): share of the last selections that had the paint."""
    base: Array
    """(b, j): with `cut`, bounds of single palettes: `base` less the sum of `cut` over it."""
    cut: Array
    """(b, j, k)"""

    def __len__(self) -> int:
        return len(self.bound)

    def take(self, cases: object) -> "Batch":
        """The nodes that an index or a mask picks."""
        return Batch(*(getattr(self, field.name)[cases] for field in fields(self)))

    def sizes(self, case: int) -> Labels:
        """(n): how many labels are open in each room of a node."""
        return np.asarray(self.is_open[case].sum(axis=1), dtype=np.intp)

    @property
    def alive(self) -> Mask:
        """(b): whether every room still has a label."""
        return np.asarray(self.is_open.sum(axis=2).min(axis=1) > 0)


def root(indexed: Indexed, loose: int) -> Batch:
    rooms, most = indexed.own.shape
    paints = len(indexed.paints)
    return Batch(
        np.array([-np.inf]),
        indexed.real[None].copy(),
        np.zeros((1, paints), dtype=np.int8),
        np.zeros((1, rooms, most)),
        np.zeros((1, loose, 2, most)),
        np.full((1, paints), 0.5),
        np.full((1, CUTS), -np.inf),
        np.zeros((1, CUTS, paints)),
    )


def joined(batches: Sequence[Batch]) -> Batch:
    columns = ([getattr(one, field.name) for one in batches] for field in fields(Batch))
    return Batch(*(np.concatenate(column) for column in columns))


def by_paint(indexed: Indexed, values: Array | Mask) -> Array:
    """Values by room and label (b, n, m) summed by paint (b, k)."""
    batch, paints = len(values), len(indexed.paints)
    places = indexed.paint + paints * np.arange(batch)[:, None, None]
    weights = values.ravel().astype(np.float64)
    sums = np.bincount(places.ravel(), weights, minlength=batch * paints)
    return sums.astype(np.float64).reshape(batch, paints)


def settle(indexed: Indexed, batch: Batch) -> None:
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
    batch.rent *= batch.is_open & (states != IN)
