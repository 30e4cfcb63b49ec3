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
from housemap.light.lit import PLAIN_WALLS
from housemap.light.room import light_of
from housemap.light.scene import LIGHTS
from housemap.light.trial import response_of
from tests.support.lit_rooms import OAK, SAGE, WHITE, living_inputs

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
    """Within 0.01 CAM16-UCS units and 0.1 % of the light on the walls."""
    if surface == "e" and colours is PLAIN:
        return
    tried = response_of(living_inputs(colours), surface).tried(paints(40, seed))
    for i in (0, 17, 39):
        on = repainted(colours, surface, paints(40, seed)[i])
        (room,) = light_of([living_inputs(on)])
        for name in LIGHTS:
            seen = room.seen[name][surface]
            assert tried[name].ucs[i] == pytest.approx(seen.ucs, abs=0.01)
            assert tried[name].jmh[i, 0] == pytest.approx(seen.jmh[0], abs=0.01)
            lux = room.lights[name].total_lux("walls")
            assert tried[name].wall_lux[i] == pytest.approx(lux, rel=1e-3)


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
                expected, rel=1e-4
            )


def test_a_room_without_light_answers_with_nothing() -> None:
    response = response_of(living_inputs(windows={}, lamps={}), "walls")
    assert response.tried(paints(3, 1)) == {}


def test_no_paints_at_all_are_tried_without_fuss() -> None:
    tried = response_of(living_inputs(), "walls").tried(np.zeros((0, 41)))
    assert tried["day"].ucs.shape == (0, 3)
