"""Chips look under a room's light as the paints of the house do there."""

import numpy as np
import pytest

from housemap.checks import report_of
from housemap.choose.chips import lab100_under, shown_under
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.light.scene import LightName
from housemap.light.surface_light import Lit
from housemap.model.house import Notation
from tests.support.chips import chips_of, reference_de00, skimage_color
from tests.support.houses import small_house

STUDY = report_of(small_house()).study
LIGHTS = [
    (room, light, lit)
    for room, part in STUDY.lighting.rooms.items()
    for light, lit in part.light.lights.items()
]


@pytest.mark.parametrize(("room", "light", "lit"), LIGHTS, ids=lambda value: str(value)[:9])
def test_a_chip_shows_as_the_same_paint_shows_on_the_walls(
    room: str, light: LightName, lit: Lit
) -> None:
    coat = STUDY.rooms[room].coats.get("walls")
    view = STUDY.lighting.seen.get((room, light))
    assert coat
    assert view
    spectrum = np.array([coat.swatch.colour.reflectance])
    assert shown_under(lit, "walls", spectrum) == [view.colours[coat].srgb_hex]


@pytest.mark.parametrize("surface", ["walls", "ceiling", "trim"])
def test_differences_are_those_of_the_colours_as_shown(surface: str) -> None:
    """By scikit-image, from the 8-bit colours of the screen."""
    _, _, lit = LIGHTS[0]
    chips = chips_of(**{f"p{i}": Notation(f"{2 * i}Y {5 + i / 2}/1") for i in range(1, 6)})
    srgb = [[int(h[i : i + 2], 16) / 255 for i in (1, 3, 5)]
            for h in shown_under(lit, surface, chips.reflectance)]  # fmt: skip
    lab100 = skimage_color.rgb2lab(np.array(srgb))
    expected = reference_de00(lab100[:, None], lab100)
    seen = lab100_under(lit, surface, chips.reflectance)
    np.testing.assert_allclose(ciede2000(seen[:, None], seen), expected, atol=0.6)
