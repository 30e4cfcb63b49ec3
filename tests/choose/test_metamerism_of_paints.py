"""Paints beside each other: their difference, and a warning where a lamp parts them."""

import numpy as np
import pytest

from housemap.choose.chips import all_chips
from housemap.choose.metameric_pairs import metameric_pairs, nearest, spread
from housemap.colorimetry import spaces, spectra
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.difference import metamerism
from housemap.colorimetry.facts import colour_facts
from housemap.model.house import Lab, Notation, Reflectance
from tests.support.chips import chips_of, random_paints, reference_de00
from tests.support.science import chart_patches, recover

PATCHES = chart_patches()
TWINS = recover(spectra.to_xyz(PATCHES))
WORST = int(metamerism(PATCHES, TWINS, "A").argmax())
"""The chart patch that parts most from the smoothest reflectance of its colour."""


def measured(values: Floats) -> Reflectance:
    return Reflectance(380.0, 10.0, tuple(np.clip(values, 0.0, 1.0).tolist()))


def as_lab(values: Floats) -> Lab:
    first, second, third = spaces.xyz_to_lab(spectra.to_xyz(values), spectra.white()).tolist()
    return Lab((first, second, third))


CHIPS = chips_of(
    patch=measured(PATCHES[WORST]), twin=measured(TWINS[WORST]), lab=as_lab(PATCHES[WORST]),
    moss=Notation("5GY 5/4"),
)  # fmt: skip
PATCH, TWIN, LAB, MOSS = CHIPS.swatches


def test_measured_paints_that_match_by_day_and_part_under_a_lamp_are_warned_of() -> None:
    [metameric] = metameric_pairs([PATCH], [TWIN])
    assert metameric.known == "measured"
    assert metameric.de00 < 5
    assert metameric.lamps[metameric.worst] > 1
    assert metameric.warns


def test_what_one_measured_spectrum_shows_is_an_estimate() -> None:
    [metameric] = metameric_pairs([PATCH], [LAB])
    assert metameric.known == "estimate"
    assert metameric.warns


def test_recovered_spectra_say_nothing_of_metamerism() -> None:
    [metameric] = metameric_pairs([LAB], [MOSS])
    assert metameric.known == "unknown"
    assert not metameric.warns


def test_no_paint_parts_from_itself() -> None:
    for metameric in metameric_pairs(CHIPS.swatches, CHIPS.swatches):
        assert metameric.de00 == pytest.approx(0, abs=1e-9)
        assert max(metameric.lamps.values()) == pytest.approx(0, abs=1e-9)
        assert metameric.lrv == 0


def test_no_pairs_have_no_partings() -> None:
    assert metameric_pairs([], []) == ()


def test_the_nearest_are_those_of_a_reference_library() -> None:
    """By scikit-image's CIEDE2000."""
    chips = all_chips(random_paints(400))
    one = chips.swatches[17]
    found = nearest(one, chips, 5)
    apart = reference_de00(chips.lab100, np.array(one.colour.lab100))
    expected = [chips.swatches[row].id for row in apart.argsort()[1:6]]
    assert [neighbour.swatch.id for neighbour in found] == expected
    assert [n.metameric.de00 for n in found] == pytest.approx(sorted(apart)[1:6])


def test_the_spread_of_readings_is_their_difference_from_the_mean() -> None:
    """By scikit-image's CIEDE2000."""
    readings = colour_facts([Lab((70.0, 1.0, 8.0)), Lab((71.0, 1.2, 8.4)), Lab((70.4, 0.8, 7.6))])
    [mean] = colour_facts([Lab((70.4666, 1.0, 8.0))])
    labs = np.array([reading.lab100 for reading in readings])
    expected = reference_de00(labs, np.array(mean.lab100))
    assert spread(readings, mean) == pytest.approx(expected)
    assert spread((), mean) == ()
