"""What the screen cannot show keeps its hue and lightness and loses chroma."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry import appearance, difference, gamut, spaces
from housemap.colorimetry.arrays import Floats

FAINT = 3.0
"""M' below which a hue says nothing."""
COLOURS = st.tuples(st.floats(5, 95), st.floats(0, 110), st.floats(0, 359.9)).map(
    lambda jmh: np.array([jmh])
)
"""J, M, h on and off the screen."""


def seen(xyz: Floats) -> Floats:
    return appearance.ucs(appearance.jmh(xyz, gamut.mapping_conditions()))


@given(COLOURS)
def test_hue_and_lightness_stay_and_chroma_only_falls(jmh: Floats) -> None:
    xyz = appearance.jmh_to_xyz(jmh, gamut.mapping_conditions())
    srgb = gamut.to_srgb(xyz)
    assert ((srgb >= 0.0) & (srgb <= 1.0)).all()
    if gamut.in_srgb(xyz).all():
        np.testing.assert_allclose(srgb, spaces.xyz_to_srgb(xyz), atol=gamut.TOLERANCE)
        return
    before, after = appearance.ucs(jmh), seen(spaces.srgb_to_xyz(srgb))
    strength_before, strength_after = (np.hypot(u[:, 1], u[:, 2]) for u in (before, after))
    assert abs(before[0, 0] - after[0, 0]) < 1e-3
    assert strength_after <= strength_before
    if strength_after > FAINT:
        assert difference.hue_apart(before, after) < 0.01


@given(st.lists(st.tuples(*[st.floats(0, 1)] * 3), min_size=1, max_size=9))
def test_what_the_screen_shows_is_left_alone(colours: list[tuple[float, float, float]]) -> None:
    srgb = np.array(colours)
    xyz = spaces.srgb_to_xyz(srgb)
    assert gamut.in_srgb(xyz).all()
    np.testing.assert_allclose(gamut.to_srgb(xyz), srgb, atol=1e-6)


def test_the_reduced_colour_lies_on_the_edge_of_the_gamut() -> None:
    jmh = np.array([[50.0, 95.0, h] for h in range(0, 360, 15)])
    srgb = gamut.to_srgb(appearance.jmh_to_xyz(jmh, gamut.mapping_conditions()))
    nearest_edge = np.minimum(srgb, 1.0 - srgb).min(-1)
    np.testing.assert_allclose(nearest_edge, 0.0, atol=1e-4)


def test_lighter_than_white_is_white() -> None:
    white = gamut.to_srgb(spaces.SRGB_WHITE[None, :] * 1.3)
    np.testing.assert_allclose(white, 1.0, atol=1e-4)
