"""The half of the relaxation that knows paints only: which of them to have, given what each earns.

Rooms pay rent for a paint (bound.py); having it costs `paint_cost` and earns the rent. Choosing
the at most `cap` paints that earn most is a sort. A paint is in the palette (1), open (0) or out
(-1), by case.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from housemap.choose.optimiser.indexed import Mask
from housemap.choose.optimiser.problem import Array

State = NDArray[np.int8]
IN, OPEN, OUT = 1, 0, -1


@dataclass(frozen=True, slots=True)
class Selection:
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
