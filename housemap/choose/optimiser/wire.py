"""Problem and answer as JSON objects, in the shapes of `fill --json`.

Anybody can so solve the same problem again with another solver.
"""

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from housemap import errors
from housemap.choose.optimiser.problem import PROBLEM_KEYS, Array, Pair, Problem, Solution


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


def answer_json(problem: Problem, solution: Solution) -> dict[str, Any]:
    """The object that `fill --json` prints; cost and bound are null where there is none in time."""
    return {
        "assignment": dict(solution.assignment),
        "cost": solution.cost if math.isfinite(solution.cost) else None,
        "bound": solution.bound if math.isfinite(solution.bound) else None,
        "proven": solution.proven,
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
