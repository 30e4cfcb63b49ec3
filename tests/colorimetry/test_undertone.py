"""Undertones: ISCC-NBS names over notation, and what the trade says of neutrals."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry import munsell, undertone
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import ColourFacts, colour_facts
from housemap.model.house import Notation, Srgb
from tests.support.published import published

NEAR = published("near_neutrals")
TEST_POINTS = published("iscc_nbs_points")["test_points"]
MORE_POINTS = (
    "5Y 7/1 yellowish gray", "5Y 6/1 light olive gray", "5Y 4/1 olive gray", "5Y 9/0.6 white",
    "10YR 6/1 light brownish gray", "10YR 4/1 brownish gray", "2.5Y 7/2 yellowish gray",
    "2.5Y 6/2 light olive brown", "10Y 6/1 light olive gray", "5GY 6/1 greenish gray",
    "5GY 6/2 grayish yellow green", "5G 6/2 pale green", "5B 7/1 light bluish gray",
    "5P 6/1 purplish gray", "5R 7/1 pinkish gray", "5R 6/1 reddish gray", "5YR 7/1 pinkish gray",
    "10YR 6/4 light yellowish brown", "10YR 5/4 moderate yellowish brown", "5YR 5/4 light brown",
    "2.5YR 6/4 light reddish brown", "5YR 5/8 brownish orange", "8Y 6/4 light olive",
    "8Y 7/4 grayish greenish yellow", "5Y 6/4 dark grayish yellow", "7.5YR 8/4 pale orange yellow",
    "5YR 4/1 brownish gray", "5Y 1/1 olive black", "5R 1/1 reddish black", "5B 9/1 bluish white",
)  # fmt: skip
"""Kelly & Judd 1976 charts, as two public copies agree on them."""
SHARE_OF_STRONG_FAMILIES, SHARE_OF_HUES = 0.97, 0.96
MODIFIERS = {
    "vivid", "brilliant", "strong", "deep", "very", "light", "moderate", "dark", "pale", "grayish",
    "blackish",
}  # fmt: skip
OTHER_NAMES = {"brownish gray", "bluish white", "purplish black"}
"""Centroids whose screen colour falls in the next block (see the data file)."""


def facts_of(*texts: str) -> tuple[ColourFacts, ...]:
    return colour_facts([Notation(text) for text in texts])


def name_of(text: str) -> str:
    return undertone.names(np.array([munsell.parse(text)]))[0]


@pytest.mark.parametrize("case", TEST_POINTS, ids=lambda c: c["munsell"])
def test_names_of_the_published_points(case: dict[str, str]) -> None:
    assert name_of(case["munsell"]) == case["name"]


@pytest.mark.parametrize("line", MORE_POINTS)
def test_names_of_the_charts(line: str) -> None:
    hue, rest, name = line.split(" ", 2)
    assert name_of(f"{hue} {rest}") == name


@pytest.mark.parametrize("case", NEAR["centroids"], ids=lambda c: c["hex"])
def test_centroids_lie_in_their_own_block(case: dict[str, Any]) -> None:
    """Kelly & Judd 1976 centroids; LRV and CIELAB of the screen colour."""
    (facts,) = colour_facts([Srgb(case["hex"])])
    assert facts.undertone.name == case["name"]
    assert facts.undertone.family == case["undertone"]
    assert facts.notation.value == pytest.approx(case["munsell_value"], abs=0.05)
    assert facts.notation.chroma == pytest.approx(case["munsell_chroma"], abs=0.1)


@pytest.mark.parametrize("case", NEAR["block_points"], ids=lambda c: c["hex"])
def test_points_well_inside_a_block_are_named_by_it(case: dict[str, Any]) -> None:
    (facts,) = colour_facts([Srgb(case["hex"])])
    assert facts.undertone.name == case["name"]
    assert facts.undertone.family == case["undertone"]
    assert facts.near_neutral


def test_stronger_colours_belong_to_the_family_of_their_centroid() -> None:
    """Above chroma 3 our limits are simplified, so not every one of the 194 may agree.

    Nor of the 26 dark ones of less, which have their hue all the same.
    """
    centroids = published("iscc_nbs_centroids")["centroids"]
    facts = colour_facts([Srgb(text) for _, text in centroids])
    pairs = [
        (undertone.family_of(name), one.undertone.family)
        for (name, _), one in zip(centroids, facts, strict=True)
        if not one.near_neutral
    ]
    assert len(pairs) == 194 + 26
    assert sum(a == b for a, b in pairs) > SHARE_OF_STRONG_FAMILIES * len(pairs)


def test_a_centroid_is_called_by_its_own_hue() -> None:
    """As in "yellowish brown", whatever its modifiers; some screen colours lie at an edge."""
    centroids = published("iscc_nbs_centroids")["centroids"]
    facts = colour_facts([Srgb(text) for _, text in centroids])
    pairs = zip(centroids, facts, strict=True)
    alike = [hue_of(name) == hue_of(one.undertone.name) for (name, _), one in pairs]
    assert sum(alike) > SHARE_OF_HUES * len(alike)


@pytest.mark.parametrize("name", ["gray", "grey", "brown", *sorted(undertone._centres())])
def test_a_name_stands_for_a_colour_that_is_called_so(name: str) -> None:
    notation_text = undertone.notation_of(name)
    assert notation_text is not None
    found = name_of(notation_text)
    plain = name.replace("grey", "gray")
    assert found == plain or found.endswith(f" {plain}")


def test_a_name_lies_near_its_published_centroid() -> None:
    """CIEDE2000 from the centroid's screen colour (NBS SP 440); a block is some 20 wide."""
    known = {n: Srgb(text) for n, text in published("iscc_nbs_centroids")["centroids"]}
    named = {n: undertone.notation_of(n) for n in known}
    pairs = [(known[n], Notation(text)) for n, text in named.items() if text]
    assert len(pairs) > 90
    lab = [colour.lab100 for pair in pairs for colour in colour_facts(list(pair))]
    apart = ciede2000(np.array(lab[0::2]), np.array(lab[1::2]))
    assert np.median(apart) < 5.0
    assert apart.max() < 20.0


def hue_of(name: str) -> str:
    return " ".join(word for word in name.split() if word not in MODIFIERS)


@given(st.floats(0, 99.999), st.floats(0, 10), st.floats(0, 40))
def test_every_colour_has_a_name_a_family_and_a_temperature(
    hue: float, value: float, chroma: float
) -> None:
    hvc = np.array([[hue, value, chroma]])
    (made,) = undertone.undertones(hvc, np.array([[50.0, 1.0, 1.0]]))
    assert undertone._within(hvc, undertone._blocks().limits).any(), "outside every block"
    assert made.family in undertone.FAMILIES
    assert (made.family == "none") == (made.name in undertone.NEUTRALS)


@pytest.mark.parametrize("hue", np.arange(0.0, 100.0, 2.5).tolist())
def test_chroma_half_is_the_end_of_the_neutrals(hue: float) -> None:
    """ISCC-NBS: chroma at most 0.5; from 7YR to 9Y at value 4.5 and more up to 0.7."""
    near, beyond = undertone.names(np.array([[hue, 6.0, 0.5], [hue, 6.0, 0.71]]))
    assert near == "medium gray"
    assert beyond not in undertone.NEUTRALS


def test_one_yellow_hue_is_yellow_when_light_and_olive_when_deep() -> None:
    """Common practice, no source: a neutral of grey and yellow reads as green the deeper it is."""
    light, mid, deep = facts_of("6Y 8/1.5", "6Y 6/1.5", "6Y 4/1.2")
    assert light.undertone.family == "yellow"
    assert {mid.undertone.family, deep.undertone.family} <= {"olive", "green"}


def test_a_grey_green_that_holds_blue_is_cool_and_one_without_is_not() -> None:
    """Common practice, no source."""
    with_blue, without = facts_of("5BG 6/1", "5GY 6/1")
    assert with_blue.undertone.temperature == "cool"
    assert without.undertone.family == "green"
    assert without.undertone.temperature != "cool"


def test_warm_and_cool_are_opposite_sides_of_the_hue_circle() -> None:
    """Common practice, no source."""
    warm = facts_of("5R 7/2", "5YR 7/2", "5Y 7/2")
    cool = facts_of("5B 7/2", "5PB 7/2", "5BG 7/2")
    assert {one.undertone.temperature for one in warm} == {"warm"}
    assert {one.undertone.temperature for one in cool} == {"cool"}
    assert facts_of("N 7/")[0].undertone.temperature == "neutral"


def test_strength_is_the_colourfulness_of_the_uniform_space() -> None:
    (facts,) = facts_of("5Y 7/2")
    _, a, b = facts.ucs
    assert facts.undertone.chroma == pytest.approx(np.hypot(a, b))
    assert facts.undertone.hue_deg == pytest.approx(facts.jmh[2])


@pytest.mark.parametrize(
    ("seen", "words"),
    [
        ((80, 1.0, 1.0), ""),
        ((80, 2.0, 4.0), "a little warmer"),
        ((80, 4.0, 9.0), "warmer"),
        ((80, -6.0, 1.0), "greener"),
        ((80, -2.0, -14.0), "much cooler"),
        ((80, 7.0, -1.0), "pinker"),
    ],
)
def test_what_a_light_makes_of_a_grey_in_words(
    seen: tuple[float, float, float], words: str
) -> None:
    """Hue angles in a'b': red 0, yellow 90, green 180, blue 270 (common practice, no source)."""
    assert undertone.shift_words((80.0, 0.0, 0.0), seen) == words
