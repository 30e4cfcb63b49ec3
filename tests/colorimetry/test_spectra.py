"""Tristimulus values of measured reflectances under CIE lights."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry import appearance, science, spaces, spectra, tables
from housemap.colorimetry.arrays import Floats
from housemap.errors import ColourError
from tests.support.colour_tables import renotation_csv, spectra_csv
from tests.support.published import published
from tests.support.science import SCIENCE, cie_test_colours, e308_xyz

LAMPS = published("reflectance_under_lamps")
D65_2 = "D65/2"


def chromaticity(xyz: Floats) -> Floats:
    return np.asarray(xyz[:2] / xyz.sum())


def test_shipped_tables_are_those_of_colour_science() -> None:
    assert (tables.FOLDER / tables.SPECTRA).read_text("ascii") == spectra_csv()
    assert (tables.FOLDER / tables.RENOTATION).read_text("ascii") == renotation_csv()


@pytest.mark.parametrize("case", published("illuminants")["illuminants"], ids=lambda c: c["name"])
def test_whites_have_their_published_chromaticities(case: dict[str, Any]) -> None:
    """CIE 15:2018 prints them to five decimals from 1 nm sums; 5 nm sums stay within 2e-4."""
    for degrees in (2, 10):
        xy = chromaticity(spectra.white(f"{case['name']}/{degrees}"))
        np.testing.assert_allclose(xy, case[f"xy_{degrees}deg"], atol=2e-4)


@pytest.mark.parametrize(
    "case", published("lrv_of_test_colours")["cases"], ids=lambda c: c["sample"]
)
def test_light_reflectance_of_the_cie_test_colours(case: dict[str, Any]) -> None:
    """CIE 13.3 reflectances, ASTM E308 sums of colour-science."""
    reflectance = cie_test_colours()[case["sample"]]
    for key in ("D65_10deg", "D65_2deg", "A_10deg", "D50_10deg", "LEDB1_10deg"):
        observed = key.replace("_", "/").replace("LEDB1", "LED-B1").removesuffix("deg")
        y = spectra.to_xyz(reflectance, observed)[1]
        assert y == pytest.approx(case[f"Y_{key}"], abs=0.05)
    lab = spaces.xyz_to_lab(spectra.to_xyz(reflectance), spectra.white())
    np.testing.assert_allclose(lab, case["Lab_D65_10deg"], atol=0.05)


@pytest.mark.parametrize("sample", LAMPS["samples"], ids=lambda s: s["sample"])
def test_patches_under_lamps_match_sums_at_5_nm(sample: dict[str, Any]) -> None:
    """colour-science and luxpy; the spiky FL11 is only summed at half of our bands there."""
    reflectance = spectra.resampled(np.array(sample["reflectance"]), 380.0, 5.0)
    for lamp, expected in sample["under"].items():
        loose = 4.0 if lamp == "FL11" else 1.0
        white, d65 = spectra.white(f"{lamp}/2"), spectra.white(D65_2)
        xyz = spectra.to_xyz(reflectance, f"{lamp}/2")
        np.testing.assert_allclose(xyz, expected["XYZ"], atol=0.005 * loose)
        lab = spaces.xyz_to_lab(appearance.adapt(xyz, white, d65), d65)
        np.testing.assert_allclose(lab, expected["Lab_after_CAT16_D65"], atol=0.015 * loose)
        x, y, z = white.tolist()
        seen = appearance.Conditions((x, y, z), 20.0)
        ucs = appearance.ucs(appearance.jmh(xyz, seen))
        np.testing.assert_allclose(ucs, expected["CAM16UCS"], atol=0.01 * loose)


def test_ten_nanometres_serve_spiky_lamps_too() -> None:
    """Against ASTM E308 of colour-science at 1 nm, for lamps whose plain 10 nm sums fail."""
    sd = SCIENCE.SDS_COLOURCHECKERS["ColorChecker N Ohta"]["orange yellow"]
    ours = spectra.resampled(np.asarray(sd.values), 380.0, 5.0)
    for lamp in ("FL2", "FL11", "HP1", "LED-RGB1"):
        xyz = spectra.to_xyz(ours, f"{lamp}/2")
        np.testing.assert_allclose(xyz, e308_xyz(sd, lamp), atol=0.06)


@pytest.mark.parametrize("case", published("illuminants")["d_series_read"])
def test_daylight_chromaticity_is_the_published_one(case: dict[str, Any]) -> None:
    """CIE 15:2018, read in colour-science's tests."""
    np.testing.assert_allclose(spectra.daylight_xy(case["T"]), case["xy"], atol=1e-6)


@pytest.mark.parametrize(
    "case", [c for c in published("light_sources")["cases"] if "CCT_input_K" in c]
)
def test_daylight_and_full_radiators_have_their_published_spectra(
    case: dict[str, Any],
) -> None:
    kelvin = case["CCT_input_K"]
    daylight = case["kind"] == "CIE D-series"
    power = spectra.daylight(kelvin) if daylight else spectra.planckian(kelvin)
    white = spectra.weights_of(power, 2).sum(0)
    np.testing.assert_allclose(chromaticity(white), case["xy_from_SD_5nm_2deg"], atol=2e-4)
    for nm, value in case.get("rel_SD_at", {}).items():
        assert power[(int(nm) - 380) // 5] == pytest.approx(value, abs=0.05)


@pytest.mark.parametrize("kelvin", [4000.0, 5500.0, 6504.0, 9000.0, 25000.0])
def test_daylight_is_that_of_colour_science(kelvin: float) -> None:
    xy = SCIENCE.temperature.CCT_to_xy_CIE_D(kelvin)
    theirs = SCIENCE.sd_CIE_illuminant_D_series(xy, M1_M2_rounding=False)
    np.testing.assert_allclose(spectra.daylight(kelvin), theirs[spectra.FINE_NM], rtol=1e-9)


@pytest.mark.parametrize("kelvin", [3999.0, 25001.0, float("nan")])
def test_there_is_no_cie_daylight_outside_its_range(kelvin: float) -> None:
    with pytest.raises(ColourError, match="4000 to 25000"):
        spectra.daylight(kelvin)


@pytest.mark.parametrize("observed", ["D65/10", "D65/2", "A/10", "LED-B1/10", "FL4/2", "E/2"])
def test_the_perfect_diffuser_has_y_100_under_every_light(observed: str) -> None:
    white = spectra.to_xyz(np.ones(41), observed)
    assert white[1] == pytest.approx(100.0, abs=1e-9)
    np.testing.assert_allclose(white, spectra.white(observed))


@pytest.mark.parametrize(
    ("observed", "hint"),
    [("D65", "2 or 10"), ("D65/5", "2 or 10"), ("D66/2", "did you mean D65"), ("lamp/10", "lamp")],
)
def test_an_unknown_light_or_observer_is_told_with_what_would_be_right(
    observed: str, hint: str
) -> None:
    with pytest.raises(ColourError, match=hint):
        spectra.weights(observed)


def test_rare_illuminants_come_from_colour_science() -> None:
    np.testing.assert_array_equal(spectra.illuminant("HP1"), science.illuminant("HP1"))


@given(st.tuples(*[st.floats(-1.0, 1.0)] * 3), st.sampled_from([1.0, 2.0, 5.0, 10.0, 20.0]))
def test_a_smooth_reflectance_is_the_same_however_finely_measured(
    shape: tuple[float, float, float], step_nm: float
) -> None:
    """Interpolation and fit are exact for a parabola."""
    count = round(400.0 / step_nm) + 1
    there, grid = (np.linspace(-1.0, 1.0, n) for n in (count, 41))
    measured, expected = (np.array(0.5 + np.polyval(shape, t) / 8.0) for t in (there, grid))
    np.testing.assert_allclose(spectra.resampled(measured, 380.0, step_nm), expected, atol=1e-9)


def test_end_values_go_on_where_nothing_was_measured() -> None:
    values = spectra.resampled(np.linspace(0.2, 0.8, 31), 400.0, 10.0)
    np.testing.assert_allclose(values[:3], 0.2)
    np.testing.assert_allclose(values[-9:], 0.8)


@pytest.mark.parametrize(
    ("start", "step", "values", "hint"),
    [
        (420.0, 10.0, [0.5] * 29, "400 to 700"),
        (400.0, 10.0, [0.5] * 30, "400 to 700"),
        (400.0, 25.0, [0.5] * 13, "20 nm"),
        (400.0, 0.0, [0.5] * 31, "20 nm"),
        (400.0, 10.0, [0.5] * 30 + [1.01], "0..1"),
        (400.0, 10.0, [float("nan")] * 31, "0..1"),
    ],
)
def test_a_reflectance_that_cannot_be_used_is_refused(
    start: float, step: float, values: list[float], hint: str
) -> None:
    with pytest.raises(ColourError, match=hint):
        spectra.resampled(np.array(values), start, step)
