"""What a sheen makes of a colour."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry.sheen import SIGNS, by_sheen
from housemap.model.house import SHEENS

reflectances = st.floats(0.01, 0.95)
INCLUDED, EXCLUDED, UNKNOWN = (SIGNS[how] for how in ("included", "excluded", None))


@given(rho=reflectances)
def test_the_glossier_a_wall_the_deeper_its_colour(rho: float) -> None:
    reflectance = np.full((1, 41), rho)
    shown = [by_sheen(reflectance, np.array([INCLUDED]), sheen)[0, 0] for sheen in SHEENS]
    assert shown == sorted(shown, reverse=True)
    assert shown[0] == pytest.approx(rho)
    assert min(shown) >= 0.0


def test_a_deep_colour_loses_most_of_its_lightness_to_gloss() -> None:
    """An ideal mirror of 4 % (Fresnel, index 1.5: ((1.5 - 1) / (1.5 + 1)) squared) by hand."""
    assert pytest.approx(0.04) == ((1.5 - 1.0) / (1.5 + 1.0)) ** 2
    deep, pale = (
        by_sheen(np.full((1, 41), rho), np.array([INCLUDED]), "gloss")[0, 0] for rho in (0.05, 0.8)
    )
    assert deep == pytest.approx(0.05 - 0.9 * 0.04 * 0.95)
    assert pale == pytest.approx(0.8 - 0.9 * 0.04 * 0.2)


@given(rho=reflectances)
def test_measured_without_gloss_a_matt_wall_is_paler_than_its_figure(rho: float) -> None:
    shown = by_sheen(np.full((1, 41), rho), np.array([EXCLUDED]), "matt")
    assert shown[0, 0] == pytest.approx(rho + 0.04 * (1.0 - rho))


@given(rho=reflectances)
def test_what_is_not_known_changes_nothing(rho: float) -> None:
    reflectance = np.full((2, 41), rho)
    assert np.array_equal(by_sheen(reflectance, np.full(2, UNKNOWN), "gloss"), reflectance)
    assert by_sheen(reflectance, np.full(2, INCLUDED), None) is reflectance
