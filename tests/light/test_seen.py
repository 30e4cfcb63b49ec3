"""Colours as an eye in the room sees them."""

import numpy as np
import pytest

from housemap.colorimetry import appearance, spectra
from housemap.light import sources
from housemap.light.as_seen import eye_in, seen
from housemap.light.inputs import RoomColours
from housemap.light.scene import LIGHTS, grey
from housemap.light.surface_light import WALLS
from housemap.model.house import Window
from tests.support.lit_rooms import RED, SAGE, WHITE, lit_room, living_inputs, seen_in, smooth


def test_greys_under_daylight_look_grey_and_as_light_as_they_are() -> None:
    """In a grey room lit by D65 the wall is seen as under the reference light, but for L_A."""
    inputs = living_inputs(
        RoomColours(grey(0.5), grey(0.5), grey(0.5)),
        windows={"a": Window("n", 1.0, 1.5, 1.2, 0.9, kelvin=6504.0)},
    )
    wall = seen_in(lit_room(inputs), "day")["walls"]
    reference = appearance.jmh(0.5 * spectra.white(), appearance.reference())
    assert wall.jmh[0] == pytest.approx(reference[0], abs=0.2)
    red, green, blue = _channels(wall.srgb)
    assert max(red, green, blue) - min(red, green, blue) <= 3


def _channels(srgb: str) -> tuple[int, int, int]:
    red, green, blue = bytes.fromhex(srgb[1:])
    return red, green, blue


def test_a_room_makes_its_wall_colour_stronger_than_on_the_chip() -> None:
    """Harleman 2007, Billger 1999, Xiao et al. 2003: more chromatic in the room."""
    for colour in (SAGE, RED, smooth(0.7, 0.3, 520.0, 40.0)):
        room = lit_room(living_inputs(RoomColours(colour, WHITE, grey(0.3))))
        spectra_of = {"day": sources.daylight(7500.0), "evening": sources.lamp(2700.0, None)}
        for name, light in room.lights.items():
            weights = sources.band_weights(spectra_of[name])[:, :3]
            chip = colour.reflectance @ weights * (100.0 / weights[:, 1].sum())
            wall = light.reflected_xyz100(WALLS, colour.reflectance)
            conditions = eye_in(light).conditions
            assert appearance.jmh(wall, conditions)[1] > appearance.jmh(chip, conditions)[1]


def test_what_a_white_ceiling_shows_is_the_walls_tint() -> None:
    room = lit_room(living_inputs(RoomColours(RED, WHITE, grey(0.3))))
    for name in LIGHTS:
        red, _, blue = _channels(seen_in(room, name)["ceiling"].srgb)
        assert red > blue


def test_lamplight_is_not_wholly_adapted_away() -> None:
    """CIECAM16's D is below 1: grey looks yellowish in the evening, on the screen too."""
    room = lit_room(living_inputs(RoomColours(grey(0.5), grey(0.5), grey(0.5))))
    red, green, blue = _channels(seen_in(room, "evening")["walls"].srgb)
    assert red > green > blue
    conditions = eye_in(room.lights["evening"]).conditions
    assert 0.8 < conditions.adaptation < 0.9


def test_dimmer_light_adapts_the_eye_less() -> None:
    bright, dim = lit_room(), lit_room(outdoor_lux=500.0)
    day = [eye_in(room.lights["day"]).conditions.adaptation for room in (bright, dim)]
    assert day[0] > day[1]


def test_through_an_opening_hue_is_judged_by_ones_own_light() -> None:
    """From a lamplit room a daylit wall looks bluer than to somebody standing in it."""
    room = lit_room(living_inputs(RoomColours(grey(0.5), grey(0.5), grey(0.5))))
    day, evening = (room.lights[name] for name in LIGHTS)
    wall = day.reflected_xyz100(WALLS, np.full((1, 41), 0.5))
    (within,), (through,) = (seen(eye_in(light), wall) for light in (day, evening))
    assert through.ucs[2] < within.ucs[2] - 5.0
    assert through.jmh[0] == pytest.approx(within.jmh[0], abs=4.0)
