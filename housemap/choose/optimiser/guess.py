"""Where good choices come from: palettes tried and swapped, or polish where pairs are loose."""

from typing import Protocol

import numpy as np

from housemap import errors
from housemap.choose.optimiser.batch import Batch
from housemap.choose.optimiser.covering import covering
from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.incumbent import Incumbent
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.palettes import Palettes
from housemap.choose.optimiser.polish import Polish
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.relaxation import Relaxation, Relaxer
from housemap.choose.optimiser.selection import IN, OPEN, OUT
from housemap.choose.optimiser.width import Budget

OFTEN_USED = 0.5
"""Share of selections that have a paint, for it to be part of a palette where paints cost."""
AT_FIRST = 160
"""Palettes tried before the first bounds."""
DOZEN = 12
"""Paints of a palette where nothing but their cost limits them."""
A_PALETTE = Budget(5_000_000, 500_000)
"""For the elimination over one palette; thousands are made."""


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
        self.palettes.descend(palette, ranking, AT_FIRST)

    def again(self, batch: Batch) -> None:
        rankings = rank_paints(batch)
        palettes = self._leaning(batch, rankings)
        fresh = [place for place, row in enumerate(palettes) if self._is_new(row)]
        if not fresh:
            return
        self._batches += 1
        before = self.incumbent.target
        costs = self.palettes.costs(palettes[fresh])
        if costs.min() < before or self._batches & (self._batches - 1) == 0:
            place = fresh[int(costs.argmin())]
            self.palettes.descend(palettes[place], rankings[place])

    def _leaning(self, batch: Batch, rankings: Labels) -> Labels:
        """By node, the most used paints: as many as the cap, or those used most of the time."""
        indexed = self.palettes.indexed
        palettes = rankings[:, : indexed.cap]
        if not indexed.problem.paint_cost:
            return palettes
        often = (batch.state == IN) | ((batch.state == OPEN) & (batch.usage > OFTEN_USED))
        count = np.maximum(often.sum(axis=1, keepdims=True), 1)
        return np.where(np.arange(indexed.cap) < count, palettes, palettes[:, :1])

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


def palettes_for(relaxer: Relaxer, incumbent: Incumbent) -> Palettes | None:
    """If paints join the rooms, and palettes of the cap or a dozen make small enough tables."""
    if relaxer.whole is None or not incumbent.indexed.coupled:
        return None
    size = min(incumbent.indexed.cap, DOZEN)
    sizes = np.minimum(incumbent.indexed.sizes, size)
    fits = relaxer.whole.fits(sizes, A_PALETTE)
    return Palettes(relaxer.whole, incumbent) if fits else None


def guess_for(
    relaxer: Relaxer, relaxation: Relaxation, incumbent: Incumbent
) -> PaletteGuess | PolishGuess:
    """For a search that begins with the relaxation."""
    palettes = palettes_for(relaxer, incumbent)
    if palettes is None:
        return PolishGuess(Polish(relaxer, relaxation, incumbent))
    return PaletteGuess(palettes)


def plain_choice(incumbent: Incumbent) -> None:
    """Offer each room's cheapest paint within a palette of those used most; prove what is plain.

    Raises InputError if no choice keeps to the cap.
    """
    indexed = incumbent.indexed
    palette = palette_for(incumbent, by_use(indexed, indexed.own.argmin(axis=1)))
    own = np.where(_allowed(indexed, palette), indexed.own, np.inf)
    labels = own.argmin(axis=1)
    pairs = sum(float(table.min()) for table in indexed.pairs)
    incumbent.prove(float(indexed.own.min(axis=1).sum()) + pairs)
    incumbent.consider(labels)


def palette_for(incumbent: Incumbent, ranking: Labels) -> Labels:
    """A palette with which every room has a candidate, filled up from the ranking.

    Where paints cost, it is not filled up. Raises InputError if there is none.
    """
    indexed = incumbent.indexed
    found = covering(indexed, ranking, incumbent.watch.poll)
    if found is None:
        text = f"no choice of candidates keeps to the limit of paints, {indexed.cap}"
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
