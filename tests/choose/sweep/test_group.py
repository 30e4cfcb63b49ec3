"""One paint on several surfaces costs what the report says of the house with it."""

import random

import numpy as np
import pytest

from housemap.checks import report_of
from housemap.checks.options import own_options
from housemap.choose.sweep.group import GroupTrial
from housemap.model.edits import assign
from housemap.model.house import Surface
from tests.choose.support.repainted import repainted_house


@pytest.mark.parametrize("seed", range(6))
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
    costs = GroupTrial(report, rooms, surface).costs(options, deep=deep)
    for row, paint in list(enumerate(house.paints))[:: 4 if deep else 2]:
        after = house
        for room in rooms:
            after = assign(after, room, surface, paint)
        named = (
            finding.cost
            for _, (table, key), finding in report.after(after).counted
            if (table == "rooms" and key in rooms) or (table == "pairs" and {*key} & {*rooms})
        )
        assert costs[row] == pytest.approx(sum(named), abs=0.1), paint


@pytest.mark.parametrize("seed", range(3))
def test_the_best_costs_least_of_all(seed: int) -> None:
    report = report_of(repainted_house(seed))
    rooms = tuple(list(report.house.rooms)[:4])
    options = own_options([report.study.paint(paint) for paint in report.house.paints])
    group = GroupTrial(report, rooms, "walls")
    rows, costs = group.best(options)
    every = group.costs(options, deep=True)
    assert costs == pytest.approx(np.full(len(rows), every.min()))
    assert int(every.argmin()) in rows
    near, near_costs = group.best(options, 3.0)
    assert {*near.tolist()} == {*np.flatnonzero(every <= every.min() + 3.0).tolist()}
    assert near_costs == pytest.approx(np.sort(every[near]))
