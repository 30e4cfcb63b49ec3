"""Two other ways to the optimum, which share no code with the optimiser."""

from collections.abc import Mapping
from itertools import product
from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from housemap.choose.optimiser.problem import Pair, Problem


def allows(problem: Problem, assignment: Mapping[str, str]) -> bool:
    """Whether every room has one of its candidates and the paints keep to the limit."""
    return (
        set(assignment) == set(problem.rooms)
        and all(assignment[room] in problem.candidates[room] for room in problem.rooms)
        and (problem.paints is None or len(set(assignment.values())) <= problem.paints)
    )


def read_problem(value: Mapping[str, Any]) -> Problem:
    """The problem in an object of `fill --json`, as anyone may read it."""
    return Problem(
        tuple(value["rooms"]),
        {room: tuple(paints) for room, paints in value["candidates"].items()},
        {room: np.array(costs) for room, costs in value["own"].items()},
        tuple(Pair(tuple(pair["rooms"]), np.array(pair["cost"])) for pair in value["pairs"]),
        value["paint_cost"],
        value["paints"],
    )


def by_trying_all(problem: Problem) -> float | None:
    """The least cost of all assignments that keep to the limit; None if there are none."""
    rooms = problem.rooms
    choices = product(*(problem.candidates[room] for room in rooms))
    costs = [
        problem.cost(assignment)
        for choice in choices
        if allows(problem, assignment := dict(zip(rooms, choice, strict=True)))
    ]
    return min(costs, default=None)


def by_highs(problem: Problem) -> float:
    """The least cost by HiGHS (Huangfu & Hall 2018), as scipy brings it.

    The integer programme of Schlesinger's local polytope: 0/1 for a room's paint, 0 to 1 for a
    pair's two, which must sum to them, and 0/1 for each paint that any room has.
    """
    programme = _Programme(problem)
    result = milp(
        programme.costs,
        integrality=np.array(programme.whole),
        bounds=Bounds(0, 1),
        constraints=programme.constraints(),
        options={"mip_rel_gap": 0.0},
    )
    assert result.status == 0, result.message
    return float(result.fun)


class _Programme:
    """Columns: labels of rooms, then of pairs, then paints."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.costs: list[float] = []
        self.whole: list[int] = []
        self.rows: list[tuple[dict[int, float], float, float]] = []
        self.labels = {room: self._columns(problem.own[room], whole=1) for room in problem.rooms}
        for room in problem.rooms:
            self.rows.append((dict.fromkeys(self.labels[room], 1.0), 1.0, 1.0))
        for pair in problem.pairs:
            self._pair(pair.rooms, pair.cost)
        self._paints()

    def constraints(self) -> LinearConstraint:
        triples = [(n, column, value) for n, row in enumerate(self.rows)
                   for column, value in row[0].items()]  # fmt: skip
        places, columns, values = zip(*triples, strict=True)
        shape = (len(self.rows), len(self.costs))
        matrix = coo_array((values, (places, columns)), shape=shape).tocsr()
        return LinearConstraint(
            matrix, [row[1] for row in self.rows], [row[2] for row in self.rows]
        )

    def _columns(self, costs: np.typing.ArrayLike, whole: int) -> list[int]:
        flat = np.ravel(costs).tolist()
        first = len(self.costs)
        self.costs += flat
        self.whole += [whole] * len(flat)
        return list(range(first, first + len(flat)))

    def _pair(self, rooms: tuple[str, str], cost: np.typing.NDArray[np.float64]) -> None:
        cells = np.array(self._columns(cost, whole=0)).reshape(cost.shape)
        for room, lines in zip(rooms, (cells, cells.T), strict=True):
            for label, line in zip(self.labels[room], lines, strict=True):
                self.rows.append(({**dict.fromkeys(line.tolist(), 1.0), label: -1.0}, 0.0, 0.0))

    def _paints(self) -> None:
        names = sorted({paint for each in self.problem.candidates.values() for paint in each})
        columns = self._columns([self.problem.paint_cost] * len(names), whole=1)
        paints = dict(zip(names, columns, strict=True))
        for room in self.problem.rooms:
            for label, paint in zip(self.labels[room], self.problem.candidates[room], strict=True):
                self.rows.append(({label: 1.0, paints[paint]: -1.0}, -np.inf, 0.0))
        if self.problem.paints is not None:
            self.rows.append((dict.fromkeys(columns, 1.0), -np.inf, float(self.problem.paints)))
