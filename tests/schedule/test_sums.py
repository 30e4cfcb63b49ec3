"""What stands beside a sum: what it leaves out, and what it should not be ordered for."""

import datetime as dt
from dataclasses import replace

from housemap.checks import report_of
from housemap.model.edits import assign
from housemap.model.house import House, Sample
from housemap.schedule.document import Schedule, schedule_of
from housemap.schedule.sections import sums, total
from housemap.workbench.suggesting import schemes_of
from tests.choose.support.schemes import with_scheme
from tests.support.houses import small_house

TODAY = dt.date(2026, 5, 2)


def schedule(house: House) -> Schedule:
    return schedule_of(report_of(house, deep=False), TODAY)


def test_paints_without_a_price_are_named_beside_the_sum() -> None:
    assert "Without Chalk Lump, Moss Bank: no price given." in total(schedule(small_house()))


def test_paints_whose_sample_was_rejected_are_named_beside_the_sum() -> None:
    house = small_house(samples={"no": Sample("oat", "hall", verdict="reject")})
    name = house.paints["oat"].name
    assert f"With {name}: a sample was rejected" in total(schedule(house))
    assert "rejected" not in total(schedule(small_house()))


def test_a_scheme_says_which_paints_its_price_leaves_out() -> None:
    moss = assign(small_house(), "study", "walls", "moss")
    told = [
        one.summary
        for one in schemes_of(report_of(with_scheme(small_house(), moss, "Moss")), TODAY)
    ]
    assert all("Without" in text and "Moss Bank: no price given." in text for text in told)


def test_the_rule_for_the_tins_is_said_with_the_surplus_of_the_house() -> None:
    house = small_house()
    tins = {key: replace(paint, tins=(2.5, 5.0)) for key, paint in house.paints.items()}
    house = replace(house, paints=tins)
    assert "leaves 1 l less over. Up to 15 % over" in " ".join(sums(schedule(house)))
    own = replace(house, client=replace(house.client, surplus=25.0))
    assert "Up to 25 % over" in " ".join(sums(schedule(own)))
    assert "as few tins" not in " ".join(sums(schedule(house), least=False))
