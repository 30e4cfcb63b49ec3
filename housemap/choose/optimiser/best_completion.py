"""The best that the whole house can be if a room has a certain paint, for every room and paint.

Where only pairs join the rooms, one pass up and one down give all of these min-marginals exactly.
Where paints do, they are enclosed: from below by a Lagrangian bound, from above by choices that
exist.
"""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from housemap.choose.optimiser.bucket_elimination import Labels
from housemap.choose.optimiser.dual_decomposition import Relaxation, Relaxer
from housemap.choose.optimiser.heuristics import (
    LocalSearch,
    PaletteHeuristic,
    change_costs,
    palette_heuristic,
    plain_choice,
)
from housemap.choose.optimiser.incumbent import Incumbent, Signal, StoppedError, Watch
from housemap.choose.optimiser.indexed import Indexed, index
from housemap.choose.optimiser.lagrangian import (
    DualFunction,
    SubgradientAscent,
    root,
    variable_bounds,
)
from housemap.choose.optimiser.palette_descent import Palettes
from housemap.choose.optimiser.problem import Array, Problem

ROUNDS = 8
"""Looks at the bounds of all labels, with STEPS of the ascent before each."""
STEPS = 11


@dataclass(frozen=True, slots=True, eq=False)
class Completions:
    """By room, for each of its candidates: what the house costs at best with that paint there."""

    at_least: Mapping[str, Array]
    at_most: Mapping[str, Array]
    """What a choice that exists costs; infinite where none is known."""


def completions(
    problem: Problem,
    *,
    seconds: float | None = None,
    stop: Signal | None = None,
) -> Completions:
    """The best cost with each candidate of each room; exact where both bounds agree.

    Stopped early, the bounds are as far as they have come. Raises InputError if no choice keeps to
    the limit of paints.
    """
    indexed = index(problem)
    work = _Work(indexed, Watch(seconds, stop))
    with suppress(StoppedError):
        work.run()
    at_least = np.minimum(work.at_least, work.at_most)
    return Completions(_by_room(indexed, at_least), _by_room(indexed, work.at_most))


def _by_room(indexed: Indexed, values: Array) -> dict[str, Array]:
    rooms = zip(indexed.problem.rooms, values, indexed.sizes, strict=True)
    return {room: row[:size].copy() for room, row, size in rooms}


class _Work:
    """Bounds of all labels (n, m) that draw nearer."""

    def __init__(self, indexed: Indexed, watch: Watch) -> None:
        self.indexed, self.watch = indexed, watch
        self.incumbent = Incumbent(indexed, watch)
        self.at_least = np.full(indexed.own.shape, -np.inf)
        self.at_most = np.full(indexed.own.shape, np.inf)

    def run(self) -> None:
        plain_choice(self.incumbent)
        relaxer = Relaxer(self.indexed, self.watch.poll)
        relaxation = relaxer.relax(self.indexed.sizes)
        if not (relaxation.exact and self._apart(relaxation)):
            self._enclose(relaxation, palette_heuristic(relaxer, self.incumbent))

    def _apart(self, relaxation: Relaxation) -> bool:
        """Exactly, where nothing but pairs joins the rooms."""
        if self.indexed.coupled:
            return False
        start = root(self.indexed, 0)
        self.at_least = variable_bounds(DualFunction(relaxation, start, self.watch.poll)).label[0]
        self.at_most = self.at_least
        return True

    def _enclose(self, relaxation: Relaxation, heuristic: PaletteHeuristic | None) -> None:
        """From both sides; heuristics make a good choice first."""
        start = root(self.indexed, len(relaxation.decoupled.numbers))
        dual = DualFunction(relaxation, start, self.watch.poll)
        self._see(dual)
        LocalSearch(self.incumbent, self.indexed).improve()
        if heuristic is not None:
            heuristic.start(dual.at(start.paint_dual, start.pair_dual).labels[0])
        self._change_one()
        if heuristic is not None:
            self._swap_one(heuristic.palettes)
        ascent = SubgradientAscent(dual, self.incumbent.offer)
        for _ in range(ROUNDS):
            for _ in range(STEPS):
                ascent.step(self.incumbent.target)
            self._see(dual)
        self._change_one()

    def _see(self, dual: DualFunction) -> None:
        self.at_least = np.maximum(self.at_least, variable_bounds(dual).label[0])

    def _swap_one(self, palettes: Palettes) -> None:
        """The best with each paint, in palettes one swap away from the best that is known."""
        labels = self.incumbent.labels
        if labels is not None:
            palette = np.flatnonzero(self.indexed.used(labels[None])[0])
            near = palettes.near(palette, range(len(self.indexed.paints)))
            for rows in (near, palette[None]):
                if len(rows):
                    self.at_most = np.minimum(self.at_most, palettes.least_with(rows))

    def _change_one(self) -> None:
        if self.incumbent.labels is not None:
            changed = one_changed(self.indexed, self.incumbent.labels)
            self.at_most = np.minimum(self.at_most, changed)


def one_changed(indexed: Indexed, labels: Labels) -> Array:
    """(n, m): what the choice (n) costs with one room changed; infinite beyond the cap."""
    alone = indexed.own.copy()
    for (one, other), table in zip(indexed.edges, indexed.pairs, strict=True):
        alone[one, : len(table)] += table[:, labels[other]]
        alone[other, : table.shape[1]] += table[labels[one]]
    return indexed.costs(labels[None]) + change_costs(indexed, labels, alone)
