"""Spectra of daylight and lamps against CIE 15:2018, and which light comes from which side."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.errors import ColourError
from housemap.guide import page
from housemap.light import orientation, sources
from housemap.model.geometry import azimuth_deg, wall_of, walls
from housemap.model.house import Room
from tests.support.published import published

PUBLISHED = {case["name"]: case for case in published("illuminants")["illuminants"]}
lamps = st.floats(1800.0, 9000.0)


def xy(power: Floats) -> tuple[float, float]:
    x, y, z = (power @ spectra.observer(2)).tolist()
    return x / (x + y + z), y / (x + y + z)


def mccamy_kelvin(x: float, y: float) -> float:
    """McCamy 1992, Color Res. Appl. 17:142."""
    n = (x - 0.3320) / (y - 0.1858)
    return -449.0 * n**3 + 3525.0 * n**2 - 6823.3 * n + 5520.33


@pytest.mark.parametrize("name", ["A", "FL2", "FL11", "LED-B1", "LED-B3", "LED-RGB1", "LED-V1"])
def test_a_named_lamp_has_its_published_colour(name: str) -> None:
    weights = sources.band_weights(sources.lamp(1234.0, name)).sum(0)
    got = weights[:2] / weights[:3].sum()
    assert got == pytest.approx(PUBLISHED[name]["xy_10deg"], abs=4e-4)


@pytest.mark.parametrize(("kelvin", "name"), [(2733.0, "LED-B1"), (2998.0, "LED-B2")])
def test_a_lamp_of_a_cie_leds_temperature_is_that_led(kelvin: float, name: str) -> None:
    assert xy(sources.power(sources.lamp(kelvin, None))) == pytest.approx(
        PUBLISHED[name]["xy_2deg"], abs=2e-4
    )


@given(kelvin=st.floats(2000.0, 9000.0))
def test_light_has_the_temperature_that_was_asked_for(kelvin: float) -> None:
    """By McCamy's formula, within 2 % where that is good, 10 % where it is coarse itself."""
    power = sources.power(sources.lamp(kelvin, None))
    rough = 0.02 if kelvin > 2600.0 else 0.10
    assert mccamy_kelvin(*xy(power)) == pytest.approx(kelvin, rel=rough)
    assert np.all(power >= 0.0)


@given(kelvin=lamps, name=st.sampled_from([None, "A", "FL11"]))
def test_a_lux_of_any_light_is_one_lux(kelvin: float, name: str | None) -> None:
    weights = sources.band_weights(sources.lamp(kelvin, name))
    assert weights.shape == (41, 4)
    assert weights[:, 3].sum() == pytest.approx(1.0)


def test_lights_of_two_spectra_add_up_as_their_powers_do() -> None:
    """The 10 degree colour of a mixture, from the mixed spectrum of as many lumens each."""
    pair = [sources.lamp(2700.0, None), sources.daylight(7500.0)]
    v = spectra.observer(2)[:, 1]
    mixed = sum(sources.power(one) / (sources.power(one) @ v) for one in pair)
    expected = mixed @ spectra.observer(10)
    got = sum(sources.band_weights(one).sum(0)[:3] for one in pair)
    assert got / got.sum() == pytest.approx(expected / expected.sum(), rel=1e-9)


@pytest.mark.parametrize("kelvin", [5500.0, 6500.0, 7500.0])
def test_daylight_is_the_cie_phase(kelvin: float) -> None:
    got = xy(sources.power(sources.daylight(kelvin)))
    assert got == pytest.approx(spectra.daylight_xy(kelvin), abs=2e-4)


def test_beyond_daylight_the_full_radiator_takes_over() -> None:
    for kelvin in (3000.0, 30000.0):
        got = sources.power(sources.daylight(kelvin))
        assert got == pytest.approx(spectra.planckian(kelvin))


def test_an_illuminant_that_does_not_exist_is_refused() -> None:
    with pytest.raises(ColourError, match="no CIE illuminant"):
        sources.power(sources.lamp(2700.0, "LED-X9"))


def test_a_spectrum_says_what_it_is() -> None:
    assert str(sources.daylight(6500.0)) == "daylight of 6500 K"
    assert str(sources.lamp(2700.0, "FL11")) == "FL11"


def azimuths(room: Room, north_deg: float) -> dict[str, float]:
    return {wall.key: azimuth_deg(wall, north_deg) for wall in walls(room)}


def test_walls_face_the_sides_that_they_are_named_for() -> None:
    room = Room("Room", size_m=(4.0, 3.0))
    assert azimuths(room, 0.0) == pytest.approx({"n": 0.0, "e": 90.0, "s": 180.0, "w": 270.0})
    # True north lies 20 degrees clockwise from plan-up: plan-up is 340 degrees.
    assert azimuths(room, 20.0)["n"] == pytest.approx(340.0)


def test_edges_of_an_outline_face_outward() -> None:
    room = Room("Bay", outline_m=((0.0, 0.0), (4.0, 0.0), (5.0, 1.0), (5.0, 3.0), (0.0, 3.0)))
    expected = {"0": 180.0, "1": 135.0, "2": 90.0, "3": 0.0, "4": 270.0}
    assert azimuths(room, 0.0) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("wall", "latitude", "kelvin"),
    [
        ("n", 51.5, 7500.0), ("s", 51.5, 5500.0), ("e", 51.5, 6500.0), ("w", 51.5, 6500.0),
        ("n", -33.9, 5500.0), ("s", -33.9, 7500.0), ("n", None, 6500.0), ("s", 0.0, 6500.0),
    ],
)  # fmt: skip
def test_daylight_follows_facing_and_hemisphere(
    wall: str, latitude: float | None, kelvin: float
) -> None:
    """Common practice, no source."""
    side = wall_of(Room("Room", size_m=(4.0, 3.0)), wall)
    assert side is not None
    assert orientation.daylight_kelvin(azimuth_deg(side, 0.0), latitude) == kelvin


def test_the_guide_tells_every_colour_temperature_that_is_assumed() -> None:
    text = page("method")
    for kelvin in orientation.DAYLIGHT_KELVIN.values():
        assert f"{kelvin:.0f} K" in text
    for kelvin, name in sources.LED_SERIES:
        assert f"{kelvin:.0f} K" in text
        assert name.removeprefix("LED-") in text
