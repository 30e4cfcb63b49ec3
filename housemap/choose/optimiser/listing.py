"""Nodes with few palettes left are finished by listing those, instead of branching."""

import numpy as np

from housemap.choose.optimiser.batch import Batch
from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.indexed import Mask
from housemap.choose.optimiser.palettes import Palettes, count_within, members, within
from housemap.choose.optimiser.problem import Array

LISTED = 1500
"""Palettes that a node may have to be listed; the cuts of its bounds then rule most of them out."""
TRIED = 100
"""Palettes that may be left by the cuts to be tried, each by an elimination."""


class Listing:
    """Finishes nodes of an exact relaxation."""

    def __init__(self, palettes: Palettes) -> None:
        self.palettes, self.incumbent = palettes, palettes.incumbent
        self.indexed = palettes.indexed
        self.paint_cost = palettes.indexed.problem.paint_cost

    def finish(self, batch: Batch) -> Mask:
        """(b): which nodes had so few palettes left that all were tried."""
        return np.array([self._finish(batch, place) for place in range(len(batch))], dtype=np.bool_)

    def _finish(self, batch: Batch, place: int) -> bool:
        state, cap, all_sizes = batch.state[place], self.indexed.cap, self.paint_cost > 0
        if count_within(state, cap, all_sizes=all_sizes) > LISTED:
            return False
        listed = within(state, cap, all_sizes=all_sizes)
        better = self._bounds(listed, batch.base[place], batch.cut[place]) < self.incumbent.target
        if better.sum() > TRIED:
            return False
        self.palettes.costs(listed[better])
        return True

    def _bounds(self, listed: Labels, base: Array, cut: Array) -> Array:
        """What each palette costs at least, by the best of the cuts."""
        has = members(listed, len(self.indexed.paints))
        bounds: Array = (base - has @ cut.T).max(axis=1) + self.paint_cost * has.sum(axis=1)
        return bounds
