"""ASTM D1535 notation against the renotation, the standard's values and colour-science."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry import appearance, munsell, spaces
from housemap.colorimetry.arrays import Floats
from housemap.errors import ColourError
from tests.support.conversions import Ranges, check_conversion
from tests.support.published import published
from tests.support.science import munsell_hvc

VALUES = published("munsell_value")
CASES = published("munsell")["cases"]
CHIPS = [c for c in published("munsell_chroma_2")["cases"] if c["munsell"] != "2.5R 9/2"]
"""Without the one chip whose printed x, 0.3210, colour-science carries as 0.3220."""


def xyz_of(xy_y: list[float]) -> Floats:
    x, y, luminance = xy_y
    return np.array([x / y, 1.0, (1.0 - x - y) / y]) * luminance


def hue_steps(one: float, other: float) -> float:
    return abs((one - other + 50.0) % 100.0 - 50.0)


@pytest.mark.parametrize("case", VALUES["read_pairs_astm"])
def test_luminance_of_a_value_is_that_of_the_standard(case: dict[str, float]) -> None:
    """ASTM D1535-08e1."""
    assert munsell.value_to_y(np.array(case["V"])) == pytest.approx(case["Y"], abs=1e-6)


@pytest.mark.parametrize("case", VALUES["read_inverse_astm"])
def test_value_of_a_luminance_is_that_of_the_standard(case: dict[str, float]) -> None:
    assert munsell.y_to_value(np.array(case["Y"])) == pytest.approx(case["V"], abs=1e-4)


@pytest.mark.parametrize("case", VALUES["table"])
def test_luminance_refers_to_the_perfect_diffuser_not_to_mgo(case: dict[str, float]) -> None:
    assert munsell.value_to_y(np.array(case["V"])) == pytest.approx(case["Y_astm"], abs=1e-3)
    renotation = case["Y_renotation_MgO_read"]
    if renotation is not None:
        assert case["Y_astm"] == pytest.approx(0.975 * renotation, abs=0.03)


def test_notation_converts_both_ways() -> None:
    gold = [
        (munsell.parse(case["munsell"]), xyz_of(case["xyY_C"]))
        for case in CASES
        if not case["munsell"].startswith("N")
    ]
    check_conversion(
        munsell.to_xyz,
        munsell.from_xyz,
        gold,
        atol=0.05,
        round_trip=Ranges([0, 2.0, 0.1], [99.9, 9.9, 8]),
    )


@pytest.mark.parametrize("case", CASES, ids=lambda c: c["munsell"])
def test_published_notations_have_their_chromaticity_and_colour(case: dict[str, Any]) -> None:
    """Renotation chips as carried by colour-science and r-cran-munsell; CAT16 to D65."""
    xyz = munsell.to_xyz(np.array(munsell.parse(case["munsell"])))
    np.testing.assert_allclose(xyz[:2] / xyz.sum(), case["xyY_C"][:2], atol=2e-4)
    assert xyz[1] == pytest.approx(case["Y_percent"], abs=0.01)
    d65 = appearance.adapt(xyz, munsell.WHITE, spaces.SRGB_WHITE)
    lab = spaces.xyz_to_lab(d65, spaces.SRGB_WHITE)
    np.testing.assert_allclose(lab, case["Lab_D65_after_CAT16"], atol=0.01)


def test_every_chip_of_chroma_2_reads_as_itself() -> None:
    """Newhall, Nickerson & Judd 1943; Y of the table is on the MgO scale, 0.975 of ours."""
    hvc = np.array([munsell.parse(case["munsell"]) for case in CHIPS])
    read = np.array([case["xyY_C_read"] for case in CHIPS])
    xyz = np.stack([xyz_of(row) for row in read.tolist()]) * 0.975
    np.testing.assert_allclose(munsell.to_xyz(hvc), xyz, atol=0.05)
    got = munsell.from_xyz(xyz)
    assert max(hue_steps(a, b) for a, b in zip(got[:, 0], hvc[:, 0], strict=True)) < 0.1
    np.testing.assert_allclose(got[:, 1:], hvc[:, 1:], atol=0.02)


def test_inversion_agrees_with_colour_science() -> None:
    """Within the tolerances of its own rounding: 0.5 hue step, 0.05 value, 0.1 chroma."""
    colours = Ranges([0, 3.0, 1.0], [99.9, 9.4, 6.0], 12).sample()
    for hvc, xyz in zip(colours, munsell.to_xyz(colours), strict=True):
        hue, value, chroma = munsell_hvc(xyz)
        assert hue_steps(hue, hvc[0]) < 0.5
        assert value == pytest.approx(hvc[1], abs=0.05)
        assert chroma == pytest.approx(hvc[2], abs=0.1)


@given(st.floats(0, 99.99), st.floats(0, 10), st.floats(0, 40))
def test_a_text_gives_back_its_numbers_to_half_a_tenth(
    hue: float, value: float, chroma: float
) -> None:
    made = munsell.written(hue, value, chroma)
    read = munsell.parse(made.text)
    assert read[1] == pytest.approx(value, abs=0.0501)
    assert read[2] == pytest.approx(chroma, abs=0.0501)
    if made.hue != "N":
        assert hue_steps(read[0], hue) <= 0.0501


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("5Y 7/1", (25.0, 7.0, 1.0)),
        ("10RP 4/2", (0.0, 4.0, 2.0)),
        ("2.5GY6.5/3.2", (32.5, 6.5, 3.2)),
        ("10Y 8/2", (30.0, 8.0, 2.0)),
        ("n 8/", (0.0, 8.0, 0.0)),
        ("N5", (0.0, 5.0, 0.0)),
        ("N 9.5/0", (0.0, 9.5, 0.0)),
    ],
)
def test_notations_are_read(text: str, expected: tuple[float, float, float]) -> None:
    assert munsell.parse(text) == expected


@pytest.mark.parametrize(
    "text",
    ["", "5Q 7/1", "5Y 7", "5Y 11/1", "12Y 5/1", "5Y -1/2", "5Y 7/1;", "\u0665Y 7/1", "N 11/"],
)
def test_what_is_no_notation_is_refused(text: str) -> None:
    with pytest.raises(ColourError):
        munsell.parse(text)


@pytest.mark.parametrize(
    ("numbers", "text"),
    [
        ((25, 7.04, 1.06), "5Y 7/1.1"),
        ((0, 4, 2), "10RP 4/2"),
        ((30, 8, 2), "10Y 8/2"),
        ((99.99, 5, 2), "10RP 5/2"),
        ((25, 7, 0.04), "N 7/"),
    ],
)
def test_notations_are_written(numbers: tuple[float, float, float], text: str) -> None:
    assert munsell.written(*numbers).text == text


def test_neutrals_of_every_value_have_no_chroma() -> None:
    values = np.linspace(0.0, 10.0, 41)
    greys = munsell.WHITE * munsell.value_to_y(values)[:, None] / 100.0
    hvc = munsell.from_xyz(greys)
    np.testing.assert_allclose(hvc[:, 1], values, atol=1e-6)
    np.testing.assert_allclose(hvc[:, 2], 0.0, atol=1e-6)
