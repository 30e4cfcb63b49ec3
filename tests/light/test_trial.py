"""Many paints tried at once look as each would if it were on the wall."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.light.inputs import RoomColours, SurfaceColour
from housemap.light.scene import LIGHTS, grey
from housemap.light.surface_light import PLAIN_WALLS
from housemap.model.house import Window
from tests.support.lit_rooms import OAK, SAGE, WHITE, light_of, living_inputs, response_of, seen_in

COLOURS = RoomColours(SAGE, WHITE, OAK, accents={"e": OAK})
PLAIN = RoomColours(SAGE, WHITE, OAK)


def paints(count: int, seed: int) -> Floats:
    """Reflectances that rise or fall anywhere, gently or steeply."""
    random = np.random.default_rng(seed)
    low, high = random.uniform(0.03, 0.9, (2, count, 1))
    at, width = random.uniform(420.0, 680.0, (count, 1)), random.uniform(10.0, 60.0, (count, 1))
    return np.asarray(low + (high - low) / (1.0 + np.exp((at - spectra.GRID_NM) / width)))


def repainted(colours: RoomColours, surface: str, reflectance: Floats) -> RoomColours:
    paint = SurfaceColour(reflectance, 50.0)
    changed: dict[str, Any] = {"accents": {"e": paint}} if surface == "e" else {surface: paint}
    return replace(colours, **changed)


@settings(max_examples=20, deadline=None)
@given(
    seed=st.integers(0, 999),
    surface=st.sampled_from(["walls", "ceiling", "floor", "e", "trim"]),
    colours=st.sampled_from([COLOURS, PLAIN]),
)
def test_a_paint_tried_looks_as_it_does_when_it_is_on(
    seed: int, surface: str, colours: RoomColours
) -> None:
    """Within 0.05 CAM16-UCS units and 0.2 % of the light on the walls."""
    if surface == "e" and colours is PLAIN:
        return
    tried = response_of(living_inputs(colours), surface).tried(paints(40, seed))
    for i in (0, 17, 39):
        on = repainted(colours, surface, paints(40, seed)[i])
        (room,) = light_of([living_inputs(on)])
        for name in LIGHTS:
            seen = seen_in(room, name)[surface]
            assert tried[name].ucs[i] == pytest.approx(seen.ucs, abs=0.05)
            assert tried[name].jmh[i, 0] == pytest.approx(seen.jmh[0], abs=0.05)
            lux = room.lights[name].total_lux("walls")
            assert tried[name].wall_lux[i] == pytest.approx(lux, rel=2e-3)


@pytest.mark.parametrize("colours", [COLOURS, PLAIN])
def test_beside_a_wall_in_another_paint_the_walls_stand_in_the_light_of_the_others(
    colours: RoomColours,
) -> None:
    """A new accent wall is none of the walls whose light is averaged."""
    curves = response_of(living_inputs(colours), "n").curves
    for reflectance in paints(3, 5):
        on = replace(colours, accents={**colours.accents, "n": SurfaceColour(reflectance, 50.0)})
        (room,) = light_of([living_inputs(on)])
        for name in LIGHTS:
            tried = curves[name].under(reflectance[np.newaxis])
            expected = room.lights[name].reflected_xyz100(PLAIN_WALLS, SAGE.reflectance)
            assert tried.sent_xyz100(PLAIN_WALLS, SAGE.reflectance)[0] == pytest.approx(
                expected, rel=1e-3
            )


def test_a_wall_lit_by_what_others_send_is_told_as_well() -> None:
    """The wall of the window by day, where paints are tried across from it and the rest is dark."""
    dark = grey(0.05)
    colours = RoomColours(SAGE, dark, dark, accents={"s": dark, "n": dark, "w": SAGE})
    window = Window("e", 0.3, 0.6, 0.7, 1.5)
    small = living_inputs(colours, size_m=(1.8, 1.2), windows={"e": window}, lamps={})
    under = response_of(small, "w").curves["day"].under(paints(30, 4))
    found = under.sent_xyz100(PLAIN_WALLS, SAGE.reflectance)
    for reflectance, sent in zip(paints(30, 4), found, strict=True):
        accents = {**colours.accents, "w": SurfaceColour(reflectance, 50.0)}
        (room,) = light_of([small._replace(colours=replace(colours, accents=accents))])
        expected = room.lights["day"].reflected_xyz100(PLAIN_WALLS, SAGE.reflectance)
        assert sent == pytest.approx(expected, rel=2e-3)


def test_a_room_without_light_answers_with_nothing() -> None:
    response = response_of(living_inputs(windows={}, lamps={}), "walls")
    assert response.tried(paints(3, 1)) == {}


def test_no_paints_at_all_are_tried_without_fuss() -> None:
    tried = response_of(living_inputs(), "walls").tried(np.zeros((0, 41)))
    assert tried["day"].ucs.shape == (0, 3)
