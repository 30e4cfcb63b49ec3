"""What whole palettes cost at least, by bounds that were found on the way.

At any rents (bound.py) a palette costs no less than a base, which is what the rooms cost with rent,
less what its paints earn: a cut, as in Benders' decomposition (Geoffrion 1972).
"""

import numpy as np

from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.indexed import Indexed
from housemap.choose.optimiser.problem import Array

KEPT = 32
"""Cuts, the newest ones."""


class Cuts:
    """Cuts of the whole problem; they hold for palettes that may be better than the best known."""

    def __init__(self, indexed: Indexed) -> None:
        self.paint_cost = indexed.problem.paint_cost
        self.base, self.cut = np.zeros(0), np.zeros((0, len(indexed.paints)))

    def learn(self, base: Array, cut: Array) -> None:
        """Bases (j), and what each paint earns at them (j, k)."""
        self.base = np.concatenate([self.base, base])[-KEPT:]
        self.cut = np.concatenate([self.cut, cut])[-KEPT:]

    def at_least(self, palettes: Labels) -> Array:
        return at_least(palettes, self.base, self.cut, self.paint_cost)


def at_least(palettes: Labels, base: Array, cut: Array, paint_cost: float) -> Array:
    """(palette): the best of the cuts, paints paid for; minus infinity where there is none."""
    has = members(palettes, cut.shape[1])
    bounds = (base - has @ cut.T).max(axis=1, initial=-np.inf)
    return np.asarray(bounds + paint_cost * has.sum(axis=1))


def members(palettes: Labels, paints: int) -> Array:
    """(palette, paint): 1 where the palette has the paint."""
    has = np.zeros((len(palettes), paints))
    np.put_along_axis(has, palettes, 1.0, axis=1)
    return has
