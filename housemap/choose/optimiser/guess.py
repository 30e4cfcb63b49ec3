"""Where good choices come from: palettes tried and swapped, or polish where pairs are loose."""

from typing import Protocol

import numpy as np

from housemap import errors
from housemap.choose.optimiser.batch import Batch
from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.incumbent import Incumbent
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.palettes import Palettes, covering
from housemap.choose.optimiser.polish import Polish
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.relaxation import Relaxation
from housemap.choose.optimiser.selection import IN, OUT


class Guess(Protocol):
    """Offers choices to the incumbent."""

    def start(self, palette: Labels, ranking: Labels, pull: Array) -> None:
        """From a palette that gives every room a candidate, and paints by their use."""

    def again(self, batch: Batch) -> None:
        """From what the bounds of a batch have learnt."""


class PaletteGuess:
    """Each new palette that the nodes lean to is tried.

    One that is better than all before is improved by swaps, and so is the best of the 1st, 2nd,
    4th, 8th ... batch, whatever it costs: a descent from elsewhere may end lower.
    """

    def __init__(self, palettes: Palettes) -> None:
        self.palettes, self.incumbent = palettes, palettes.incumbent
        self._tried: set[frozenset[int]] = set()
        self._batches = 0

    def start(self, palette: Labels, ranking: Labels, pull: Array) -> None:
        del pull  # nothing is loose
        self.palettes.descend(palette, ranking)

    def again(self, batch: Batch) -> None:
        cap = self.palettes.indexed.cap
        rows = [row for row in rank_paints(batch) if self._is_new(row[:cap])]
        if not rows:
            return
        self._batches += 1
        before = self.incumbent.target
        costs = self.palettes.costs(np.array(rows)[:, :cap])
        if costs.min() < before or self._batches & (self._batches - 1) == 0:
            ranking = rows[int(costs.argmin())]
            self.palettes.descend(ranking[:cap], ranking)

    def _is_new(self, palette: Labels) -> bool:
        known = len(self._tried)
        self._tried.add(frozenset(palette.tolist()))
        return len(self._tried) > known


class PolishGuess:
    """Polish, at the 1st, 2nd, 4th, 8th ... batch of the search."""

    def __init__(self, polish: Polish) -> None:
        self.polish, self.indexed = polish, polish.indexed
        self._batches = 0

    def start(self, palette: Labels, ranking: Labels, pull: Array) -> None:
        del ranking
        free = self.polish.improve(self.indexed.real, pull)
        if self.indexed.cap < len(self.indexed.paints):
            palette = palette_for(self.polish.incumbent, by_use(self.indexed, free))
            self.polish.improve(_allowed(self.indexed, palette), pull)

    def again(self, batch: Batch) -> None:
        self._batches += 1
        if self._batches & (self._batches - 1) == 0:
            leaning = rank_paints(batch)[int(batch.bound.argmin())]
            palette = palette_for(self.polish.incumbent, leaning)
            self.polish.improve(_allowed(self.indexed, palette))


def guess_for(relaxation: Relaxation, incumbent: Incumbent) -> Guess:
    if relaxation.exact:
        return PaletteGuess(Palettes(relaxation, incumbent))
    return PolishGuess(Polish(relaxation, incumbent))


def plain_choice(incumbent: Incumbent) -> None:
    """Offer each room's cheapest paint within a palette of those used most; prove what is plain.

    Raises InputError if no choice keeps to the cap.
    """
    indexed = incumbent.indexed
    palette = palette_for(incumbent, by_use(indexed, indexed.own.argmin(axis=1)))
    own = np.where(_allowed(indexed, palette), indexed.own, np.inf)
    labels = own.argmin(axis=1)
    incumbent.consider(labels)
    pairs = sum(float(table.min()) for table in indexed.pairs)
    incumbent.prove(float(indexed.own.min(axis=1).sum()) + pairs)


def palette_for(incumbent: Incumbent, ranking: Labels) -> Labels:
    """A palette with which every room has a candidate, filled up from the ranking.

    Where paints cost, it is not filled up. Raises InputError if there is none.
    """
    indexed = incumbent.indexed
    found = covering(indexed, ranking, incumbent.watch.poll)
    if found is None:
        text = f"no {indexed.cap} paints give every room one of its candidates"
        raise errors.InputError([errors.Problem(text, ("paints",))])
    more = [] if indexed.problem.paint_cost else [p for p in ranking.tolist() if p not in found]
    return np.array([*found, *more][: indexed.cap], dtype=np.intp)


def by_use(indexed: Indexed, labels: Labels) -> Labels:
    """All paints, those first that most rooms have at the labels (n)."""
    rooms = np.arange(len(labels))
    use = np.bincount(indexed.paint[rooms, labels], minlength=len(indexed.paints))
    return np.argsort(-use, kind="stable")


def rank_paints(batch: Batch) -> Labels:
    """By node, all paints: those in, then the most used of the open ones, then those out."""
    lean = np.where(batch.state == IN, 2.0, np.where(batch.state == OUT, -1.0, batch.usage))
    return np.argsort(-lean, axis=1, kind="stable")


def _allowed(indexed: Indexed, palette: Labels) -> Mask:
    return indexed.real & np.isin(indexed.paint, palette)
