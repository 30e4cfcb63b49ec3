"""Nodes with few palettes left are finished by listing those, instead of branching."""

import numpy as np

from housemap.choose.optimiser.batch import Batch
from housemap.choose.optimiser.cuts import at_least
from housemap.choose.optimiser.indexed import Mask
from housemap.choose.optimiser.palettes import Palettes, count_within, within

LISTED = 1500
"""Palettes that a node may have to be listed; the cuts of its bounds then rule most of them out."""
TRIED = 20
"""Palettes that may be left by the cuts to be tried, each by an elimination."""
TRIED_AT_ONCE = 100
"""The same before any search."""


class Listing:
    """Finishes nodes of an exact relaxation."""

    def __init__(self, palettes: Palettes) -> None:
        self.palettes, self.incumbent = palettes, palettes.incumbent
        self.indexed = palettes.indexed
        self.paint_cost = palettes.indexed.problem.paint_cost

    def finish(self, batch: Batch, tried: int = TRIED) -> Mask:
        """(b): which nodes had so few palettes left that all were tried."""
        done = [self._finish(batch, place, tried) for place in range(len(batch))]
        return np.array(done, dtype=np.bool_)

    def _finish(self, batch: Batch, place: int, tried: int) -> bool:
        state, cap, all_sizes = batch.state[place], self.indexed.cap, self.paint_cost > 0
        if count_within(state, cap, all_sizes=all_sizes) > LISTED:
            return False
        listed = within(state, cap, all_sizes=all_sizes)
        bounds = at_least(listed, batch.base[place], batch.cut[place], self.paint_cost)
        better = bounds < self.incumbent.target
        if better.sum() > tried:
            return False
        self.palettes.costs(listed[better])
        return True
