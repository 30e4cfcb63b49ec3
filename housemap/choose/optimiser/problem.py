"""The problem: which paint for which room at the least cost; its answer, and both as JSON.

The only thing that the optimiser knows of a house. Costs have one scale, any that adds up; the
cost of a choice is the own cost of each room's paint, the cost of each pair's two paints, and
`paint_cost` for every distinct paint chosen. In the terms of the field: a weighted constraint
satisfaction problem (MAP in a pairwise Markov random field) with a cardinality constraint.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

Poll = Callable[[], None]
"""Called between small pieces of work; it raises to end it."""

TOLERANCE = 1e-9
"""Share of a cost below which two costs count as the same: what rounding may add up to."""


def no_poll() -> None:
    """Never end the work."""


@dataclass(frozen=True, slots=True, eq=False)
class Pair:
    """What the paints of two rooms cost together."""

    rooms: tuple[str, str]
    cost: Array
    """Row: candidate of the first room; column: candidate of the second."""


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """Rooms, the paints that each may have (one or more), and what they cost: finite figures."""

    rooms: tuple[str, ...]
    candidates: Mapping[str, tuple[str, ...]]
    own: Mapping[str, Array]
    """By room: the cost of each of its candidates."""
    pairs: tuple[Pair, ...] = ()
    paint_cost: float = 0.0
    """Of each distinct paint that is chosen."""
    paints: int | None = None
    """At most so many distinct paints; None for no limit."""

    def cost(self, assignment: Mapping[str, str]) -> float:
        """What the choice costs; it must give every room one of its candidates."""
        chosen = {room: self.candidates[room].index(assignment[room]) for room in self.rooms}
        own = sum(float(self.own[room][index]) for room, index in chosen.items())
        pairs = sum(float(p.cost[chosen[p.rooms[0]], chosen[p.rooms[1]]]) for p in self.pairs)
        return own + pairs + self.paint_cost * len(set(assignment.values()))


@dataclass(frozen=True, slots=True)
class Progress:
    """The best choice known so far, and what no choice can be cheaper than."""

    assignment: Mapping[str, str]
    """Room to paint; empty as long as no choice is known."""
    cost: float
    """Infinite as long as no choice is known."""
    bound: float
    seconds: float

    @property
    def gap(self) -> float:
        """At most so much cheaper, as a share of the cost, could a choice be; 0 when proven."""
        if self.bound >= self.cost:
            return 0.0
        if math.isinf(self.cost):
            return math.inf
        return (self.cost - self.bound) / abs(self.cost) if self.cost else math.inf


@dataclass(frozen=True, slots=True)
class Solution(Progress):
    """The answer: optimal where it says proven, else the best found with its bound."""

    proven: bool


def solution_of(last: Progress) -> Solution:
    """The answer that the last progress of a search stands for."""
    proven = last.bound >= last.cost - tolerance(last.cost)
    bound = last.cost if proven else last.bound
    return Solution(last.assignment, last.cost, bound, last.seconds, proven)


def tolerance(cost: float) -> float:
    """How much cheaper a choice must be to count as cheaper."""
    return TOLERANCE * max(1.0, abs(cost)) if math.isfinite(cost) else 0.0


# As JSON, in the shapes of `fill --json`, so that anyone can solve it again with another solver.


def to_json(problem: Problem) -> dict[str, Any]:
    """The problem as an object of plain lists, strings and numbers."""
    return {
        "rooms": list(problem.rooms),
        "candidates": {room: list(problem.candidates[room]) for room in problem.rooms},
        "own": {room: problem.own[room].tolist() for room in problem.rooms},
        "pairs": [{"rooms": list(p.rooms), "cost": p.cost.tolist()} for p in problem.pairs],
        "paint_cost": problem.paint_cost,
        "paints": problem.paints,
    }


def answer_json(problem: Problem, solution: Progress) -> dict[str, Any]:
    """The object that `fill --json` prints; cost and bound are null where there is none in time."""
    return {
        "assignment": dict(solution.assignment),
        "cost": solution.cost if math.isfinite(solution.cost) else None,
        "bound": solution.bound if math.isfinite(solution.bound) else None,
        "proven": solution.gap == 0.0,
        "seconds": solution.seconds,
        "problem": to_json(problem),
    }
