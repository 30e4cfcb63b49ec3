"""What the house costs at best with each paint in each room: exact, or enclosed."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.choose.optimiser.best_completion import Completions, completions, one_changed
from housemap.choose.optimiser.indexed import index
from housemap.choose.optimiser.problem import Array, Problem
from housemap.choose.optimiser.solve import solve
from housemap.errors import InputError
from tests.choose.support.narrow import narrow
from tests.choose.support.oracles import allows, by_trying_all
from tests.choose.support.problems import house, mixed, open_plan
from tests.choose.support.stopping import After


def with_paint(problem: Problem, room: str, place: int) -> Problem:
    """The same problem, where the room has no other candidate."""
    paint = problem.candidates[room][place]
    pairs = tuple(
        type(pair)(
            pair.rooms,
            pair.cost[[place]] if pair.rooms[0] == room
            else pair.cost[:, [place]] if pair.rooms[1] == room else pair.cost,
        )
        for pair in problem.pairs
    )  # fmt: skip
    return Problem(
        problem.rooms,
        {**problem.candidates, room: (paint,)},
        {**problem.own, room: problem.own[room][[place]]},
        pairs,
        problem.paint_cost,
        problem.paints,
    )


def best_by_trying_all(problem: Problem) -> dict[str, Array]:
    return {
        room: np.array(
            [
                np.inf if best is None else best
                for place in range(len(problem.candidates[room]))
                for best in [by_trying_all(with_paint(problem, room, place))]
            ]
        )
        for room in problem.rooms
    }


def encloses(found: Completions, best: dict[str, Array]) -> None:
    for room, values in best.items():
        assert found.at_least[room].shape == found.at_most[room].shape == values.shape
        assert (found.at_least[room] <= values + 1e-6).all()
        assert (found.at_most[room] >= values - 1e-6).all()


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**6), cells=st.sampled_from([30, 10**7]))
def test_what_is_not_exact_is_enclosed(seed: int, cells: int) -> None:
    problem = mixed(seed, most_rooms=4, most_paints=4)
    if by_trying_all(problem) is None:
        with pytest.raises(InputError):
            completions(problem)
        return
    best = best_by_trying_all(problem)
    with narrow(cells):
        encloses(completions(problem), best)


@pytest.mark.parametrize("seed", range(3))
def test_with_a_limit_each_paint_lies_between_its_bounds(seed: int) -> None:
    problem = house(20, 14, seed, limit=5)
    answer = solve(problem)
    found = completions(problem)
    assert min(found.at_most[room].min() for room in problem.rooms) == pytest.approx(answer.cost)
    for room in ("r0", "r7"):
        for place in range(14):
            best = solve(with_paint(problem, room, place)).cost
            assert found.at_least[room][place] <= best + 1e-6
            assert found.at_most[room][place] >= best - 1e-6


def test_the_bounds_say_something() -> None:
    problem = house(30, 16, 2, limit=6, roles=4)
    found = completions(problem)
    answer = solve(problem)
    worse = sum(int((found.at_least[room] > answer.cost + 1e-6).sum()) for room in problem.rooms)
    assert worse > 30 * 16 / 2, "most paints are known to cost more than the best"
    assert all(np.isfinite(found.at_most[room]).all() for room in problem.rooms)


def test_stopped_early_they_still_enclose() -> None:
    problem = open_plan(5, 4, 3, limit=2)
    encloses(completions(problem, stop=After(0)), best_by_trying_all(problem))


@pytest.mark.parametrize("seed", range(30))
def test_a_choice_with_one_room_changed_costs_what_it_says(seed: int) -> None:
    problem = mixed(seed)
    if by_trying_all(problem) is None:
        return
    indexed = index(problem)
    assignment = solve(problem).assignment
    places = [problem.candidates[room].index(assignment[room]) for room in problem.rooms]
    changed = one_changed(indexed, np.array(places))
    for number, room in enumerate(problem.rooms):
        for place, paint in enumerate(problem.candidates[room]):
            other = {**assignment, room: paint}
            expected = problem.cost(other) if allows(problem, other) else np.inf
            assert changed[number, place] == pytest.approx(expected)
