"""The whole house as a problem: its costs are those of the checks, its answer the best there is."""

import random
from collections.abc import Mapping
from dataclasses import replace
from itertools import product

import pytest

from housemap.checks import Report, report_of
from housemap.choose.house_problem import PAINT_COST, filled, parts_of, problem_of
from housemap.choose.optimiser.solve import solve
from housemap.errors import EditError
from housemap.file import read_house
from housemap.model.edits import assign, change_entity, put
from housemap.model.house import House, Room, SurfacePaints
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


def cost_by_the_checks(before: Report, assignment: Mapping[str, str]) -> float:
    """What the findings in rooms and in pairs cost, and the distinct paints."""
    report = before.after(filled(before.house, assignment))
    costs = (
        finding.cost for _, (table, _), finding in report.counted if table in {"rooms", "pairs"}
    )
    return sum(costs) + PAINT_COST * len(set(assignment.values()))


@pytest.mark.parametrize("deep", [False, True])
def test_the_cost_of_every_choice_is_that_of_its_findings(deep: bool) -> None:  # noqa: FBT001 - drawn
    report = report_of(bare(4), deep=deep)
    problem = problem_of(report)
    for paints in list(product(COLOURS, repeat=4))[::7]:
        assignment = dict(zip(problem.rooms, paints, strict=True))
        expected = cost_by_the_checks(report, assignment)
        assert problem.cost(assignment) == pytest.approx(expected, abs=CLOSE)


def test_in_a_house_with_light_the_cost_is_that_of_every_finding_in_rooms_and_pairs() -> None:
    """But of the rooms that have no wall paint at all, which nobody fills."""
    house = read_house("demo_house.toml")
    report, chance = report_of(house), random.Random(1)
    problem = problem_of(report, keep=())
    for _ in range(3):
        chosen = {room: chance.choice(paints) for room, paints in problem.candidates.items()}
        after = report.after(filled(house, chosen))
        expected = sum(parts_of(after).values()) + PAINT_COST * len({*chosen.values()})
        assert problem.cost(chosen) == pytest.approx(expected, abs=0.05)


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


def test_paints_suit_the_roles() -> None:
    """Common practice, no source: light backbone, LRV 40s for rooms, deep or strong accents."""
    report = report_of(read_house("demo_house.toml"), deep=False)
    problem = problem_of(report, keep=())
    house, study = report.house, report.study
    for room, candidates in problem.candidates.items():
        lrvs = [study.paint(paint_id).lrv for paint_id in candidates]
        if house.rooms[room].role == "backbone":
            assert min(lrvs) >= 55
        if house.rooms[room].role == "room":
            assert all(35 <= lrv < 55 for lrv in lrvs)


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
    part = problem.part([*paints])
    expected = sum(parts_of(report).values()) + PAINT_COST * len({*paints.values()})
    assert part.cost(paints) == pytest.approx(expected, abs=0.05)
