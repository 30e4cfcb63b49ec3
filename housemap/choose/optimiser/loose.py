"""Pairs that no affordable tree holds: bounded one by one, tied to the rooms by multipliers.

Dual decomposition (Komodakis, Paragios & Tziritas 2007): each such pair may choose its own two
labels, and pays a pull (batch, pair, end, label) for them that the rooms get; at the best pulls
the pairs and the rooms agree as far as the bound can make them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.problem import Array, Poll, no_poll

TOGETHER_CELLS = 300_000
"""Cells of loose pairs looked at in one go: their tables then lie in the cache."""


@dataclass(frozen=True, slots=True, eq=False)
class Loose:
    """The l loose pairs of a relaxation, their tables padded with 0."""

    numbers: Labels
    """(l): which edges of the problem."""
    ends: Labels
    """(l, 2): their rooms."""
    tables: Array
    """(l, m, m)"""
    incidence: Array
    """(n, 2 l): 1 where a room is an end; column 2 i + e for end e of pair i."""


@dataclass(frozen=True, slots=True)
class LooseBest:
    """The cheapest labels of each loose pair under the pulls."""

    value: Array
    """(batch): of all pairs."""
    labels: Labels
    """(batch, l, 2)"""
    extra: Array
    """(batch, n, m): what a label adds to it, by all pairs of the room."""


def loose_of(indexed: Indexed, numbers: Sequence[int]) -> Loose:
    rooms, most = indexed.own.shape
    ends = np.array([indexed.edges[number] for number in numbers], dtype=np.intp).reshape(-1, 2)
    tables = np.zeros((len(numbers), most, most))
    for place, number in enumerate(numbers):
        rows, columns = indexed.pairs[number].shape
        tables[place, :rows, :columns] = indexed.pairs[number]
    incidence = np.zeros((rooms, ends.size))
    incidence[ends.ravel(), np.arange(ends.size)] = 1.0
    return Loose(np.array(numbers, dtype=np.intp), ends, tables, incidence)


def to_rooms(loose: Loose, values: Array) -> Array:
    """Values by end and label (batch, l, 2, m) summed by room (batch, n, m)."""
    return loose.incidence @ values.reshape(len(values), loose.ends.size, values.shape[-1])


def at_rooms(loose: Loose, values: NDArray[Any]) -> NDArray[Any]:
    """Values by room (batch, n, ...) at each end (batch, l, 2, ...)."""
    return values[:, loose.ends]


def cheapest(
    loose: Loose, pull: Array, is_open: Mask, closed: float, poll: Poll = no_poll
) -> LooseBest:
    """The pairs' own choice among the open labels (batch, n, m)."""
    paid = np.where(at_rooms(loose, is_open), -pull, closed)
    batch, count, _, most = paid.shape
    by_end, labels = np.empty_like(paid), np.empty((batch, count, 2), dtype=np.intp)
    together = max(1, TOGETHER_CELLS // (batch * most * most))
    for start in range(0, count, together):
        poll()
        part = slice(start, start + together)
        costs = loose.tables[part] + paid[:, part, 0, :, None] + paid[:, part, 1, None, :]
        flat = costs.reshape(*costs.shape[:2], most * most).argmin(axis=2)
        labels[:, part] = np.stack(np.divmod(flat, most), axis=-1)
        by_end[:, part, 0], by_end[:, part, 1] = costs.min(axis=3), costs.min(axis=2)
    least = by_end.min(axis=3)
    return LooseBest(least[:, :, 0].sum(axis=1), labels, to_rooms(loose, by_end - least[..., None]))


def carried(before: Labels, after: Labels, pull: Array) -> Array:
    """The pulls of the pairs that stay loose, by number; 0 for those that become so."""
    place = {number: at for at, number in enumerate(before.tolist())}
    result = np.zeros((len(pull), len(after), *pull.shape[2:]))
    for at, number in enumerate(after.tolist()):
        if number in place:
            result[:, at] = pull[:, place[number]]
    return result
