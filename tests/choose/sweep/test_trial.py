"""Paints judged all at once cost what the report says of the house with each of them."""

import random

import numpy as np
import pytest

from housemap.checks import Report, report_of
from housemap.checks.options import own_options
from housemap.choose.rank import in_place
from housemap.choose.sweep.effects import Effects
from housemap.choose.sweep.trial import SurfaceTrial, best_of
from housemap.file import read_house
from housemap.model.edits import paint_on
from housemap.model.geometry import walls
from housemap.model.house import House
from tests.choose.support.repainted import repainted_house
from tests.support.project import ROOT

CLOSE = 0.02
"""Of a cost, where colours as seen are within 0.01 CAM16-UCS units."""
DEMO = read_house(ROOT / "demo_house.toml")


def surfaces_of(house: House, room: str) -> list[str]:
    keys = [wall.key for wall in walls(house.rooms[room])]
    return ["walls", "trim", "ceiling", "doors", *(f"accent {key}" for key in keys)]


def swept(report: Report, room: str, surface: str) -> Effects:
    options = own_options([report.study.paint(paint) for paint in report.house.paints])
    return SurfaceTrial(report, room, surface).effects(options, deep=report.deep is not None)


def assert_same(report: Report, room: str, surface: str, rows: list[int]) -> None:
    found, paints = swept(report, room, surface), list(report.house.paints)
    for row in rows:
        after = report.after(paint_on(report.house, room, surface, paints[row]))
        expected, told = in_place(after, room), found.row(row)
        where = room, surface, paints[row]
        assert told.parts == pytest.approx(dict(expected.parts), abs=CLOSE), where
        assert told.findings_after == expected.findings_after, where


@pytest.mark.parametrize("room", DEMO.rooms)
def test_every_paint_on_the_walls_of_the_demo_house_costs_what_its_report_says(room: str) -> None:
    assert_same(report_of(DEMO), room, "walls", [0, 3, 6, 9])


@pytest.mark.parametrize("seed", range(10))
def test_any_surface_of_a_house_painted_by_chance_costs_what_its_report_says(seed: int) -> None:
    chance = random.Random(seed)
    report = report_of(repainted_house(seed))
    for room in chance.sample(list(report.house.rooms), 3):
        surface = chance.choice(surfaces_of(report.house, room))
        assert_same(report, room, surface, chance.sample(range(len(report.house.paints)), 3))


@pytest.mark.parametrize("seed", range(10, 16))
def test_under_the_reference_light_the_figures_are_those_of_a_report_without_light(
    seed: int,
) -> None:
    chance = random.Random(seed)
    report = report_of(repainted_house(seed), deep=False)
    for room in report.house.rooms:
        surface = chance.choice(surfaces_of(report.house, room))
        assert_same(report, room, surface, chance.sample(range(len(report.house.paints)), 2))


@pytest.mark.parametrize("seed", range(20, 24))
def test_light_only_adds_to_what_a_paint_costs_under_the_reference_light(seed: int) -> None:
    """So that what cannot be among the best there need not be looked at in any light."""
    report = report_of(repainted_house(seed))
    options = own_options([report.study.paint(paint) for paint in report.house.paints])
    for room in list(report.house.rooms)[:6]:
        trial = SurfaceTrial(report, room, "walls")
        plain, deep = (trial.effects(options, deep=deep).cost for deep in (False, True))
        assert (deep >= plain - CLOSE).all()


@pytest.mark.parametrize("most", [1, 3, 12, 40])
def test_the_best_few_are_the_best_of_all(most: int) -> None:
    report = report_of(repainted_house(5))
    options = own_options([report.study.paint(paint) for paint in report.house.paints])
    trial = SurfaceTrial(report, "hall", "walls")
    every, best = trial.effects(options, deep=True), best_of(trial, options, most)
    expected = every.order()[:most]
    assert best.rows.tolist() == expected.tolist()
    assert best.effects.cost == pytest.approx(every.cost[expected])
    assert np.array_equal(best.effects.findings, every.findings[expected])
