"""The index of metamerism against two reference libraries, and what must hold of it."""

import warnings
from typing import Any

import numpy as np
import pytest
from coloraide import Color
from skimage import color as skimage_color_module

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.difference import LAMPS, metamerism
from housemap.errors import ColourError
from tests.support.science import SCIENCE, chart_patches, recover

skimage_color: Any = skimage_color_module
PATCHES = chart_patches()
FIRST, SECOND = PATCHES[:39], PATCHES[39:78]
OBSERVER_10 = "CIE 1964 10 Degree Standard Observer"


def library_xyz(reflectance: Floats, lamp: str) -> Floats:
    """XYZ100 as colour-science integrates it, at 5 nm."""
    lights = {**SCIENCE.SDS_ILLUMINANTS}
    shape = SCIENCE.SpectralShape(380, 780, 5)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it tells that it trims and interpolates
        light = lights[lamp].copy().align(shape)
        observer = SCIENCE.MSDS_CMFS[OBSERVER_10].copy().align(shape)
        fine = np.array([np.interp(shape.range(), spectra.GRID_NM, row) for row in reflectance])
        xyz = SCIENCE.msds_to_XYZ(fine, observer, light, method="Integration", shape=shape)
    return np.asarray(xyz)


def library_lab(xyz100: Floats, lamp: str) -> Floats:
    white = library_xyz(np.ones((1, len(spectra.GRID_NM))), lamp)[0]
    return np.asarray(SCIENCE.XYZ_to_Lab(xyz100 / 100, SCIENCE.XYZ_to_xy(white / 100)))


def library_pairs(lamp: str) -> tuple[Floats, Floats]:
    """Lab of both halves of the patches under a lamp, made equal under D65."""
    correction = library_xyz(FIRST, "D65") / library_xyz(SECOND, "D65")
    other = library_xyz(SECOND, lamp) * correction
    return library_lab(library_xyz(FIRST, lamp), lamp), library_lab(other, lamp)


@pytest.mark.parametrize("lamp", LAMPS)
def test_the_index_is_that_of_the_reference_libraries(lamp: str) -> None:
    """CIE 15:2018, special metamerism index; from its description, as no library has it whole."""
    one, other = library_pairs(lamp)
    ours = metamerism(FIRST, SECOND, lamp)
    # between their bands reflectances are interpolated by cubics here, by straight lines there
    np.testing.assert_allclose(ours, skimage_color.deltaE_ciede2000(one, other), atol=0.1)
    few = [
        Color("lab-d65", list(a)).delta_e(Color("lab-d65", list(b)), method="2000")
        for a, b in zip(one[:10], other[:10], strict=True)
    ]
    np.testing.assert_allclose(ours[:10], few, atol=0.1)


@pytest.mark.parametrize("lamp", LAMPS)
def test_a_measured_paint_and_its_smoothest_twin_part_under_a_lamp(lamp: str) -> None:
    twins = recover(spectra.to_xyz(PATCHES))
    apart = metamerism(PATCHES, twins, lamp)
    assert apart.max() > 1.0
    assert np.median(apart) < 2.0


@pytest.mark.parametrize("lamp", LAMPS)
def test_what_only_is_lighter_does_not_part(lamp: str) -> None:
    np.testing.assert_allclose(metamerism(PATCHES, PATCHES * 0.8, lamp), 0.0, atol=1e-9)


def test_a_black_has_an_index_too() -> None:
    black = np.zeros((1, len(spectra.GRID_NM)))
    assert np.isfinite(metamerism(black, PATCHES[:1], "A")).all()
    assert metamerism(black, black, "A") == pytest.approx(0.0)


def test_a_lamp_that_is_not_there_is_refused() -> None:
    with pytest.raises(ColourError):
        metamerism(FIRST, SECOND, "candle")
