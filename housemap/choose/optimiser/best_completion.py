"""The best that the whole house can be if a room has a certain paint, for every room and paint.

They are enclosed: from below by a Lagrangian bound, from above by choices that exist.
"""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from housemap.choose.optimiser.bucket_elimination import Labels
from housemap.choose.optimiser.dual_decomposition import Relaxer
from housemap.choose.optimiser.heuristics import (
    LocalSearch,
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
    problem: Problem, *, seconds: float | None = None, stop: Signal | None = None
) -> Completions:
    """The best cost with each candidate of each room; exact where both bounds agree.

    Stopped early, the bounds are as far as they have come. Raises InputError if no choice keeps to
    the limit of paints.
    """
    indexed, watch = index(problem), Watch(seconds, stop)
    at_least, at_most = np.full(indexed.own.shape, -np.inf), np.full(indexed.own.shape, np.inf)
    with suppress(StoppedError):
        for least, most in _enclosing(indexed, Incumbent(indexed, watch)):
            at_least, at_most = np.maximum(at_least, least), np.minimum(at_most, most)
    return Completions(_by_room(indexed, np.minimum(at_least, at_most)), _by_room(indexed, at_most))


def _by_room(indexed: Indexed, values: Array) -> dict[str, Array]:
    rooms = zip(indexed.problem.rooms, values, indexed.sizes, strict=True)
    return {room: row[:size].copy() for room, row, size in rooms}


def _enclosing(
    indexed: Indexed, incumbent: Incumbent
) -> Iterator[tuple[Array | float, Array | float]]:
    """What each label costs at least and at most, from both sides; a good choice is made first."""
    plain_choice(incumbent)
    relaxer = Relaxer(indexed, incumbent.watch.poll)
    relaxation = relaxer.relax(indexed.sizes)
    start = root(indexed, len(relaxation.decoupled.numbers))
    dual = DualFunction(relaxation, start, incumbent.watch.poll)
    yield variable_bounds(dual).label[0], np.inf
    LocalSearch(incumbent, indexed).improve()
    if (heuristic := palette_heuristic(relaxer, incumbent)) is not None:
        heuristic.start(dual.at(start.paint_dual, start.pair_dual).labels[0])
        if incumbent.labels is not None:  # palettes one swap away from the best that is known
            palette = np.flatnonzero(indexed.used(incumbent.labels[None])[0])
            near = heuristic.palettes.near(palette, range(len(indexed.paints)))
            for rows in (near, palette[None]):
                if len(rows):
                    yield -np.inf, heuristic.palettes.least_with(rows)
    ascent = SubgradientAscent(dual, incumbent.offer)
    for _ in range(ROUNDS):
        if incumbent.labels is not None:
            yield -np.inf, one_changed(indexed, incumbent.labels)
        for _ in range(STEPS):
            ascent.step(incumbent.target)
        yield variable_bounds(dual).label[0], np.inf


def one_changed(indexed: Indexed, labels: Labels) -> Array:
    """(n, m): what the choice (n) costs with one room changed; infinite beyond the cap."""
    alone = indexed.own.copy()
    for (one, other), table in zip(indexed.edges, indexed.pairs, strict=True):
        alone[one, : len(table)] += table[:, labels[other]]
        alone[other, : table.shape[1]] += table[labels[one]]
    return indexed.costs(labels[None]) + change_costs(indexed, labels, alone)
