"""A problem refuses what does not fit, and travels as JSON in the shapes of `fill --json`."""

import json
import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from housemap.choose.optimiser.problem import (
    Pair,
    Problem,
    Progress,
    Solution,
    answer_json,
    from_json,
    to_json,
)
from housemap.choose.optimiser.solve import solve
from housemap.errors import InputError
from tests.choose.support.problems import mixed

HALL_AND_STUDY = Problem(
    rooms=("hall", "study"),
    candidates={"hall": ("oat", "chalk"), "study": ("oat", "slate")},
    own={"hall": np.array([1.0, 0.0]), "study": np.array([2.0, 0.5])},
    pairs=(Pair(("hall", "study"), np.array([[0.0, 3.0], [1.0, 2.0]])),),
    paint_cost=0.25,
    paints=2,
)
OBJECT = {
    "rooms": ["hall", "study"],
    "candidates": {"hall": ["oat", "chalk"], "study": ["oat", "slate"]},
    "own": {"hall": [1.0, 0.0], "study": [2.0, 0.5]},
    "pairs": [{"rooms": ["hall", "study"], "cost": [[0.0, 3.0], [1.0, 2.0]]}],
    "paint_cost": 0.25,
    "paints": 2,
}


def test_the_cost_is_that_of_rooms_pairs_and_distinct_paints() -> None:
    assert HALL_AND_STUDY.cost({"hall": "chalk", "study": "slate"}) == 0.0 + 0.5 + 2.0 + 2 * 0.25
    assert HALL_AND_STUDY.cost({"hall": "oat", "study": "oat"}) == 1.0 + 2.0 + 0.0 + 0.25


def test_an_assignment_is_allowed_if_it_is_whole_legal_and_within_the_limit() -> None:
    strict = replace(HALL_AND_STUDY, paints=1)
    assert HALL_AND_STUDY.allows({"hall": "chalk", "study": "slate"})
    assert not strict.allows({"hall": "chalk", "study": "slate"})
    assert strict.allows({"hall": "oat", "study": "oat"})
    assert not HALL_AND_STUDY.allows({"hall": "slate", "study": "slate"})
    assert not HALL_AND_STUDY.allows({"hall": "oat"})


def test_the_costs_of_a_problem_cannot_be_changed_afterwards() -> None:
    cost = np.zeros((2, 2))
    problem = replace(HALL_AND_STUDY, pairs=(Pair(("hall", "study"), cost),))
    cost[0, 0] = 9.0
    assert problem.pairs[0].cost[0, 0] == 0.0
    with pytest.raises(ValueError, match="read-only"):
        problem.own["hall"][0] = 9.0


def test_the_object_is_the_one_that_the_format_describes() -> None:
    assert to_json(HALL_AND_STUDY) == OBJECT


@pytest.mark.parametrize("seed", range(20))
def test_a_problem_survives_the_way_through_text(seed: int) -> None:
    problem = mixed(seed)
    assert to_json(from_json(json.loads(json.dumps(to_json(problem))))) == to_json(problem)


def test_the_answer_carries_the_problem_as_solved() -> None:
    answer = answer_json(HALL_AND_STUDY, solve(HALL_AND_STUDY))
    assert set(answer) == {"assignment", "cost", "bound", "proven", "seconds", "problem"}
    assert answer["problem"] == OBJECT
    assert answer["assignment"] == {"hall": "chalk", "study": "slate"}
    assert answer["proven"] is True
    assert answer["bound"] == answer["cost"] == 3.0
    assert json.loads(json.dumps(answer)) == answer


def test_an_answer_without_any_choice_says_null() -> None:
    nothing = Solution({}, math.inf, -math.inf, 0.1, proven=False, method="search")
    answer = answer_json(HALL_AND_STUDY, nothing)
    assert (answer["assignment"], answer["cost"], answer["bound"]) == ({}, None, None)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda o: o.update(rooms=["hall", "hall"]), "a room is named twice"),
        (lambda o: o["own"].pop("hall"), "own: 'hall' is missing"),
        (lambda o: o["candidates"].update(attic=["oat"]), "'attic' is not one of the rooms"),
        (lambda o: o["candidates"].update(hall=[]), "candidates of 'hall': one or more paints"),
        (lambda o: o["candidates"].update(hall=["oat", "oat"]), "none of them twice"),
        (lambda o: o["own"].update(hall=[1.0]), "own of 'hall': 2 numbers"),
        (lambda o: o["own"].update(hall=[1.0, math.inf]), "finite numbers only"),
        (lambda o: o["own"].update(hall=[1.0, 10**400]), "finite numbers only"),
        (lambda o: o["own"].update(hall=["a", "b"]), "own of 'hall' must be a number"),
        (lambda o: o["pairs"][0].update(cost=[[1.0, 2.0]]), "cost of pair 0: 2 by 2 numbers"),
        (lambda o: o["pairs"][0].update(cost=[[1.0], [1.0, 2.0]]), "rows of one length"),
        (lambda o: o["pairs"][0].update(rooms=["hall", "hall"]), "two different rooms"),
        (lambda o: o["pairs"][0].update(rooms=["hall"]), "rooms of pair 0 must be two rooms"),
        (lambda o: o["pairs"][0].update(more=1), 'an object of "rooms" and "cost"'),
        (lambda o: o["pairs"].append(o["pairs"][0]), "are paired twice"),
        (lambda o: o.update(paints=0), "paints must be at least 1, found 0"),
        (lambda o: o.update(paints=2.5), "paints must be a whole number or null"),
        (lambda o: o.update(paint_cost=-1), "paint_cost must be 0 or more, found -1"),
        (lambda o: o.update(paint_cost=None), "paint_cost must be a number"),
        (lambda o: o.update(rooms="hall"), "rooms must be a list"),
        (lambda o: o.update(rooms=["hall", "a\x1bb"]), "rooms must be a list of names"),
        (lambda o: o.update(candidates=[]), "candidates must be an object"),
        (lambda o: o.update(colour=1), "unknown key 'colour'"),
        (lambda o: o.pop("paints"), "missing key 'paints'"),
    ],
)
def test_what_does_not_fit_is_refused_with_one_clear_line(
    change: Callable[[dict[str, Any]], object], said: str
) -> None:
    value = json.loads(json.dumps(OBJECT))
    change(value)
    with pytest.raises(InputError) as raised:
        from_json(value)
    lines = str(raised.value).splitlines()
    assert any(said in line for line in lines), lines


def test_everything_wrong_is_said_at_once() -> None:
    with pytest.raises(InputError) as raised:
        replace(HALL_AND_STUDY, paints=0, paint_cost=-1.0, rooms=("hall", "study", "study"))
    assert len(raised.value.problems) == 3


@pytest.mark.parametrize("value", [None, 3, "problem", [1]])
def test_anything_but_an_object_is_refused(value: object) -> None:
    with pytest.raises(InputError, match="problem must be an object"):
        from_json(value)


def test_the_gap_is_a_share_of_the_cost() -> None:
    assert Progress({}, 200.0, 190.0, 0.0).gap == pytest.approx(0.05)
    assert Progress({}, 200.0, 200.0, 0.0).gap == 0.0
    assert Progress({}, -100.0, -110.0, 0.0).gap == pytest.approx(0.1)
    assert Progress({}, 0.0, -1.0, 0.0).gap == math.inf
    assert Progress({}, math.inf, 5.0, 0.0).gap == math.inf
    assert Progress({}, math.inf, -math.inf, 0.0).gap == math.inf
