"""Facts of colours, whichever of the five ways they are given."""

import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry import facts as facts_module
from housemap.colorimetry import spaces, spectra
from housemap.colorimetry.facts import ColourFacts, colour_facts
from housemap.deck.notation_deck import notation_deck
from housemap.errors import ColourError
from housemap.model.house import ColourSource, Lab, Notation, Reflectance, Srgb, Xyz
from tests.support.science import cie_test_colours

HEXES = st.tuples(*[st.integers(0, 255)] * 3).map(lambda rgb: "#{:02x}{:02x}{:02x}".format(*rgb))
STRONG_YELLOW = "TCS10"


def facts_of(source: ColourSource) -> ColourFacts:
    return colour_facts([source])[0]


def test_one_measured_surface_is_the_same_however_it_is_given() -> None:
    """CIE 13.3 test colour 2 (5Y 6/4); recovered spectra differ, the colour does not."""
    values = cie_test_colours()["TCS02"]
    measured = facts_of(Reflectance(380.0, 10.0, tuple(values.tolist())))
    assert measured.lab100 == pytest.approx((59.892, 2.677, 28.478), abs=0.02)
    for source in (Lab(measured.lab100), Xyz(measured.xyz100)):
        again = facts_of(source)
        assert again.lab100 == pytest.approx(measured.lab100, abs=1e-3)
        assert again.notation.hue100 == pytest.approx(measured.notation.hue100, abs=0.5)
        assert again.notation.value == pytest.approx(measured.notation.value, abs=0.05)
        assert again.notation.chroma == pytest.approx(measured.notation.chroma, abs=0.1)


@given(HEXES)
def test_a_screen_colour_is_shown_as_it_was_given(text: str) -> None:
    facts = facts_of(Srgb(text))
    assert facts.srgb_hex == text
    assert facts.in_srgb


@given(HEXES)
def test_facts_follow_from_the_reflectance(text: str) -> None:
    """D65/10 values, and the given screen colour again for D65/2, to the same 8 bits."""
    facts = facts_of(Srgb(text))
    reflectance = np.array(facts.reflectance)
    assert len(facts.reflectance) == 41
    assert ((reflectance >= 0.0) & (reflectance <= 1.0)).all()
    assert facts.xyz100 == pytest.approx(tuple(spectra.to_xyz(reflectance)), abs=1e-6)
    assert facts.lrv == facts.xyz100[1]
    screen = spectra.to_xyz(reflectance, "D65/2") * spaces.SRGB_WHITE / spectra.white("D65/2")
    assert spaces.srgb_to_hex(spaces.xyz_to_srgb(screen[None, :])) == [text]


@pytest.mark.parametrize("text", ["5Y 7/1", "10YR 8/2", "5G 6/2", "2.5PB 4/6", "N 8/", "5R 4/12"])
def test_a_notation_comes_back_as_itself(text: str) -> None:
    assert facts_of(Notation(text)).notation.text == text


@pytest.mark.parametrize("observed", ["D50/2", "D50/10", "D65/2", "A/10", "C/2", "FL2/10"])
def test_a_colour_measured_under_another_light_is_no_plain_white_balance(observed: str) -> None:
    """The perfect white and greys keep their lightness under every light."""
    white, grey = colour_facts([Lab((100.0, 0.0, 0.0), observed), Lab((60.0, 0.0, 0.0), observed)])
    assert white.lrv == pytest.approx(100.0, abs=1e-4)
    assert grey.lab100 == pytest.approx((60.0, 0.0, 0.0), abs=1e-4)


def test_light_reflectance_of_a_screen_colour_is_an_estimate() -> None:
    """A strong yellow is 3 points darker for the 10 degree observer (CIE 13.3, sample 10)."""
    values = cie_test_colours()[STRONG_YELLOW]
    measured = facts_of(Reflectance(380.0, 10.0, tuple(values.tolist())))
    two_degrees = spectra.to_xyz(values, "D65/2")[1]
    assert measured.lrv == pytest.approx(55.93, abs=0.05)
    assert two_degrees - measured.lrv == pytest.approx(3.06, abs=0.05)
    on_screen = facts_of(Srgb(measured.srgb_hex))
    assert on_screen.lrv < two_degrees - 1.0


def test_a_colour_off_the_screen_says_so_and_keeps_its_lightness() -> None:
    facts = facts_of(Notation("5BG 6/12"))
    assert not facts.in_srgb
    shown = facts_of(Srgb(facts.srgb_hex))
    assert shown.ucs[0] == pytest.approx(facts.ucs[0], abs=1.5)
    assert shown.undertone.chroma < facts.undertone.chroma


@pytest.mark.parametrize(
    "source",
    [
        Lab((95.0, 80.0, 90.0)),
        Xyz((50.0, 50.0, 0.0)),
        Notation("5PB 9/30"),
        Notation("5Y seven"),
        Lab((50.0, 0.0, 0.0), "D65/3"),
        Srgb("oat"),
        Reflectance(500.0, 10.0, (0.5,) * 21),
    ],
)
def test_a_colour_without_meaning_is_refused_in_one_line(source: ColourSource) -> None:
    with pytest.raises(ColourError) as caught:
        colour_facts([Srgb("#808080"), source])
    assert "\n" not in str(caught.value)


def test_facts_of_many_are_those_of_each() -> None:
    sources: list[ColourSource] = [
        Srgb("#d9d0bf"),
        Lab((58.0, 9.0, 24.0)),
        Notation("5Y 7/1"),
        Xyz((40.0, 42.0, 30.0), "D50/2"),
        Reflectance(400.0, 20.0, (0.4,) * 16),
        Srgb("#d9d0bf"),
    ]
    together = colour_facts(sources)
    facts_module._remembered.clear()
    for source, one in zip(sources, together, strict=True):
        alone = facts_of(source)
        assert alone.lab100 == pytest.approx(one.lab100, abs=1e-6)
        assert alone.notation.text == one.notation.text
        assert alone.undertone.name == one.undertone.name
    assert colour_facts([]) == ()


def test_a_deck_has_the_same_colours_in_whatever_batches_they_are_computed() -> None:
    """To the last digit, so that the name of a chip at the border of two never changes."""
    sources = [paint.colour for paint in notation_deck().values()][::2]
    facts_module._remembered.clear()
    together = colour_facts(sources)
    facts_module._remembered.clear()
    apart = [
        facts
        for at in range(0, len(sources), 500)
        for facts in colour_facts(sources[at : at + 500])
    ]
    for one, other in zip(together, apart, strict=True):
        assert one._replace(reflectance=other.reflectance) == other


def test_a_colour_seen_before_is_not_computed_again() -> None:
    assert facts_of(Srgb("#123456")) is facts_of(Srgb("#123456"))


def test_memory_of_colours_has_a_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(facts_module, "REMEMBERED", 3)
    facts_module._remembered.clear()
    made = colour_facts([Srgb(f"#00000{i}") for i in range(5)])
    assert len(made) == 5
    colour_facts([Srgb("#100000")])
    assert len(facts_module._remembered) == 1


def test_the_trades_extremes_of_light_reflectance() -> None:
    """Common practice, no source: blacks go down to about 3, whites up to about 93."""
    black, white = colour_facts([Notation("N 2/"), Notation("N 9.7/")])
    assert black.lrv == pytest.approx(3.0, abs=0.1)
    assert white.lrv == pytest.approx(93.0, abs=1.0)


def test_ordinary_colours_need_neither_colour_science_nor_scipy() -> None:
    code = (
        "import sys\n"
        "from housemap.colorimetry.facts import colour_facts\n"
        "from housemap.model.house import Lab, Notation, Srgb\n"
        "colour_facts([Srgb('#d9d0bf'), Lab((50, 1, 2), 'D50/2'), Notation('5Y 7/1')])\n"
        "assert not {'colour', 'scipy'} & set(sys.modules)\n"
    )
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert result.returncode == 0, result.stderr


def test_a_chroma_of_exactly_3_is_nearly_neutral() -> None:
    """Notations come back from their reflectance with a small error."""
    facts = colour_facts([Notation("2.5R 7/3"), Notation("5Y 7/3"), Notation("5Y 7/3.1")])
    assert [one.near_neutral for one in facts] == [True, True, False]
