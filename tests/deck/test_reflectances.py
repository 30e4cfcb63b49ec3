"""Spectra become evenly stepped reflectance within 0..1, or a reason why not."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry.facts import colour_facts
from housemap.deck.colours import spectrum
from housemap.deck.reading import RowError
from housemap.model.house import Reflectance
from tests.support.chips import reference_de00
from tests.support.decks import BANDS_NM, OAT

NM = [float(nm) for nm in BANDS_NM]


def test_even_readings_stay_as_they_are() -> None:
    made, notes = spectrum(NM, OAT, percent=False)
    assert (made.start_nm, made.step_nm) == (400, 10)
    assert made.values == OAT
    assert notes == ()


@given(st.permutations(range(31)))
def test_the_order_of_wavelengths_does_not_matter(order: list[int]) -> None:
    made, _ = spectrum([NM[i] for i in order], [OAT[i] for i in order], percent=False)
    assert made.values == OAT


uneven = st.lists(st.floats(5, 18), min_size=24, max_size=60)
heights = st.lists(st.floats(0, 1), min_size=80, max_size=80)


@given(uneven, heights)
def test_uneven_steps_are_interpolated_linearly_and_told(
    steps: list[float], values: list[float]
) -> None:
    """Against numpy.interp."""
    nm = list(np.minimum(390 + np.cumsum([0.0, *steps]), 3000))
    if nm[-1] < 705:
        nm += list(np.arange(nm[-1] + 13.5, 725, 13.5))
    readings = (values * 2)[: len(nm)]
    reflectance, notes = spectrum(nm, readings, percent=False)
    grid = reflectance.start_nm + reflectance.step_nm * np.arange(len(reflectance.values))
    assert np.allclose(reflectance.values, np.interp(grid, nm, readings), atol=1e-9)
    assert nm[0] <= grid[0] <= 400
    assert 700 <= grid[-1] <= nm[-1]
    assert "interpolated" in notes[0]


@pytest.mark.parametrize(("first", "last"), [(1, 31), (0, 30), (0, 29), (1, 29)])
def test_missing_ends_are_held_level_and_told(first: int, last: int) -> None:
    whole, notes = spectrum(NM[first:last], OAT[first:last], percent=False)
    assert (whole.start_nm, whole.step_nm, len(whole.values)) == (400.0, 10.0, 31)
    assert set(whole.values[: first + 1]) == {OAT[first]}
    assert set(whole.values[last - 1 :]) == {OAT[last - 1]}
    assert whole.values[first:last] == OAT[first:last]
    assert f"spectra of {NM[first]:g} to {NM[last - 1]:g} nm" in notes[0]


def test_held_ends_change_even_abrupt_colours_by_less_than_is_said() -> None:
    """Logistic steps anywhere in the spectrum, steeper than those of pigments."""
    nm = np.arange(380, 781, 10)
    rng = np.random.default_rng(1)
    centres, widths = rng.uniform(390, 720, (200, 1)), rng.uniform(8, 40, (200, 1))
    whole = 0.1 + 0.7 / (1 + np.exp(-(nm - centres) / widths))
    whole[::3] = 0.9 - whole[::3]
    held = whole.copy()
    held[:, nm < 410] = whole[:, [3]]
    held[:, nm > 680] = whole[:, [30]]
    lab = [
        np.array([f.lab100 for f in colour_facts([Reflectance(380.0, 10.0, tuple(r)) for r in m])])
        for m in (whole.tolist(), held.tolist())
    ]
    apart = reference_de00(*lab)
    assert apart.max() < 1.0
    assert np.percentile(apart, 95) < 0.3


def test_noise_around_the_limits_is_set_to_them_and_told() -> None:
    made, notes = spectrum(NM, [-0.004, 1.012, *OAT[2:]], percent=False)
    assert made.values[:2] == (0.0, 1.0)
    assert notes == ("readings slightly below 0 or above 1 are set to the limit",)


@pytest.mark.parametrize(
    ("nm", "readings", "reason"),
    [
        (NM[2:], OAT[2:], "must span at least 410 to 680 nm, found 420 to 700"),
        (NM[:-3], OAT[:-3], "must span at least 410 to 680 nm, found 400 to 670"),
        ([400.0, 700.0], [0.5, 0.5], "no reading between 400 and 700 nm"),
        (NM[:15] + NM[17:], OAT[:15] + OAT[17:], "no reading between 540 and 570 nm"),
        ([400.0, *NM], [0.5, *OAT], "two readings at 400 nm"),
        (NM, [*OAT[:-1], 1.4], "reflectance 1.4 at 700 nm is outside 0..1"),
        ([], [], "found none"),
    ],
)
def test_what_is_no_reflectance_is_refused(
    nm: list[float], readings: list[float], reason: str
) -> None:
    with pytest.raises(RowError, match=reason.replace(".", r"\.")):
        spectrum(nm, readings, percent=False)
