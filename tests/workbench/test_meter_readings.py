"""Readings of a meter are read line by line, averaged, and told exactly where they are wrong."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.model.house import Lab, Notation, Reflectance, Xyz
from housemap.workbench.typed_paint import metered
from tests.support.chips import reference_de00

SPECTRUM = "\n".join(f"{nm} {0.3 + nm / 5000:.4f}" for nm in range(400, 710, 10))
LIGHTER = "\n".join(f"{nm} {0.31 + nm / 5000:.4f}" for nm in range(400, 710, 10))


def test_a_line_each_gives_their_mean_and_how_far_each_is_from_it() -> None:
    """By scikit-image's CIEDE2000."""
    found = metered("62.0 1.0 8.0\n62.6 1.2 8.3\n61.7 0.8 7.7\n", "D65/10")
    assert isinstance(found.mean, Lab)
    assert found.mean.lab100 == pytest.approx((62.1, 1.0, 8.0))
    labs = np.array([entry.colour.lab100 for entry in found.entries if entry.colour])
    expected = reference_de00(labs, np.array(found.mean.lab100))
    assert [entry.apart for entry in found.entries] == pytest.approx(expected, abs=1e-6)
    assert found.widest == pytest.approx(max(expected), abs=1e-6)


def test_the_conditions_beside_a_reading_go_before_those_of_the_form() -> None:
    found = metered("62 1 8\n\nXYZ 30.1 31.2 25.0 A/10", "D50/2")
    sources = [entry.reading.source for entry in found.entries if entry.reading]
    assert sources == [Lab((62, 1, 8), "D50/2"), Xyz((30.1, 31.2, 25.0), "A/10")]
    assert "of one kind" in found.fault
    assert found.mean is None


def test_a_spectrum_over_several_lines_is_one_reading() -> None:
    found = metered(SPECTRUM, "D65/10")
    assert isinstance(found.mean, Reflectance)
    assert (found.mean.start_nm, len(found.mean.values)) == (400, 31)
    assert found.widest is None


def test_a_blank_line_keeps_spectra_apart() -> None:
    found = metered(f"{SPECTRUM}\n \n\n{LIGHTER}\n", "D65/10")
    assert [entry.line for entry in found.entries] == [1, 34]
    assert isinstance(found.mean, Reflectance)
    assert found.mean.values[0] == pytest.approx(0.385)


def test_a_spectrum_that_is_half_typed_is_one_fault() -> None:
    [entry] = metered("\n".join(SPECTRUM.splitlines()[:9]), "D65/10").entries
    assert "at least 410 to 680 nm, found 400 to 480" in entry.fault


def test_a_wrong_line_is_told_and_the_others_stay_as_they_are() -> None:
    found = metered("62 1 8\n62 1\n61 1 8", "D65/10")
    assert [bool(entry.colour) for entry in found.entries] == [True, False, True]
    assert found.entries[1].line == 2
    assert "three numbers are needed" in found.entries[1].fault
    assert found.mean is None


def test_a_colour_that_no_surface_has_is_told_at_its_line() -> None:
    found = metered("62 1 8\n99 0 120", "D65/10")
    assert "no surface is so light" in found.entries[1].fault


def test_a_notation_is_a_reading_too() -> None:
    assert metered("5Y 7/1", "D65/10").mean == Notation("5Y 7/1")


def test_nothing_typed_is_no_reading() -> None:
    for text in ("", "\n\n  \n"):
        found = metered(text, "D65/10")
        assert (found.entries, found.mean, found.fault) == ((), None, "")


@settings(max_examples=60)
@given(st.text("0123456789.,- \nLabXYZD/%nfrom", max_size=80))
def test_whatever_is_typed_is_read_or_told(text: str) -> None:
    found = metered(text, "D65/10")
    for entry in found.entries:
        assert bool(entry.colour) != bool(entry.fault)
        assert "\n" not in entry.fault
    assert (found.mean is None) == (found.colour is None)
