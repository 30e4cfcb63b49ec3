"""Tins hold enough at least cost, against trying every combination."""

from itertools import product
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.schedule.tins import least_tins

SIZES = st.lists(st.sampled_from([0.25, 0.5, 0.75, 1.0, 2.5, 5.0, 10.0]), min_size=1, unique=True)


@given(st.floats(0.01, 12.0), SIZES)
def test_no_combination_of_tins_is_less(litres: float, sizes: list[float]) -> None:
    bought = least_tins(litres, sizes)
    counts = [range(ceil(litres / size) + 1) for size in sizes]
    if len(sizes) > 4:
        return
    totals = (
        (sum(n * s for n, s in zip(each, sizes, strict=True)), sum(each))
        for each in product(*counts)
    )
    least, fewest = min((round(t, 6), n) for t, n in totals if t >= litres - 1e-9)
    assert bought.litres == pytest.approx(least, abs=0.05)
    if abs(bought.litres - least) < 1e-6:
        assert sum(bought.tins.values()) == fewest


@given(st.floats(0.01, 200.0), SIZES)
def test_the_tins_hold_what_is_needed_and_what_they_say(litres: float, sizes: list[float]) -> None:
    bought = least_tins(litres, sizes)
    assert bought.litres >= litres - 1e-6
    assert bought.litres == pytest.approx(sum(s * n for s, n in bought.tins.items()))


def test_the_worked_room_in_whole_tins() -> None:
    """7.574 litres: 41.31 m2, 2 coats, 12 m2 a litre, 10 % waste (arithmetic)."""
    bought = least_tins(7.5735, [2.5, 5.0, 0.75])
    assert bought.tins == {2.5: 1, 0.75: 7}
    assert bought.litres == pytest.approx(7.75)
