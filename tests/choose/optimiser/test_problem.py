"""What a choice costs, and the problem and its answer as JSON in the shapes of `fill --json`."""

import json
import math
from dataclasses import replace

import numpy as np
import pytest

from housemap.choose.optimiser.problem import (
    Pair,
    Problem,
    Progress,
    Solution,
    answer_json,
    to_json,
)
from housemap.choose.optimiser.solve import solve
from tests.choose.support.oracles import allows

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
    assert allows(HALL_AND_STUDY, {"hall": "chalk", "study": "slate"})
    assert not allows(strict, {"hall": "chalk", "study": "slate"})
    assert allows(strict, {"hall": "oat", "study": "oat"})
    assert not allows(HALL_AND_STUDY, {"hall": "slate", "study": "slate"})
    assert not allows(HALL_AND_STUDY, {"hall": "oat"})


def test_the_object_is_the_one_that_the_format_describes() -> None:
    assert to_json(HALL_AND_STUDY) == OBJECT


def test_the_answer_carries_the_problem_as_solved() -> None:
    answer = answer_json(HALL_AND_STUDY, solve(HALL_AND_STUDY))
    assert set(answer) == {"assignment", "cost", "bound", "proven", "seconds", "problem"}
    assert answer["problem"] == OBJECT
    assert answer["assignment"] == {"hall": "chalk", "study": "slate"}
    assert answer["proven"] is True
    assert answer["bound"] == answer["cost"] == 3.0
    assert json.loads(json.dumps(answer)) == answer


def test_an_answer_without_any_choice_says_null() -> None:
    nothing = Solution({}, math.inf, -math.inf, 0.1, proven=False)
    answer = answer_json(HALL_AND_STUDY, nothing)
    assert (answer["assignment"], answer["cost"], answer["bound"]) == ({}, None, None)


def test_the_gap_is_a_share_of_the_cost() -> None:
    assert Progress({}, 200.0, 190.0, 0.0).gap == pytest.approx(0.05)
    assert Progress({}, 200.0, 200.0, 0.0).gap == 0.0
    assert Progress({}, -100.0, -110.0, 0.0).gap == pytest.approx(0.1)
    assert Progress({}, 0.0, -1.0, 0.0).gap == math.inf
    assert Progress({}, math.inf, 5.0, 0.0).gap == math.inf
    assert Progress({}, math.inf, -math.inf, 0.0).gap == math.inf
