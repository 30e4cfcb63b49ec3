"""The whole house as a problem: its costs are those of the checks, its answer the best there is."""

import random
from collections.abc import Mapping
from dataclasses import replace
from itertools import product

import pytest

from housemap.checks import report_of
from housemap.choose.house_problem import PAINT_COST, filled, house_problem, parts_of
from housemap.choose.optimiser.problem import Problem
from housemap.choose.optimiser.solve import solve
from housemap.choose.schemes.house_rules import Rule, broken_wishes
from housemap.errors import EditError
from housemap.file.reader import read_house
from housemap.model.edits import assign, change_entity, put
from housemap.model.house import Brief, House, Room, RoomBrief, SurfacePaints
from tests.benchmarks.brute_houses import wrong
from tests.choose.support.documented import documented_cost, rule_costs
from tests.choose.support.oracles import allows
from tests.choose.support.random_houses import problem_of, random_house
from tests.support.houses import grid_house, paint, small_house

CLOSE = 0.02
"""Of a cost, where colours as seen are within 0.01 CAM16-UCS units."""
COLOURS = {"oat": "#d9d0bf", "sand": "#cbbfa6", "moss": "#7c8468", "rose": "#cfb0a8"}


def bare(count: int) -> House:
    """Rooms in a grid without a wall paint, and four paints to choose from."""
    house = grid_house(count, columns=2)
    return replace(
        house,
        paints={key: paint(hex_, key) for key, hex_ in COLOURS.items()},
        rooms={k: replace(room, paints=SurfacePaints()) for k, room in house.rooms.items()},
    )


@pytest.mark.parametrize("deep", [False, True])
def test_the_cost_of_every_choice_is_that_of_its_findings_and_of_the_rules(deep: bool) -> None:  # noqa: FBT001 - drawn
    report = report_of(bare(4), deep=deep)
    problem = problem_of(report)
    for paints in list(product(COLOURS, repeat=4))[::7]:
        assignment = dict(zip(problem.rooms, paints, strict=True))
        expected = documented_cost(report, assignment, None)
        assert problem.cost(assignment) == pytest.approx(expected, abs=CLOSE)


@pytest.mark.parametrize("seed", range(8))
def test_in_any_small_house_the_suggestion_is_the_best_of_all_choices(seed: int) -> None:
    """By trying all, each cost added up from outside; 500 houses: tests.benchmarks.brute_houses."""
    assert not wrong(seed)


@pytest.mark.parametrize("paints", [None, 1, 3])
def test_no_swap_of_one_paint_betters_what_is_called_best(paints: int | None) -> None:
    report = report_of(random_house(7, rooms=6, paints=5), deep=False)
    problem = problem_of(report, paints=paints)
    solution = solve(problem)
    assert solution.proven
    for room, other in product(problem.rooms, report.house.paints):
        swapped = {**solution.assignment, room: other}
        if allows(problem, swapped):
            assert documented_cost(report, swapped, paints) >= solution.bound - CLOSE


def test_in_a_house_with_light_the_cost_is_that_of_every_finding_in_rooms_and_pairs() -> None:
    """But of the rooms that have no wall paint at all, which nobody fills."""
    house = read_house("demo_house.toml")
    report, chance = report_of(house), random.Random(1)
    problem = problem_of(report, keep=())
    for _ in range(3):
        chosen = {room: chance.choice(paints) for room, paints in problem.candidates.items()}
        after = report.after(filled(house, chosen))
        expected = sum(parts_of(after).values()) + PAINT_COST * len({*chosen.values()})
        expected += sum(rule_costs(after, chosen, None))
        assert problem.cost(chosen) == pytest.approx(expected, abs=0.05, rel=1e-3)


def test_no_choice_costs_less_than_the_answer() -> None:
    problem = problem_of(report_of(bare(4)))
    solution = solve(problem)
    least = min(
        problem.cost(dict(zip(problem.rooms, paints, strict=True)))
        for paints in product(COLOURS, repeat=4)
    )
    assert solution.proven
    assert solution.cost == pytest.approx(least)


def test_only_bare_rooms_are_filled_unless_rooms_to_keep_are_named() -> None:
    house = assign(bare(4), "r0000", "walls", "moss")
    house = assign(house, "r0001", "walls", "rose")
    report = report_of(house, deep=False)
    only_bare = problem_of(report)
    assert only_bare.candidates["r0000"] == ("moss",)
    assert set(only_bare.candidates["r0002"]) == set(COLOURS)
    all_but_one = problem_of(report, keep=["r0000"])
    assert all_but_one.candidates["r0000"] == ("moss",)
    assert set(all_but_one.candidates["r0001"]) == set(COLOURS)


def test_no_paint_of_the_house_is_filtered_out() -> None:
    report = report_of(read_house("demo_house.toml"), deep=False)
    problem = problem_of(report, keep=())
    for candidates in problem.candidates.values():
        assert set(candidates) == set(report.house.paints)


def test_what_the_rules_cost_is_shown_and_is_part_of_the_problem() -> None:
    report = report_of(bare(4), deep=False)
    made = house_problem(report)
    assert {rule.name for rule in made.rules} <= {
        "brief", "tier", "aim", "revision", "strengths", "alike", "variety", "share",
    }  # fmt: skip
    for paints in list(product(COLOURS, repeat=4))[::17]:
        assignment = dict(zip(made.problem.rooms, paints, strict=True))
        rules = sum(rule_costs(report.after(filled(report.house, assignment)), assignment, None))
        shown = sum(_rule_cost(rule, made.problem, assignment) for rule in made.rules)
        assert shown == pytest.approx(rules)


def _rule_cost(rule: Rule, problem: Problem, assignment: Mapping[str, str]) -> float:
    at = {room: problem.candidates[room].index(paint) for room, paint in assignment.items()}
    own = sum(float(costs[at[room]]) for room, costs in rule.own.items())
    pairs = sum(float(p.cost[at[p.rooms[0]], at[p.rooms[1]]]) for p in rule.pairs)
    return own + pairs


def test_a_room_that_the_brief_keeps_stays() -> None:
    house = assign(bare(4), "r0000", "walls", "moss")
    house = replace(house, brief=Brief(rooms={"r0000": RoomBrief(keep=True)}))
    problem = problem_of(report_of(house, deep=False), keep=())
    assert problem.candidates["r0000"] == ("moss",)


def test_a_room_to_keep_without_a_paint_is_not_filled() -> None:
    house = replace(bare(4), brief=Brief(rooms={"r0000": RoomBrief(keep=True)}))
    for keep in (None, ()):
        assert "r0000" not in problem_of(report_of(house, deep=False), keep=keep).candidates


def test_a_wish_that_a_house_does_not_keep_is_named() -> None:
    house = replace(bare(2), brief=Brief(lrv=(60.0, 75.0), colours=2))
    house = assign(assign(house, "r0000", "walls", "moss"), "r0001", "walls", "moss")
    colours, lrv, other = broken_wishes(report_of(house, deep=False).study)
    assert "LRV 60 to 75" in lrv
    assert "LRV 60 to 75" in other
    assert colours == "1 wall colour; up to 2 wished"


def test_the_limit_counts_kept_rooms_too() -> None:
    house = bare(4)
    house = assign(assign(house, "r0000", "walls", "moss"), "r0001", "walls", "rose")
    solution = solve(problem_of(report_of(house, deep=False), keep=["r0000", "r0001"], paints=2))
    assert len(set(solution.assignment.values())) <= 2


def test_the_outdoors_is_never_filled() -> None:
    house = bare(4)
    house = change_entity(house, "rooms", "r0003", use="outdoor")
    assert "r0003" not in problem_of(report_of(house, deep=False)).rooms


@pytest.mark.parametrize(
    ("keep", "words"), [("attic", "no room"), ("kitchen", "no wall paint to keep")]
)
def test_a_room_that_cannot_be_kept_is_told(keep: str, words: str) -> None:
    house = assign(small_house(), "kitchen", "walls", None)
    with pytest.raises(EditError, match=words):
        problem_of(report_of(house, deep=False), keep=[keep])


def test_a_house_without_paints_is_told() -> None:
    house = put(House(), "rooms", "hall", Room("Hall"))
    with pytest.raises(EditError, match="no paint"):
        problem_of(report_of(house, deep=False))


def test_the_parts_of_the_cost_add_up_to_the_cost_of_the_house_as_it_is() -> None:
    report = report_of(read_house("demo_house.toml"))
    painted = {k: r.paints.walls for k, r in report.house.rooms.items() if r.paints.walls}
    problem = problem_of(report, keep=painted)
    paints = {room: paint for room, paint in painted.items() if paint in problem.candidates[room]}
    part = replace(
        problem,
        rooms=tuple(paints),
        pairs=tuple(pair for pair in problem.pairs if paints.keys() >= {*pair.rooms}),
    )
    expected = sum(parts_of(report).values()) + PAINT_COST * len({*paints.values()})
    expected += sum(rule_costs(report, paints, None))
    assert part.cost(paints) == pytest.approx(expected, abs=0.05, rel=1e-3)
