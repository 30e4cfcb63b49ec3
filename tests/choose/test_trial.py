"""What a ranking says of a paint is what the report says of the house with the paint on."""

import itertools
import random
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import get_args

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from housemap.checks import Check, Finding, Report, every, judging, report_of
from housemap.checks.check import Listed, Scope
from housemap.checks.finding import Place, cost_in_house, plain_finding
from housemap.checks.options import own_options
from housemap.checks.pages.records import CLOSING
from housemap.choose import option_costs
from housemap.choose.rank import in_place
from housemap.choose.surface_trial import SurfaceTrial, best_of, group_costs
from housemap.file.reader import read_house
from housemap.model.edits import accept, assign, paint_on
from housemap.model.geometry import walls
from housemap.model.house import Accepted, Gloss, House, Surface
from housemap.plan.placing import Plan
from tests.choose.support.repainted import repainted_house
from tests.support.project import DEMO

CLOSE = 0.02
"""Of a cost, where colours as seen are within 0.01 CAM16-UCS units."""

NEAR = 0.01
"""Of a cost by daylight: how near the plane's light with a paint tried is to that with it on."""

seeds = st.integers(0, 10_000)
few = settings(
    max_examples=20, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)


def surfaces_of(house: House, room: str) -> list[str]:
    keys = [wall.key for wall in walls(house.rooms[room])]
    return ["walls", "walls", "trim", "ceiling", "doors", *(f"accent {key}" for key in keys)]


def assert_same(report: Report, room: str, surface: str, paints: list[str]) -> None:
    """The figures of the ranking, and those of the report of the house with each of the paints."""
    options = own_options([report.study.paint(paint) for paint in paints])
    found = SurfaceTrial(report, room, surface).effects(options, deep=report.deep is not None)
    for row, paint in enumerate(paints):
        after = report.after(paint_on(report.house, room, surface, paint))
        expected, effect = in_place(after, room), found.row(row, paint)
        where = room, surface, paint
        assert effect.parts == pytest.approx(dict(expected.parts), abs=CLOSE, rel=NEAR), where
        assert effect.findings_after == expected.findings_after, where


def test_glossy_walls_are_tried_as_they_will_look() -> None:
    """Of paints whose gloss is known, or left out, or not known."""
    house = read_house(DEMO)
    kinds: Iterator[Gloss | None] = itertools.cycle((*get_args(Gloss), None))
    paints = {
        key: replace(paint, gloss=kind)
        for (key, paint), kind in zip(house.paints.items(), kinds, strict=False)
    }
    living = house.rooms["living"]
    glossy = replace(living, sheens=replace(living.sheens, walls="gloss"))
    house = replace(house, paints=paints, rooms={**house.rooms, "living": glossy})
    assert_same(report_of(house), "living", "walls", list(paints)[:3])


def chosen(house: House, chance: random.Random) -> tuple[str, str, list[str]]:
    room = chance.choice(list(house.rooms))
    return room, chance.choice(surfaces_of(house, room)), chance.sample(list(house.paints), 2)


@given(seeds, st.booleans())
@few
def test_any_paint_on_any_surface_of_any_house(seed: int, deep: bool) -> None:  # noqa: FBT001 - drawn
    chance = random.Random(seed)
    report = report_of(repainted_house(seed), deep=deep)
    assert_same(report, *chosen(report.house, chance))


@given(seeds)
@few
def test_also_where_somebody_has_accepted_what_was_found(seed: int) -> None:
    chance = random.Random(seed)
    report = report_of(repainted_house(seed), deep=False)
    placed = [finding for finding in report.findings if finding.rooms]
    for finding in chance.sample(placed, min(5, len(placed))):
        entry = Accepted(finding.check, finding.rooms, finding.surfaces, finding.paints)
        report = report.after(accept(report.house, [entry]))
    assert report.accepted
    assert_same(report, *chosen(report.house, chance))


@pytest.mark.parametrize("room", ["hall", "study", "landing", "terrace"])
def test_the_demo_house(room: str) -> None:
    house = read_house(DEMO)
    assert_same(report_of(house), room, "walls", list(house.paints)[::5])


def of_the_plan(plan: Plan, scope: Scope) -> Iterator[Finding]:
    del scope
    yield from (plain_finding("plan-only", "warn", (Place(room, ""),)) for room in plan.rooms)


@contextmanager
def with_check(check: Check) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        for module in (every, judging, option_costs):
            patch.setattr(module, "CHECKS", (*every.CHECKS, check))
        patch.setitem(every._BY_ID, check.id, check)
        patch.setitem(report_of.__globals__["_RANK"], check.id, len(every.CHECKS))
        yield


def test_a_check_that_paint_cannot_change_needs_no_entry_in_a_ranking() -> None:
    check = replace(CLOSING, id="plan-only", looks=(Listed("plans", of_the_plan),))
    with with_check(check):
        report = report_of(repainted_house(3), deep=False)
        assert any(finding.check == "plan-only" for finding in report.findings)
        assert_same(report, "hall", "walls", list(report.house.paints)[:2])


@given(seeds)
@few
def test_light_only_adds_to_what_a_paint_costs_under_the_reference_light(seed: int) -> None:
    """So that what cannot be among the best there need not be looked at in any light."""
    report = report_of(repainted_house(seed % 4))
    options = own_options([report.study.paint(paint) for paint in report.house.paints])
    room = random.Random(seed).choice(list(report.house.rooms))
    trial = SurfaceTrial(report, room, "walls")
    plain, deep = (trial.effects(options, deep=deep).cost for deep in (False, True))
    assert (deep >= plain - CLOSE).all()


@pytest.mark.parametrize("most", [1, 3, 12, 40])
def test_the_best_few_are_the_best_of_all(most: int) -> None:
    report = report_of(repainted_house(5))
    options = own_options([report.study.paint(paint) for paint in report.house.paints])
    trial = SurfaceTrial(report, "hall", "walls")
    every_ = trial.effects(options, deep=True)
    rows, effects, _ = best_of(trial, options, most)
    expected = every_.order()[:most]
    assert rows.tolist() == expected.tolist()
    assert effects.cost == pytest.approx(every_.cost[expected])
    assert np.array_equal(effects.findings, every_.findings[expected])


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("surface", ["trim", "walls"])
@pytest.mark.parametrize("deep", [False, True])
def test_a_paint_on_many_surfaces_costs_what_its_report_says(
    seed: int,
    surface: Surface,
    deep: bool,  # noqa: FBT001 - drawn
) -> None:
    chance = random.Random(seed)
    report = report_of(repainted_house(seed), deep=deep)
    house, study = report.house, report.study
    rooms = tuple(chance.sample(list(house.rooms), 5))
    options = own_options([study.paint(paint) for paint in house.paints])
    found = group_costs(report, rooms, surface, options, grave=0.0)
    for row, paint in list(enumerate(house.paints))[:: 6 if deep else 3]:
        after = house
        for room in rooms:
            after = assign(after, room, surface, paint)
        named = (
            cost_in_house(finding)
            for (table, key), finding in report.after(after).counted
            if (table == "rooms" and key in rooms) or (table == "pairs" and {*key} & {*rooms})
        )
        assert found[row] == pytest.approx(sum(named), abs=0.1), paint
