"""Lamps as people know them."""

import numpy as np
import pytest

from housemap.errors import InputError
from housemap.light import sources
from housemap.light.explanation import LightFigures, sentences
from housemap.light.lamps import distortion, read_spectrum, rendering
from housemap.model.house import SpectralPower

FLUORESCENT_RA = {"FL2": 64, "FL4": 51, "FL7": 90, "FL11": 83}
"""CIE 15 table of illuminants, general colour rendering index (from memory)."""


@pytest.mark.parametrize(("name", "ra"), FLUORESCENT_RA.items())
def test_fluorescent_lamps_render_colours_as_published(name: str, ra: float) -> None:
    assert rendering(sources.lamp(None, name)).ra == pytest.approx(ra, abs=1.5)


def test_daylight_shows_colours_as_it_should() -> None:
    """The reference itself: 100 by all three, by definition."""
    full = rendering(sources.daylight(6504.0))
    assert (full.ra, full.rf, full.rg) == pytest.approx((100.0, 100.0, 100.0), abs=1.0)


def test_a_lamp_with_narrow_bands_distorts_more_than_a_smooth_one() -> None:
    nm = np.arange(380.0, 781.0, 10.0)
    paints = 0.1 + 0.7 / (1.0 + np.exp((np.array([[480.0], [560.0], [610.0]]) - nm) / 12.0))
    spiky = distortion(sources.lamp(None, "FL11"), paints, 4000.0)
    smooth = distortion(sources.lamp(4000.0, None), paints, 4000.0)
    assert np.all(spiky > smooth)
    assert smooth == pytest.approx(np.zeros(3), abs=0.2)


CSV = "wavelength;power\n" + "\n".join(f"{nm};{nm / 780:.4f}" for nm in range(380, 781, 10))
TM27 = (
    "<IESTM2714><SpectralDistribution>"
    + "".join(
        f'<SpectralData wavelength="{nm}">{nm / 780:.4f}</SpectralData>'
        for nm in range(380, 781, 10)
    )
    + "</SpectralDistribution></IESTM2714>"
)


@pytest.mark.parametrize("text", [CSV, CSV.replace(";", ","), TM27])
def test_a_measured_spectrum_is_read_and_shines(text: str) -> None:
    measured = read_spectrum(text)
    assert (measured.start_nm, measured.step_nm, len(measured.values)) == (380.0, 5.0, 81)
    assert measured.values[-1] == 1.0
    light = sources.power(sources.lamp(None, None, measured))
    assert light == pytest.approx(np.array(measured.values))
    assert sources.band_weights(sources.lamp(None, None, measured)).sum(0)[3] == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "10 or more"),
        (CSV + "\nfive;six", "must be a wavelength"),
        (CSV + "\n400;0.3", "given twice"),
        (CSV.replace("0.9", "-0.9"), "0 or more"),
        ("<a><b></a>", "no IES TM-27"),
        ('<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>', "document type"),
        ("x" * 1_000_001, "larger"),
    ],
)
def test_what_is_no_spectrum_gets_one_line(text: str, what: str) -> None:
    with pytest.raises(InputError, match=what) as raised:
        read_spectrum(text, "lamp.csv")
    assert len(raised.value.problems) == 1


def test_a_lamp_measured_from_400_nm_sends_nothing_below() -> None:
    power = sources.power(sources.lamp(2700.0, None, SpectralPower(400.0, 10.0, (1.0,) * 31)))
    assert power[0] == 0.0
    assert power[10] == 1.0


def test_the_light_of_a_room_is_told_in_two_or_three_sentences() -> None:
    room = LightFigures(0.6, 1.06, 120.0, "warmer", "oak floor", 8.0, 11.0, 2.0)
    assert sentences(room) == (
        "Dim by day.",
        "The oak floor makes the walls look warmer.",
        "By lamplight the colour shifts visibly: put a sample up.",
    )
    assert sentences(LightFigures(5.5, 1.06, 120.0)) == (
        "Bright by day.", "By lamplight the colour looks much the same.",
    )  # fmt: skip
    near = sentences(LightFigures(3.5, 1.06, 90.0, shift=7.0, band=2.0))
    assert near == (
        "Light enough by day.",
        "By lamplight the colour may shift: judge it by a sample.",
    )
    assert all(len(sentence.split()) <= 20 for sentence in sentences(room))
    assert sentences(LightFigures(None, 1.0, None))[0].startswith("No daylight is known")
