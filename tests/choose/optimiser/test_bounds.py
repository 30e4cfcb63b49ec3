"""The bound is never above the optimum: on the way, stopped at any time, in any precision."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.choose.optimiser.problem import Pair, Progress
from housemap.choose.optimiser.solve import solve
from tests.choose.support.narrow import narrow
from tests.choose.support.oracles import allows
from tests.choose.support.problems import house, open_plan
from tests.choose.support.stopping import After, always_looked_at

QUICK = settings(max_examples=40, deadline=None)
SEEDS = st.integers(0, 10**6)


@QUICK
@given(SEEDS, st.sampled_from([None, 3]), st.sampled_from([200, 10**7]))
def test_the_bound_only_rises_the_cost_only_falls_and_they_enclose_the_optimum(
    seed: int, limit: int | None, cells: int
) -> None:
    problem = open_plan(7, 4, seed, limit=limit, density=0.8)
    told: list[Progress] = []
    with narrow(cells):
        answer = solve(problem, progress=told.append)
    optimum = solve(problem).cost
    bounds, costs = [one.bound for one in told], [one.cost for one in told]
    assert bounds == sorted(bounds)
    assert costs == sorted(costs, reverse=True)
    assert all(
        bound <= optimum + 1e-6 <= cost + 2e-6 for bound, cost in zip(bounds, costs, strict=True)
    )
    assert (told[-1].cost, told[-1].bound) == (answer.cost, answer.bound)
    assert all(allows(problem, one.assignment) for one in told)


@QUICK
@given(seed=SEEDS, looks=st.integers(0, 700), base=st.sampled_from([0.0, 1e6]))
def test_stopped_at_any_time_the_bound_is_not_above_the_optimum(
    seed: int, looks: int, base: float
) -> None:
    problem = house(9, 9, seed, limit=3)
    problem = replace(problem, own={room: base + problem.own[room] for room in problem.rooms})
    optimum = solve(problem).cost
    with narrow(10**7), always_looked_at():
        stopped = solve(problem, stop=After(looks))
    assert stopped.bound <= optimum * (1 + 1e-9)
    assert stopped.cost >= optimum * (1 - 1e-9)


@QUICK
@given(seed=SEEDS, base=st.sampled_from([1e4, 1e7]))
def test_costs_that_single_precision_can_not_tell_apart_are_sets_that_differ(
    seed: int, base: float
) -> None:
    problem = house(7, 6, seed, limit=3)
    own = {room: base + problem.own[room] / 1000 for room in problem.rooms}
    pairs = tuple(Pair(pair.rooms, pair.cost / 1000) for pair in problem.pairs)
    close = replace(problem, own=own, pairs=pairs)
    optimum = solve(problem).cost / 1000 + base * len(problem.rooms)
    with narrow(10**7):
        solution = solve(close)
    assert solution.proven
    assert solution.cost == pytest.approx(optimum, rel=2e-9)
