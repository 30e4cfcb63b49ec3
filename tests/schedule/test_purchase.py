"""Tins by the stated rule, against trying every combination."""

import random
from collections.abc import Callable
from math import ceil

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.schedule.purchase import Purchase, Tin, few_tins, least_litres

SIZES = (0.25, 0.5, 0.75, 1.0, 2.5, 5.0, 10.0, 0.946352946, 3.785411784)
"""Litres; the last two are the US quart and gallon (NIST SP 811)."""

Way = tuple[int, float, float]


def all_ways(litres: float, tins: list[Tin], room: float) -> list[Way]:
    """Count, price and litres of every combination that holds so much, and at most `room` more."""
    counts = [np.arange(ceil((litres + room) / tin.litres) + 1) for tin in tins]
    grid = np.stack(np.meshgrid(*counts, indexing="ij"), axis=-1).reshape(-1, len(tins))
    holds = grid @ np.array([tin.litres for tin in tins])
    prices = grid @ np.array([tin.price or 0.0 for tin in tins])
    near = (holds >= litres - 1e-6) & (holds <= litres + room + 1e-6)
    table = np.stack([grid.sum(axis=1), prices.round(4), holds.round(4)], axis=-1)[near]
    return [(int(count), price, held) for count, price, held in table.tolist()]


def stated(litres: float, tins: list[Tin]) -> tuple[int, float]:
    """The rule in words, carried out by trying all: count and price.

    As few tins as hold enough, one more only where that leaves a litre less over; up to 15 % over
    does not count, and up to 3 % short may save a tin. No better way holds more than the fewest of
    the largest tins alone.
    """
    largest, enough = max(tin.litres for tin in tins), 0.97 * litres
    fewest = ceil(enough / largest - 1e-9) * largest
    ways = all_ways(enough, tins, max(1.15 * litres, fewest) - enough)
    ranked = [
        (round(n + max(held - 1.15 * litres, 0.0), 3), held < litres - 1e-6, price, n)
        for n, price, held in ways
    ]
    _, _, price, count = min(ranked)
    return count, price


def random_list(number: int) -> tuple[float, list[Tin]]:
    draw = random.Random(number)
    sizes = draw.sample(SIZES, draw.randint(1, 3))
    return draw.uniform(0.02, 14.0), [Tin(s, draw.randint(400, 9000) / 100) for s in sizes]


@pytest.mark.parametrize("batch", range(10))
def test_of_1000_random_lists_each_is_the_one_that_the_rule_names(batch: int) -> None:
    for number in range(100 * batch, 100 * batch + 100):
        litres, tins = random_list(number)
        bought = few_tins(litres, tins)
        assert bought.price is not None
        assert (bought.count, round(bought.price, 4)) == stated(litres, tins), (litres, tins)


@given(
    st.integers(10, 12_000).map(lambda millilitres: millilitres / 1000),
    st.lists(st.sampled_from(SIZES[:5]), min_size=1, max_size=3, unique=True),
)
def test_no_combination_of_tins_leaves_less_over(litres: float, sizes: list[float]) -> None:
    tins = [Tin(size) for size in sizes]
    bought = least_litres(litres, tins)
    ways = all_ways(litres, tins, max(sizes))
    assert bought.litres == pytest.approx(min(way[2] for way in ways), abs=0.011)


@given(
    st.floats(0.01, 300.0),
    st.lists(st.sampled_from(SIZES), min_size=1, unique=True),
    st.sampled_from([few_tins, least_litres]),
)
def test_the_tins_hold_what_is_needed_and_what_they_say(
    litres: float, sizes: list[float], buy: Callable[[float, list[Tin]], Purchase]
) -> None:
    bought = buy(litres, [Tin(size, 10 * size) for size in sizes])
    assert bought.litres >= (0.97 if buy is few_tins else 1.0) * litres - 2e-3
    assert bought.litres == pytest.approx(sum(s * n for s, n in bought.tins.items()))
    assert bought.price == pytest.approx(10 * bought.litres)


def test_nobody_is_sold_nine_small_tins() -> None:
    """6.62 l: a 5 l tin and a 2.5 l tin, not nine of 0.75 l (common practice, no source)."""
    tins = [Tin(0.75), Tin(2.5), Tin(5.0)]
    assert few_tins(6.62, tins).tins == {5.0: 1, 2.5: 1}
    assert least_litres(6.62, tins).tins == {0.75: 9}


@pytest.mark.parametrize(
    ("litres", "tins"),
    [(0.7, {0.75: 1}), (1.2, {0.75: 2}), (1.4, {2.5: 1}), (2.51, {2.5: 1}),
     (3.2, {2.5: 1, 0.75: 1}), (3.36, {5.0: 1}), (4.0, {5.0: 1}), (5.06, {5.0: 1}),
     (5.2, {5.0: 1, 0.75: 1}), (6.2, {5.0: 1, 2.5: 1}), (7.71, {5.0: 1, 2.5: 1}), (8.51, {5.0: 2}),
     (8.7, {5.0: 2}), (12.9, {5.0: 3}), (22.6, {5.0: 5})],
)  # fmt: skip
def test_a_painter_buys_few_tins_mostly_of_one_size(litres: float, tins: dict[float, int]) -> None:
    """Common practice, no source; tins and prices of our own."""
    assert few_tins(litres, [Tin(0.75, 25.0), Tin(2.5, 62.0), Tin(5.0, 110.0)]).tins == tins


@given(st.floats(0.1, 60.0), st.floats(0.01, 5.0))
def test_who_needs_more_never_buys_less(litres: float, more: float) -> None:
    tins = [Tin(0.75, 25.0), Tin(2.5, 62.0), Tin(5.0, 110.0), Tin(10.0, 200.0)]
    assert few_tins(litres + more, tins).litres >= few_tins(litres, tins).litres


def test_of_equally_many_tins_the_cheaper_ones() -> None:
    dear_middle = [Tin(1.0, 9.0), Tin(2.5, 60.0), Tin(5.0, 50.0)]
    assert few_tins(4.9, dear_middle).tins == {5.0: 1}
    assert few_tins(1.9, [Tin(1.0, 30.0), Tin(2.5, 20.0)]).tins == {2.5: 1}
    assert few_tins(5.5, dear_middle).tins == {5.0: 1, 1.0: 1}


def test_where_every_tin_is_too_large_the_least_is_bought() -> None:
    assert few_tins(0.4, [Tin(10.0, 90.0)]).tins == {10.0: 1}


def test_a_price_that_is_not_known_is_none_rather_than_nothing() -> None:
    assert few_tins(3.0, [Tin(2.5), Tin(5.0)]).price is None


def test_us_tins_are_counted_in_their_own_litres() -> None:
    """Quart and gallon: 0.946352946 and 3.785411784 l (NIST SP 811)."""
    bought = few_tins(4.0, [Tin(0.946352946, 20.0), Tin(3.785411784, 55.0)])
    assert bought.tins == {3.785411784: 1, 0.946352946: 1}
    assert bought.price == pytest.approx(75.0)
