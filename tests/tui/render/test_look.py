"""Chrome does not tint the paints, and labels stand out from any of them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.theme import Theme

from housemap.tui.app import THEMES
from housemap.tui.render.look import (
    ASCII,
    DARK,
    LIGHT,
    UNICODE,
    Glyphs,
    Greys,
    contrast,
    luminance,
    text_on,
)

hexes = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


@pytest.mark.parametrize("greys", [DARK, LIGHT], ids=["dark", "light"])
def test_every_grey_of_the_chrome_has_equal_red_green_and_blue(greys: Greys) -> None:
    for grey in greys:
        assert grey is not None
        assert grey[1:3] == grey[3:5] == grey[5:7]


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES.keys())
def test_textuals_own_colours_are_grey_as_well(theme: Theme) -> None:
    generated = theme.to_color_system().generate()
    for name, colour in generated.items():
        if colour.startswith("#") and not name.startswith("ansi"):
            assert colour[1:3] == colour[3:5] == colour[5:7], name


@pytest.mark.parametrize(
    ("colour", "expected"),
    [("#000000", 0.0), ("#ffffff", 1.0), ("#808080", 0.215861), ("#ff0000", 0.2126)],
)
def test_relative_luminance_is_that_of_wcag(colour: str, expected: float) -> None:
    # WCAG 2.2, definition of relative luminance; the values follow from its formula by hand.
    assert luminance(colour) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(
    ("first", "second", "ratio"),
    [("#000000", "#ffffff", 21.0), ("#777777", "#ffffff", 4.48), ("#767676", "#ffffff", 4.54)],
)
def test_contrast_ratios_are_those_of_wcag(first: str, second: str, ratio: float) -> None:
    # 21:1 is WCAG's maximum; #767676 is the lightest grey with 4.5:1 on white, #777777 just fails
    # (WebAIM, "Contrast and Color Accessibility"), the values from memory.
    assert contrast(first, second) == pytest.approx(ratio, abs=0.01)


@given(hexes)
def test_a_label_has_at_least_the_contrast_that_wcag_asks_for(ground: str) -> None:
    assert contrast(text_on(ground), ground) >= 4.5


@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])
def test_lines_are_given_for_all_sixteen_joins(glyphs: Glyphs) -> None:
    assert len(glyphs.lines) == len(glyphs.frame) == 16


def test_the_ascii_set_is_ascii() -> None:
    assert all(str(part).isascii() for part in ASCII)


def test_kinds_of_openings_differ_by_sign() -> None:
    for glyphs in (UNICODE, ASCII):
        for way in (0, 1):
            signs = [glyphs.shut[way], glyphs.open_plan[way], glyphs.glazed[way], glyphs.stairs]
            assert len({*signs, glyphs.leaf_line}) == 5
            assert glyphs.ascii or len({*signs, glyphs.leaf[way]}) == 5
