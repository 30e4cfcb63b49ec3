"""CIECAM16, CAM16-UCS and CAT16 against worked examples and reference libraries."""

from typing import Any

import numpy as np
import pytest
from coloraide import Color
from coloraide.spaces.cam16 import CAM16JMh
from coloraide.spaces.cam16_ucs import CAM16UCS

from housemap.colorimetry import appearance, spectra
from housemap.colorimetry.appearance import Conditions
from housemap.colorimetry.arrays import Floats
from tests.support.conversions import Ranges, check_conversion
from tests.support.published import published
from tests.support.science import SCIENCE

WORKED, AGREED = (
    [case for case in cases if case["surround"].lower().startswith("average")]
    for cases in (published("cam16")["cases"], published("colour_math")["cam16"])
)
ADAPTATION = published("chromatic_adaptation")


def conditions(case: dict[str, Any]) -> Conditions:
    x, y, z = map(float, case["XYZ_w"])
    return Conditions((x, y, z), case["L_A"], case["Y_b"])


def random_surfaces(count: int = 400) -> Floats:
    """XYZ of surfaces from Y 1 up, of every colour."""
    random = np.random.default_rng(7)
    return spectra.to_xyz(random.uniform(0.02, 1.0, (count, 41)))


@pytest.mark.parametrize("case", WORKED)
def test_the_model_gives_the_worked_examples(case: dict[str, Any]) -> None:
    """CIE 248:2022's own example first, then those of the CAM16 authors."""
    jmh, expected = appearance.jmh(np.array(case["XYZ"], float), conditions(case)), case["expect"]
    np.testing.assert_allclose(jmh, [expected[name] for name in "JMh"], atol=5e-4)
    np.testing.assert_allclose(appearance.ucs(jmh), case["cam16_ucs_computed"], atol=1e-3)


@pytest.mark.parametrize("case", AGREED)
def test_the_model_gives_what_three_libraries_agree_on(case: dict[str, Any]) -> None:
    jmh = appearance.jmh(np.array(case["XYZ"]), conditions(case))
    np.testing.assert_allclose(jmh, [case["J"], case["M"], case["h"]], atol=1e-4)
    np.testing.assert_allclose(appearance.ucs(jmh), case["Jp_ap_bp"], atol=1e-4)


def test_the_model_converts_both_ways() -> None:
    seen = conditions(AGREED[0])
    same = [case for case in AGREED if conditions(case) == seen]
    gold = [(case["XYZ"], [case["J"], case["M"], case["h"]]) for case in same]
    check_conversion(
        lambda xyz: appearance.jmh(xyz, seen),
        lambda jmh: appearance.jmh_to_xyz(jmh, seen),
        gold,
        atol=1e-4,
        round_trip=Ranges([20, 20, 20], [40, 42, 45]),
        round_trip_atol=1e-8,
    )


def test_the_model_is_that_of_colour_science_and_coloraide() -> None:
    seen, xyz = appearance.reference(), random_surfaces()
    ours = appearance.jmh(xyz, seen)
    theirs = SCIENCE.appearance.XYZ_to_CIECAM16(
        xyz, seen.white100, seen.adapting_cd_m2, 20, SCIENCE.VIEWING_CONDITIONS_CIECAM16["Average"]
    )
    expected = np.stack([theirs.J, theirs.M, theirs.h], axis=-1)
    np.testing.assert_allclose(ours, expected, rtol=1e-10, atol=1e-8)


def test_uniform_space_is_that_of_coloraide() -> None:
    """Its cam16-ucs is for D65, 64 lx and background Y 20: L_A 4.07."""
    Color.register([CAM16JMh(), CAM16UCS()])
    x, y = Color.CS_MAP["cam16-ucs"].WHITE
    seen = Conditions((100 * x / y, 100.0, 100 * (1 - x - y) / y), 64 / np.pi * 0.2)
    for srgb in Ranges([0.05] * 3, [1] * 3, 40).sample():
        theirs = Color("srgb", list(srgb)).convert("cam16-ucs").coords()
        xyz = np.array(Color("srgb", list(srgb)).convert("xyz-d65").coords()) * 100.0
        ours = appearance.ucs(appearance.jmh(xyz, seen))
        np.testing.assert_allclose(ours, theirs, atol=1e-6)


def test_the_reference_light_is_300_lux_of_daylight() -> None:
    seen = appearance.reference()
    assert seen.adapting_cd_m2 == pytest.approx(300 * 0.2 / np.pi)
    assert seen.background_y100 == 20.0


def test_the_white_is_the_lightest_and_black_has_no_lightness() -> None:
    seen = appearance.reference()
    white, black = appearance.jmh(np.array([seen.white100, (0.0, 0.0, 0.0)]), seen)
    assert white[0] == pytest.approx(100.0)
    np.testing.assert_allclose(black[:2], 0.0, atol=1e-12)


@pytest.mark.parametrize(
    "case", [case for case in ADAPTATION["two_step_zhai2018"] if case["transform"] == "CAT16"]
)
def test_two_step_adaptation_gives_the_published_pairs(case: dict[str, Any]) -> None:
    """Zhai & Luo 2018, Opt. Express 26:7724."""
    got = appearance.adapt_two_step(
        np.array(case["XYZ_b"], float),
        np.array(case["XYZ_wb"], float),
        np.array(case["XYZ_wd"], float),
        (case["D_b"], case["D_d"]),
        np.array(case["XYZ_wo"], float),
    )
    np.testing.assert_allclose(got, case["expect"], atol=1e-6)


@pytest.mark.parametrize("case", published("colour_math")["cat16"])
def test_one_step_adaptation_gives_what_three_libraries_agree_on(case: dict[str, Any]) -> None:
    xyz, start, end = (np.array(case[k]) for k in ("XYZ", "XYZ_src_white", "XYZ_dst_white"))
    np.testing.assert_allclose(appearance.adapt(xyz, start, end), case["full_D1"], atol=1e-4)
    got = appearance.adapt(xyz, start, end, case["D"])
    np.testing.assert_allclose(got, case["incomplete_one_step"], atol=1e-4)
    degree = case["F"] * appearance.adaptation_degree(case["L_A"])
    assert degree == pytest.approx(case["D"], abs=1e-6)


@pytest.mark.parametrize(
    "case",
    ADAPTATION["degree_of_adaptation"]["read"] + ADAPTATION["degree_of_adaptation"]["computed"],
)
def test_degree_of_adaptation_is_the_published_one(case: dict[str, float]) -> None:
    degree = case["F"] * appearance.adaptation_degree(case["L_A"])
    assert degree == pytest.approx(case["D"], abs=2e-6)


def test_adaptation_takes_white_to_white_and_back() -> None:
    a, d65 = spectra.white("A/10"), spectra.white()
    np.testing.assert_allclose(appearance.adapt(a, a, d65), d65)
    xyz = random_surfaces(50)
    np.testing.assert_allclose(appearance.adapt(appearance.adapt(xyz, d65, a), a, d65), xyz)
    np.testing.assert_allclose(appearance.adapt_two_step(xyz, d65, d65, (0.8, 0.8)), xyz)


def test_two_complete_steps_are_one() -> None:
    a, d65, xyz = spectra.white("A/10"), spectra.white(), random_surfaces(50)
    both = appearance.adapt_two_step(xyz, a, d65, (1.0, 1.0))
    np.testing.assert_allclose(both, appearance.adapt(xyz, a, d65))


def test_a_degree_of_ones_own_overrides_the_formula() -> None:
    full = Conditions((109.85, 100.0, 35.58), 20.0, degree=1.0)
    grey = np.array(full.white100) * 0.5
    assert full.adaptation == 1.0
    assert appearance.jmh(grey, full)[..., 1] == pytest.approx(0.0, abs=0.05)
