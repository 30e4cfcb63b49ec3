"""Colour differences against the published pairs and three reference libraries."""

from typing import Any

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from skimage import color as skimage_color_module

from housemap.colorimetry import cielab_difference, difference, spaces
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.facts import colour_facts
from housemap.model.house import Srgb
from tests.support.conversions import Ranges
from tests.support.published import published
from tests.support.science import SCIENCE

skimage_color: Any = skimage_color_module
SHARMA = published("ciede2000_pairs")
PAIRS = SHARMA["pairs"] + SHARMA["extra_read"]
LABS = st.tuples(st.floats(0, 100), st.floats(-80, 80), st.floats(-80, 80)).map(np.array)
HEXES = st.tuples(*[st.integers(0, 255)] * 3).map(lambda rgb: "#{:02x}{:02x}{:02x}".format(*rgb))


def random_pairs(count: int) -> tuple[Floats, Floats]:
    """Colours and others near and far from them, none at exactly opposite hues."""
    labs = Ranges([0, -70, -70], [100, 70, 70], 2 * count).sample()
    one, other = labs[:count], labs[count:]
    other[::2] = one[::2] + other[::2] / 30.0
    return one, other


@pytest.mark.parametrize("case", PAIRS)
def test_ciede2000_gives_the_published_pairs(case: dict[str, list[float] | float]) -> None:
    """Sharma, Wu & Dalal 2005, table 1."""
    one, other = np.array(case["Lab1"]), np.array(case["Lab2"])
    for a, b in ((one, other), (other, one)):
        assert cielab_difference.ciede2000(a, b) == pytest.approx(case["dE00"], abs=1e-4)


def test_ciede2000_gives_what_four_libraries_agree_on() -> None:
    for case in published("colour_math")["ciede2000"]:
        got = cielab_difference.ciede2000(np.array(case["lab1"]), np.array(case["lab2"]))
        assert got == pytest.approx(case["dE00"], abs=1e-6)


def test_ciede2000_is_that_of_the_reference_libraries() -> None:
    one, other = random_pairs(2000)
    ours = cielab_difference.ciede2000(one, other)
    theirs = SCIENCE.difference.delta_E_CIE2000(one, other)
    np.testing.assert_allclose(ours, theirs, atol=1e-10)
    np.testing.assert_allclose(ours, skimage_color.deltaE_ciede2000(one, other), atol=1e-10)
    few = [
        Color("lab-d65", list(a)).delta_e(Color("lab-d65", list(b)), method="2000")
        for a, b in zip(one[:50], other[:50], strict=True)
    ]
    np.testing.assert_allclose(ours[:50], few, atol=1e-10)


@given(LABS, LABS)
def test_ciede2000_is_symmetric_and_zero_only_for_one_colour(one: Floats, other: Floats) -> None:
    there, back = cielab_difference.ciede2000(one, other), cielab_difference.ciede2000(other, one)
    assert there == pytest.approx(float(back), abs=1e-9)
    assert cielab_difference.ciede2000(one, one) == 0.0
    assert there >= 0.0


@given(LABS, LABS)
def test_the_parts_of_a_large_difference_make_up_the_whole(one: Floats, other: Floats) -> None:
    whole, lightness, chroma, hue = difference.ucs_parts(one, other)
    assert whole**2 == pytest.approx(float(lightness**2 + chroma**2 + hue**2), abs=1e-6)
    assert min(lightness, chroma, hue) >= 0.0


@pytest.mark.parametrize(
    ("one", "other", "degrees"),
    [((50, 1, 0), (50, 0, 1), 90), ((50, 2, 0), (70, -9, 0), 180), ((50, 0, 0), (50, 0, 1), 0)],
)
def test_hues_are_apart_by_the_angle_between_them(
    one: tuple[float, ...], other: tuple[float, ...], degrees: float
) -> None:
    apart = difference.hue_apart(np.array(one, float), np.array(other, float))
    assert apart == pytest.approx(degrees)


@pytest.mark.parametrize("case", published("contrast")["cases"])
def test_contrasts_of_light_reflectance_values(case: dict[str, float]) -> None:
    """The published worked pairs: points, Michelson, delta L*."""
    light, dark = np.array(case["LRV_light"]), np.array(case["LRV_dark"])
    assert light - dark == pytest.approx(case["lrv_difference"])
    assert difference.michelson(light, dark) == pytest.approx(case["michelson"], abs=1e-5)
    step = spaces.lightness(light) - spaces.lightness(dark)
    assert step == pytest.approx(case["delta_Lstar"], abs=1e-3)


def test_two_perfect_blacks_have_no_contrast() -> None:
    assert difference.michelson(np.zeros(1), np.zeros(1)) == 0.0


@given(HEXES, HEXES)
def test_a_difference_is_the_same_both_ways(one: str, other: str) -> None:
    a, b = map(difference.look_of, colour_facts([Srgb(one), Srgb(other)]))
    there, back = difference.difference(a, b), difference.difference(b, a)
    assert there == pytest.approx(back, abs=1e-9)


def test_a_colour_differs_from_itself_by_nothing() -> None:
    (look,) = map(difference.look_of, colour_facts([Srgb("#8a7f72")]))
    assert difference.difference(look, look) == (0, 0, 0, 0, 0, 0, 0)
