"""The problem: which paint for which room at the least cost; its answer, and both as JSON.

The only thing that the optimiser knows of a house. Costs have one scale, any that adds up; the
cost of a choice is the own cost of each room's paint, the cost of each pair's two paints, and
`paint_cost` for every distinct paint chosen. In the terms of the field: a weighted constraint
satisfaction problem (MAP in a pairwise Markov random field) with a cardinality constraint.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from housemap import errors

Array = NDArray[np.float64]
Method = Literal["elimination", "enumeration", "search"]

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
    """Rooms, the paints that each may have, and what they cost.

    The arrays are copied and frozen. Raises InputError with everything that does not fit.
    """

    rooms: tuple[str, ...]
    candidates: Mapping[str, tuple[str, ...]]
    own: Mapping[str, Array]
    """By room: the cost of each of its candidates."""
    pairs: tuple[Pair, ...] = ()
    paint_cost: float = 0.0
    """Of each distinct paint that is chosen."""
    paints: int | None = None
    """At most so many distinct paints; None for no limit."""

    def __post_init__(self) -> None:
        problems = tuple(_problems(self))
        if problems:
            raise errors.InputError(problems)
        object.__setattr__(self, "own", {room: _frozen(self.own[room]) for room in self.rooms})
        pairs = tuple(Pair(pair.rooms, _frozen(pair.cost)) for pair in self.pairs)
        object.__setattr__(self, "pairs", pairs)

    def cost(self, assignment: Mapping[str, str]) -> float:
        """What the choice costs; it must give every room one of its candidates."""
        chosen = {room: self.candidates[room].index(assignment[room]) for room in self.rooms}
        own = sum(float(self.own[room][index]) for room, index in chosen.items())
        pairs = sum(float(p.cost[chosen[p.rooms[0]], chosen[p.rooms[1]]]) for p in self.pairs)
        return own + pairs + self.paint_cost * len(set(assignment.values()))

    def part(self, rooms: Sequence[str]) -> "Problem":
        """The problem of some of the rooms, without the pairs that lead out of them."""
        kept = set(rooms)
        return Problem(
            tuple(rooms),
            {room: self.candidates[room] for room in rooms},
            {room: self.own[room] for room in rooms},
            tuple(pair for pair in self.pairs if kept.issuperset(pair.rooms)),
            self.paint_cost,
            self.paints,
        )

    def allows(self, assignment: Mapping[str, str]) -> bool:
        """Whether every room has one of its candidates and the paints keep to the limit."""
        return (
            set(assignment) == set(self.rooms)
            and all(assignment[room] in self.candidates[room] for room in self.rooms)
            and (self.paints is None or len(set(assignment.values())) <= self.paints)
        )


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
    method: Method
    nodes: int = 0
    """Branches of the search that were looked into."""


def solution_of(last: Progress, method: Method, nodes: int = 0) -> Solution:
    """The answer that the last progress of a search stands for."""
    proven = last.bound >= last.cost - tolerance(last.cost)
    bound = last.cost if proven else last.bound
    return Solution(last.assignment, last.cost, bound, last.seconds, proven, method, nodes)


def tolerance(cost: float) -> float:
    """How much cheaper a choice must be to count as cheaper."""
    return TOLERANCE * max(1.0, abs(cost)) if math.isfinite(cost) else 0.0


def _frozen(values: Array) -> Array:
    copy = np.array(values, dtype=np.float64)
    copy.setflags(write=False)
    return copy


def _problems(problem: Problem) -> Iterator[errors.Problem]:
    yield from _name_problems(problem)
    yield from _limit_problems(problem)
    if all(room in problem.candidates and room in problem.own for room in problem.rooms):
        yield from _own_problems(problem)
        yield from _pair_problems(problem)


def _name_problems(problem: Problem) -> Iterator[errors.Problem]:
    if len(set(problem.rooms)) < len(problem.rooms):
        yield errors.Problem("rooms: a room is named twice", ("rooms",))
    for key in ("candidates", "own"):
        named: Mapping[str, object] = getattr(problem, key)
        for room in sorted(set(problem.rooms) ^ set(named)):
            said = "missing" if room in problem.rooms else "not one of the rooms"
            yield errors.Problem(f"{key}: {room!r} is {said}", (key, room))


def _limit_problems(problem: Problem) -> Iterator[errors.Problem]:
    if problem.paints is not None and problem.paints < 1:
        text = f"paints must be at least 1, found {problem.paints}"
        yield errors.Problem(text, ("paints",))
    if not (math.isfinite(problem.paint_cost) and problem.paint_cost >= 0):
        text = f"paint_cost must be 0 or more, found {problem.paint_cost}"
        yield errors.Problem(text, ("paint_cost",))


def _own_problems(problem: Problem) -> Iterator[errors.Problem]:
    for room in problem.rooms:
        candidates, own = problem.candidates[room], problem.own[room]
        if not candidates or len(set(candidates)) < len(candidates):
            text = f"candidates of {room!r}: one or more paints, none of them twice"
            yield errors.Problem(text, ("candidates", room))
        yield from _cost_problems(own, (len(candidates),), f"own of {room!r}", ("own", room))


def _pair_problems(problem: Problem) -> Iterator[errors.Problem]:
    seen: set[frozenset[str]] = set()
    for number, pair in enumerate(problem.pairs):
        one, other = pair.rooms
        place = ("pairs", str(number))
        if one == other or not {one, other} <= set(problem.rooms):
            yield errors.Problem(f"pair {number}: two different rooms of the problem", place)
            continue
        if frozenset(pair.rooms) in seen:
            yield errors.Problem(f"pair {number}: {one!r} and {other!r} are paired twice", place)
        seen.add(frozenset(pair.rooms))
        shape = (len(problem.candidates[one]), len(problem.candidates[other]))
        yield from _cost_problems(pair.cost, shape, f"cost of pair {number}", place)


def _cost_problems(
    cost: Array, shape: tuple[int, ...], what: str, place: tuple[str, ...]
) -> Iterator[errors.Problem]:
    if np.shape(cost) != shape:
        right = " by ".join(map(str, shape))
        yield errors.Problem(f"{what}: {right} numbers, one for each candidate", place)
    elif not np.isfinite(cost).all():
        yield errors.Problem(f"{what}: finite numbers only", place)


PROBLEM_KEYS = tuple(field.name for field in fields(Problem))


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


def from_json(value: object) -> Problem:
    """The problem in an object as `to_json` gives it.

    Raises InputError for a key that is missing or unknown, a value of the wrong kind, and whatever
    a Problem refuses.
    """
    keys = _object(value, "problem")
    unknown = sorted(set(keys) - set(PROBLEM_KEYS))
    missing = sorted(set(PROBLEM_KEYS) - set(keys))
    if unknown or missing:
        raise errors.InputError(
            [errors.Problem(f"unknown key {key!r}", (key,)) for key in unknown]
            + [errors.Problem(f"missing key {key!r}", (key,)) for key in missing]
        )
    return Problem(
        rooms=_names(keys["rooms"], "rooms"),
        candidates={
            room: _names(paints, f"candidates of {room!r}")
            for room, paints in _object(keys["candidates"], "candidates").items()
        },
        own={
            room: _numbers(costs, f"own of {room!r}")
            for room, costs in _object(keys["own"], "own").items()
        },
        pairs=tuple(_pair(one, n) for n, one in enumerate(_list(keys["pairs"], "pairs"))),
        paint_cost=_number(keys["paint_cost"], "paint_cost"),
        paints=None if keys["paints"] is None else _whole(keys["paints"], "paints"),
    )


def _pair(value: object, number: int) -> Pair:
    keys = _object(value, f"pair {number}")
    if set(keys) != {"rooms", "cost"}:
        raise _wrong(f"pair {number}", 'an object of "rooms" and "cost"')
    rooms = _names(keys["rooms"], f"rooms of pair {number}")
    if len(rooms) != 2:  # noqa: PLR2004, a pair is two
        raise _wrong(f"rooms of pair {number}", "two rooms")
    return Pair((rooms[0], rooms[1]), _numbers(keys["cost"], f"cost of pair {number}"))


def _object(value: object, what: str) -> Mapping[str, Any]:
    if not isinstance(value, dict) or not all(isinstance(key, str) for key in value):
        raise _wrong(what, "an object")
    return value


def _list(value: object, what: str) -> list[Any]:
    if not isinstance(value, list):
        raise _wrong(what, "a list")
    return value


def _names(value: object, what: str) -> tuple[str, ...]:
    names = _list(value, what)
    if not all(isinstance(name, str) and name.isprintable() for name in names):
        raise _wrong(what, "a list of names")
    return tuple(names)


def _number(value: object, what: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _wrong(what, "a number")
    try:
        return float(value)
    except OverflowError:
        return math.inf


def _whole(value: object, what: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise _wrong(what, "a whole number or null")
    return value


def _numbers(value: object, what: str) -> Array:
    rows = _list(value, what)
    if rows and all(isinstance(row, list) for row in rows):
        lines = [[_number(cell, what) for cell in row] for row in rows]
        if len({len(line) for line in lines}) > 1:
            raise _wrong(what, "rows of one length")
        return np.array(lines, dtype=np.float64)
    return np.array([_number(cell, what) for cell in rows], dtype=np.float64)


def _wrong(what: str, right: str) -> errors.InputError:
    return errors.InputError([errors.Problem(f"{what} must be {right}")])
