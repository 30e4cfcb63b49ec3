"""CIELAB and sRGB against the standards' values and two reference libraries."""

from typing import Any

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from skimage import color as skimage_color_module

from housemap.colorimetry import spaces
from housemap.errors import ColourError
from tests.support.conversions import Ranges, check_conversion
from tests.support.published import published

skimage_color: Any = skimage_color_module
LADDER = published("lightness")
COLOURS = published("colour_math")["srgb"]
WHITE = spaces.SRGB_WHITE


@pytest.mark.parametrize("case", LADDER["cases"])
def test_lightness_follows_the_published_ladder(case: dict[str, float]) -> None:
    """CIE 15 / ISO/CIE 11664-4."""
    relative = np.array(case["Y"] / case["Yn"] * 100.0)
    assert spaces.lightness(relative) == pytest.approx(case["L"], abs=2e-6)


@pytest.mark.parametrize("case", LADDER["inverse_cases"])
def test_luminance_of_a_lightness_is_the_published_one(case: dict[str, float]) -> None:
    xyz = spaces.lab_to_xyz(np.array([case["L"], 0.0, 0.0]), WHITE)
    assert xyz[1] == pytest.approx(case["Y"], abs=1e-6)


def test_cielab_converts_both_ways() -> None:
    gold = [(np.array(case["XYZ_Y1"]) * 100.0, case["Lab_D65"]) for case in COLOURS]
    check_conversion(
        lambda xyz: spaces.xyz_to_lab(xyz, WHITE),
        lambda lab: spaces.lab_to_xyz(lab, WHITE),
        gold,
        atol=2e-3,
        round_trip=Ranges([0, 0, 0], [110, 110, 110]),
    )


def test_srgb_converts_both_ways() -> None:
    """IEC 61966-2-1; colour-science, coloraide and luxpy with the unrounded matrix."""
    gold = [(spaces.hex_to_srgb(case["hex"]), np.array(case["XYZ_Y1"]) * 100.0) for case in COLOURS]
    check_conversion(
        spaces.srgb_to_xyz,
        spaces.xyz_to_srgb,
        gold,
        atol=1e-4,
        round_trip=Ranges([-0.2] * 3, [1.2] * 3),
        # The standard's rounded limits leave a gap where its two pieces meet.
        round_trip_atol=1e-7,
    )


def test_srgb_agrees_with_coloraide_and_scikit_image() -> None:
    """Their matrices are rounded, so only about 1e-3 of XYZ 100 can be asked."""
    srgb1 = Ranges([0, 0, 0], [1, 1, 1], 60).sample()
    ours = spaces.srgb_to_xyz(srgb1)
    theirs = [Color("srgb", list(one)).convert("xyz-d65").coords() for one in srgb1]
    np.testing.assert_allclose(ours, np.array(theirs) * 100.0, atol=1e-2)
    lab = spaces.xyz_to_lab(ours, WHITE)
    np.testing.assert_allclose(lab, skimage_color.rgb2lab(srgb1), atol=0.03)


def test_white_and_black_are_exact() -> None:
    lab = spaces.xyz_to_lab(spaces.srgb_to_xyz(np.array([[1.0, 1, 1], [0, 0, 0]])), WHITE)
    np.testing.assert_allclose(lab, [[100, 0, 0], [0, 0, 0]], atol=1e-9)


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_a_hex_colour_comes_back_as_itself(rgb: tuple[int, int, int]) -> None:
    text = "#{:02x}{:02x}{:02x}".format(*rgb)
    xyz = spaces.srgb_to_xyz(np.array([spaces.hex_to_srgb(text)]))
    assert spaces.srgb_to_hex(spaces.xyz_to_srgb(xyz)) == [text]


@pytest.mark.parametrize("text", ["", "#12345", "#1234567", "123456", "#12345g", "#12345\n", "red"])
def test_what_is_no_hex_colour_is_refused(text: Any) -> None:
    with pytest.raises(ColourError, match="rrggbb"):
        spaces.hex_to_srgb(text)
