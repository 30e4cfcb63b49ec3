"""Mixing by Kubelka & Munk."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.tinting import (
    WHITE,
    absorption,
    darker,
    greyer,
    lighter,
    mixed,
    reflectance_of,
    strength,
)

K_OVER_S = {1.0: 0.0, 0.5: 0.25, 0.2: 1.6, 0.1: 4.05}
"""By hand from (1 - R)^2 / 2R, the formula as every handbook prints it (from memory)."""

curves = st.lists(st.floats(0.02, 0.9), min_size=5, max_size=5).map(np.array)


@pytest.mark.parametrize(("reflectance", "ratio"), K_OVER_S.items())
def test_absorption_is_that_of_the_formula(reflectance: float, ratio: float) -> None:
    assert absorption(np.array([reflectance]))[0] == pytest.approx(ratio, abs=1e-6)


@given(curves)
def test_reflectance_and_absorption_are_each_others_inverse(curve: Floats) -> None:
    assert reflectance_of(absorption(curve)) == pytest.approx(curve, abs=1e-9)


@given(curves, st.floats(0.05, 0.95))
def test_a_mixture_lies_between_its_parts_and_all_of_a_paint_is_the_paint(
    curve: Floats, share: float
) -> None:
    half = strength(curve, share)
    assert (half >= np.minimum(curve, WHITE) - 1e-9).all()
    assert (half <= np.maximum(curve, WHITE) + 1e-9).all()
    assert mixed(curve, 1.0, np.full(5, WHITE)) == pytest.approx(curve, abs=1e-9)


def mean(values: Floats) -> float:
    return float(np.mean(values))


@given(curves, st.floats(0.01, 0.05))
def test_a_step_changes_the_figure_by_the_step_where_it_can(curve: Floats, step: float) -> None:
    up, down = lighter(curve, mean, step), darker(curve, mean, step)
    assert mean(up) == pytest.approx(min(mean(curve) + step, WHITE), abs=2e-3) or mean(up) < WHITE
    if mean(curve) - step > 0.04:
        assert mean(down) == pytest.approx(mean(curve) - step, abs=2e-3)


def test_greyer_draws_the_curve_together() -> None:
    curve = np.array([0.2, 0.3, 0.4, 0.6, 0.7])
    assert np.ptp(greyer(curve, 0.4, 0.5)) < np.ptp(curve)
