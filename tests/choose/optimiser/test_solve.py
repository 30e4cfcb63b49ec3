"""The optimum where it says proven, whatever the problem; the bound never above it."""

from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.choose.optimiser.indexed import index, lift
from housemap.choose.optimiser.problem import Pair, Problem, Progress, Solution
from housemap.choose.optimiser.solve import solve
from housemap.errors import InputError
from tests.choose.support.narrow import narrow
from tests.choose.support.oracles import allows, by_highs, by_trying_all
from tests.choose.support.problems import differing, house, mixed, open_plan, problem_of

QUICK = settings(max_examples=40, deadline=None)
SEEDS = st.integers(0, 10**6)


def holds(problem: Problem, solution: Solution, optimum: float) -> None:
    """It is proven, legal, costs what it says, and is the optimum."""
    assert solution.proven
    assert solution.bound == solution.cost
    assert allows(problem, solution.assignment)
    assert problem.cost(solution.assignment) == pytest.approx(solution.cost)
    assert solution.cost == pytest.approx(optimum, abs=1e-6)


def solved_like_trying_all(problem: Problem) -> None:
    optimum = by_trying_all(problem)
    if optimum is None:
        with pytest.raises(InputError, match="keeps to the limit of paints"):
            solve(problem)
    else:
        holds(problem, solve(problem), optimum)


@settings(max_examples=150, deadline=None)
@given(SEEDS)
def test_any_small_problem_is_solved_as_by_trying_all(seed: int) -> None:
    solved_like_trying_all(mixed(seed))


@settings(max_examples=100, deadline=None)
@given(
    seed=SEEDS,
    cells=st.sampled_from([10, 40, 80]),
    crowded=st.booleans(),
)
def test_so_it_is_with_hardly_any_room(seed: int, cells: int, *, crowded: bool) -> None:
    with narrow(cells, crowded=crowded):
        solved_like_trying_all(mixed(seed))


@settings(max_examples=100, deadline=None)
@given(SEEDS, st.sampled_from([10, 80]))
def test_so_it_is_where_rooms_are_to_differ(seed: int, cells: int) -> None:
    with narrow(cells):
        solved_like_trying_all(differing(seed))


@settings(max_examples=100, deadline=None)
@given(SEEDS)
def test_lifted_costs_are_never_above_the_costs_which_are_as_before(seed: int) -> None:
    indexed = index(differing(seed))
    lifted, random = lift(indexed) or indexed, np.random.default_rng(seed)
    labels = random.integers(0, indexed.sizes, (50, len(indexed.sizes)))
    assert lifted.costs(labels) == pytest.approx(indexed.costs(labels))
    assert (lifted.lifted_costs(labels) <= indexed.costs(labels) + 1e-9).all()


def test_an_open_plan_whose_rooms_are_to_differ_is_proven_at_the_root() -> None:
    paints, rooms = 8, 6
    seen = [(edge, 4.0 * np.eye(paints)) for edge in combinations(range(rooms), 2)]
    problem = problem_of(np.zeros((rooms, paints)), seen, paint_cost=1.0)
    with narrow(80):
        solution = solve(problem)
    holds(problem, solution, float(rooms))


@pytest.mark.parametrize("limit", [None, 3, 5])
@pytest.mark.parametrize("paint_cost", [0.0, 150.0])
@pytest.mark.parametrize("seed", range(8))
def test_houses_are_solved_as_by_highs(seed: int, paint_cost: float, limit: int | None) -> None:
    problem = house(9, 7, seed, limit=limit, roles=seed % 2 * 3, paint_cost=paint_cost)
    holds(problem, solve(problem), by_highs(problem))


@pytest.mark.parametrize("limit", [None, 2, 3, 4])
@pytest.mark.parametrize("seed", range(40))
def test_open_plans_are_solved_as_by_highs(seed: int, limit: int | None) -> None:
    problem = open_plan(6, 5, seed, limit=limit, density=0.7, paint_cost=seed % 3 * 4.0)
    optimum = by_highs(problem)
    holds(problem, solve(problem), optimum)
    with narrow(60):
        holds(problem, solve(problem), optimum)


@pytest.mark.parametrize("seed", range(4))
def test_the_wide_search_agrees_with_elimination_on_ten_rooms_that_all_see_each_other(
    seed: int,
) -> None:
    problem = open_plan(10, 5, seed, limit=3)
    exact = solve(problem)
    for crowded in (False, True):
        with narrow(2000, crowded=crowded):
            wide = solve(problem)
        holds(problem, wide, exact.cost)


@pytest.mark.parametrize("seed", range(3))
def test_a_house_of_forty_rooms_costs_the_same_however_many_nodes_may_wait(seed: int) -> None:
    problem = house(40, 8, seed, limit=4)
    palettes = solve(problem)
    for crowded in (False, True):
        with narrow(10**7, crowded=crowded):
            branched = solve(problem)
        holds(problem, branched, palettes.cost)


@pytest.mark.parametrize("seed", range(4))
def test_many_paints_are_ruled_out_until_exact_tables_are_affordable(seed: int) -> None:
    problem = house(14, 40, seed, limit=5, roles=4)
    exact = solve(problem)
    with narrow(40_000):
        holds(problem, solve(problem), exact.cost)
    few = house(7, 26, seed, limit=3, roles=3)
    holds(few, solve(few), by_highs(few))


def test_without_a_limit_elimination_proves_at_once() -> None:
    solution = solve(house(120, 12))
    assert solution.proven


def test_a_limit_that_does_not_bind_changes_nothing() -> None:
    problem = house(30, 12, 5, roles=3)
    free = solve(problem)
    used = len(set(free.assignment.values()))
    assert solve(replace(problem, paints=used)).cost == pytest.approx(free.cost)


@QUICK
@given(SEEDS)
def test_one_paint_more_never_costs_more(seed: int) -> None:
    problem = house(12, 8, seed)
    costs = [solve(replace(problem, paints=limit)).cost for limit in (1, 2, 3, 4, 6, 8, None)]
    assert all(more <= fewer + 1e-6 for fewer, more in pairwise(costs))


@QUICK
@given(SEEDS)
def test_a_dearer_paint_never_makes_the_house_use_more_of_them(seed: int) -> None:
    problem = house(10, 8, seed)
    answers = [solve(replace(problem, paint_cost=cost)) for cost in (0.0, 80.0, 300.0, 1e5)]
    counts = [len(set(answer.assignment.values())) for answer in answers]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] == 1


@QUICK
@given(SEEDS)
def test_the_order_of_rooms_paints_and_pairs_does_not_matter(seed: int) -> None:
    problem = mixed(seed)
    if by_trying_all(problem) is None:
        return
    turned = Problem(
        problem.rooms[::-1],
        {room: problem.candidates[room][::-1] for room in problem.rooms},
        {room: problem.own[room][::-1] for room in problem.rooms},
        tuple(Pair(pair.rooms[::-1], pair.cost.T[::-1, ::-1]) for pair in problem.pairs[::-1]),
        problem.paint_cost,
        problem.paints,
    )
    assert solve(turned).cost == pytest.approx(solve(problem).cost, abs=1e-6)


def test_rooms_that_keep_their_paint_count_towards_the_limit() -> None:
    problem = Problem(
        ("hall", "study", "bath"),
        {"hall": ("oat",), "study": ("oat", "slate", "chalk"), "bath": ("chalk", "slate")},
        {"hall": np.zeros(1), "study": np.array([9.0, 0.0, 5.0]), "bath": np.array([0.0, 1.0])},
        (),
        paints=2,
    )
    assert solve(problem).assignment == {"hall": "oat", "study": "slate", "bath": "slate"}


def test_a_kept_room_that_everybody_sees_is_no_matter_of_width() -> None:
    rooms = tuple(f"r{number}" for number in range(90))
    random = np.random.default_rng(7)
    candidates = dict.fromkeys(rooms, ("a", "b", "c")) | {"r0": ("b",)}
    problem = Problem(
        rooms,
        candidates,
        {room: random.uniform(0, 9, len(candidates[room])) for room in rooms},
        tuple(Pair(("r0", room), random.uniform(0, 9, (1, 3))) for room in rooms[1:]),
    )
    solution = solve(problem)
    expected = {"r0": "b"}
    for pair in problem.pairs:
        room = pair.rooms[1]
        expected[room] = "abc"[int((problem.own[room] + pair.cost[0]).argmin())]
    assert solution.assignment == expected


def test_parts_that_see_nothing_of_each_other_are_solved_apart() -> None:
    wide = open_plan(9, 4, 1)
    narrow_part = house(12, 4, 2)
    names = {room: f"n{room}" for room in narrow_part.rooms}
    both = Problem(
        (*wide.rooms, *names.values()),
        {**wide.candidates, **{names[r]: c for r, c in narrow_part.candidates.items()}},
        {**wide.own, **{names[r]: c for r, c in narrow_part.own.items()}},
        (*wide.pairs, *(Pair((names[p.rooms[0]], names[p.rooms[1]]), p.cost)
                        for p in narrow_part.pairs)),
    )  # fmt: skip
    optimum = solve(wide).cost + solve(narrow_part).cost
    with narrow(2000):
        told: list[Progress] = []
        holds(both, solve(both, progress=told.append), optimum)
    assert all(set(one.assignment) == set(both.rooms) for one in told)


def test_a_house_without_rooms_costs_nothing() -> None:
    solution = solve(Problem((), {}, {}))
    assert (solution.assignment, solution.cost, solution.proven) == ({}, 0.0, True)


def test_a_limit_that_no_choice_keeps_to_is_said_to_be_so() -> None:
    problem = Problem(
        ("hall", "study", "bath"),
        {"hall": ("oat",), "study": ("chalk",), "bath": ("oat", "slate")},
        {"hall": np.zeros(1), "study": np.zeros(1), "bath": np.zeros(2)},
        (),
        paints=1,
    )
    with pytest.raises(InputError, match="keeps to the limit of paints, 1"):
        solve(problem)
