"""Several readings of one surface as one."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.deck.typed import mean_reading
from housemap.errors import InputError
from housemap.model.house import ColourSource, Lab, Notation, Reflectance, Srgb, Xyz

values = st.lists(st.floats(0, 1), min_size=31, max_size=31).map(tuple)


@given(st.lists(values, min_size=1, max_size=5))
def test_spectra_are_averaged_band_by_band(readings: list[tuple[float, ...]]) -> None:
    """Against numpy."""
    mean = mean_reading([Reflectance(400.0, 10.0, reading) for reading in readings])
    assert isinstance(mean, Reflectance)
    assert (mean.start_nm, mean.step_nm) == (400, 10)
    assert np.allclose(mean.values, np.mean(readings, axis=0))


def test_lab_and_xyz_are_averaged_under_their_own_light() -> None:
    labs = [Lab((60.0, 1.0, 8.0), "D50/2"), Lab((62.0, 2.0, 10.0), "D50/2")]
    assert mean_reading(labs) == Lab((61.0, 1.5, 9.0), "D50/2")
    xyzs = [Xyz((60.0, 64.0, 58.0)), Xyz((62.0, 66.0, 60.0))]
    assert mean_reading(xyzs) == Xyz((61.0, 65.0, 59.0))


@pytest.mark.parametrize(
    "readings",
    [
        [],
        [Srgb("#d9d0bf"), Srgb("#d9d0bf")],
        [Notation("5Y 7/1")],
        [Lab((60.0, 1.0, 8.0), "D50/2"), Lab((60.0, 1.0, 8.0), "D65/10")],
        [Lab((60.0, 1.0, 8.0)), Xyz((60.0, 64.0, 58.0))],
        [Xyz((60.0, 64.0, 58.0)), Lab((60.0, 1.0, 8.0))],
        [Reflectance(400.0, 10.0, (0.5,) * 31), Reflectance(380.0, 10.0, (0.5,) * 31)],
        [Reflectance(400.0, 10.0, (0.5,) * 31), Reflectance(400.0, 10.0, (0.5,) * 36)],
        [Reflectance(400.0, 10.0, (0.5,) * 31), Srgb("#d9d0bf")],
    ],
)
def test_readings_of_different_kinds_have_no_mean(readings: list[ColourSource]) -> None:
    with pytest.raises(InputError):
        mean_reading(readings)
