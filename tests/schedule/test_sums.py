"""What stands beside a sum: what it leaves out, and what it should not be ordered for."""

import datetime as dt
from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Decimal

import pytest

from housemap.checks import report_of
from housemap.model.edits import assign
from housemap.model.house import Client, Edition, House, Sample
from housemap.schedule.document import Schedule, schedule_of
from housemap.schedule.sections import costs, paint_list, sums, total
from housemap.workbench.suggesting import schemes_of
from tests.choose.support.schemes import with_scheme
from tests.support.houses import small_house

TODAY = dt.date(2026, 5, 2)


def schedule(house: House) -> Schedule:
    return schedule_of(report_of(house, deep=False), TODAY)


def test_paints_without_a_price_are_named_beside_the_sum_and_counted_beside_that_with_labour() -> (
    None
):
    assert "Without Chalk Lump, Moss Bank: no price given." in total(schedule(small_house()))
    rates = Client(rates=(("walls", 10.0),), labour=40.0)
    words = str(costs(schedule(replace(small_house(), client=rates))).blocks)
    assert ", without 2 paints not priced yet." in words


def priced(price: float = 10.0, tins: tuple[float, ...] = (1.0,)) -> House:
    house = small_house()
    held = {k: replace(p, price=price, tins=tins) for k, p in house.paints.items()}
    return replace(house, paints=held)


@pytest.mark.parametrize("tins", [(0.75, 2.5), ()])
@pytest.mark.parametrize(("currency", "digits"), [("GBP", 2), ("JPY", 0)])
def test_who_adds_up_the_prices_that_are_printed_gets_the_sum_that_is_printed(
    tins: tuple[float, ...], currency: str, digits: int
) -> None:
    house = replace(priced(19.99, tins), client=Client(currency=currency, tax=17.5))
    made = schedule(house)
    printed = sum(Decimal(f"{need.cost:.{digits}f}") for need in made.quantities.needs)
    with_tax = (printed * Decimal("1.175")).quantize(Decimal(1).scaleb(-digits), ROUND_HALF_EVEN)
    for amount in (printed, with_tax):
        assert f"{amount:,.{digits}f}" in total(made)


def test_a_rejected_paint_is_left_off_the_order_and_its_sum_and_named_there() -> None:
    """Only where it was rejected: what other rooms need of the same paint is ordered."""
    house = replace(priced(), samples={})
    paint = str(house.rooms["hall"].paints.walls)
    no = replace(house, samples={"no": Sample(paint, "hall", verdict="reject")})
    before, after = schedule(house), schedule(no)
    dropped = [ln for ln in before.quantities.lines if (ln.room, ln.paint) == ("hall", paint)]
    left = f"Left off: {house.paints[paint].name} (Hall walls). A sample was rejected on the wall"
    assert left in total(after)
    assert "Left off" not in total(before)
    less = sum(ln.litres or 0.0 for ln in dropped) * 1.1
    litres = [sum(need.litres for need in made.quantities.needs) for made in (before, after)]
    assert litres[0] - litres[1] == pytest.approx(less)
    assert (after.quantities.cost or 0.0) < (before.quantities.cost or 0.0)
    assert after.quantities.lines == before.quantities.lines, "it is still to be painted"


def test_a_rejected_ceiling_leaves_the_woodwork_in_the_same_paint_on_the_order() -> None:
    house = priced()
    kitchen = house.rooms["kitchen"].paints
    assert kitchen.ceiling == kitchen.trim == kitchen.doors == "chalk"
    no = Sample("chalk", "kitchen", verdict="reject", surface="ceiling")
    made = schedule(replace(house, samples={"no": no}))
    assert [line.surface for line in made.quantities.rejected] == ["ceiling"]
    assert "Left off: Chalk Lump (Kitchen ceiling). A" in total(made)


def test_an_order_of_nothing_but_rejected_paint_says_so() -> None:
    house = priced()
    used = {(line.room, line.paint) for line in schedule(house).quantities.lines}
    no = {f"no-{n}": Sample(p, room, verdict="reject") for n, (room, p) in enumerate(sorted(used))}
    made = schedule(replace(house, samples=no))
    assert not made.quantities.needs
    assert "Left off" in str(paint_list(made).blocks)


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
    assert "as few tins" not in " ".join(sums(schedule(house), "supplier"))


def test_the_least_litres_are_for_the_full_edition_and_a_painter_whom_they_save_money() -> None:
    """Tins and money beside each other are of the paint alone, in both ways to buy it."""
    house = small_house()

    def words(prices: tuple[float, ...], edition: Edition) -> str:
        paints = {
            key: replace(paint, tins=(0.75, 5.0), prices=prices)
            for key, paint in house.paints.items()
        }
        made = schedule(replace(house, paints=paints))
        few = sum(need.cost or 0.0 for need in made.quantities.needs)
        said = " ".join(sums(made, edition))
        assert f"tins of paint at £{few:,.2f}" in said
        return said

    house = replace(house, client=replace(house.client, currency="GBP"))
    dear_tins, cheap_tins = (20.0, 30.0), (3.0, 30.0)
    assert "With as little left over" in words(dear_tins, "full")
    assert "With as little left over" not in words(dear_tins, "painter")
    assert "With as little left over" in words(cheap_tins, "painter")
    assert "With as little left over" not in words(cheap_tins, "supplier")
