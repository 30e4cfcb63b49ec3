"""Colours as other eyes see them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry.spaces import linear_from_srgb, srgb_from_linear
from housemap.colorimetry.vision import (
    Deficiency,
    as_greys,
    with_deficiency,
)
from tests.support.science import SCIENCE

NAMES: dict[Deficiency, str] = {
    "protan": "Protanomaly", "deutan": "Deuteranomaly", "tritan": "Tritanomaly",
}  # fmt: skip
channels = st.floats(0.0, 1.0)


@pytest.mark.parametrize("deficiency", NAMES)
@pytest.mark.filterwarnings("ignore")
def test_deficiencies_are_those_of_the_reference_library(deficiency: Deficiency) -> None:
    """Machado 2009 by colour-science, which warns that tritan vision is approximate."""
    colours = np.random.default_rng(3).uniform(0.0, 1.0, (50, 3))
    matrix = SCIENCE.blindness.matrix_cvd_Machado2009(NAMES[deficiency], 1.0)
    expected = np.clip(SCIENCE.models.eotf_sRGB(colours) @ matrix.T, 0.0, 1.0)
    got = linear_from_srgb(with_deficiency(colours, deficiency))
    assert got == pytest.approx(expected, abs=1e-4)


@given(grey=channels)
def test_greys_stay_greys(grey: float) -> None:
    for deficiency in NAMES:
        seen = with_deficiency(np.full(3, grey), deficiency)
        assert seen == pytest.approx(np.full(3, grey), abs=0.01)


def test_red_and_green_of_one_lightness_come_together_for_who_lacks_green() -> None:
    red, green = np.array([0.72, 0.36, 0.32]), np.array([0.42, 0.53, 0.30])
    apart = np.abs(red - green).sum()
    seen = np.abs(with_deficiency(red, "deutan") - with_deficiency(green, "deutan")).sum()
    assert seen < 0.5 * apart


@given(channels, channels, channels)
def test_a_grey_has_the_luminance_of_its_colour(r: float, g: float, b: float) -> None:
    srgb = np.array([r, g, b])
    grey = as_greys(srgb)
    assert grey[0] == grey[1] == grey[2]
    y = linear_from_srgb(srgb) @ np.array([0.2126, 0.7152, 0.0722])
    assert linear_from_srgb(grey)[0] == pytest.approx(y, abs=1e-3)


@given(channels)
def test_the_curve_of_srgb_runs_both_ways(value: float) -> None:
    there = linear_from_srgb(np.array([value]))
    assert srgb_from_linear(there)[0] == pytest.approx(value, abs=1e-6)
