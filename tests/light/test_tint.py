"""What bounces add in colour, which wall lies opposite, and why light is missing."""

from typing import Any

import numpy as np
import pytest

from housemap.guide import page
from housemap.light.as_seen import tints_of
from housemap.light.daylight import BS8206_PERCENT
from housemap.light.inputs import RoomColours, RoomInputs
from housemap.light.orientation import opposite
from housemap.light.room_light import why_unlit
from housemap.light.scene import grey
from housemap.light.sky import OUTDOOR_LUX
from housemap.light.sources import band_weights, lamp
from housemap.light.surface_light import Lit, xy
from housemap.model.house import Lamp, Room, Window
from tests.support.lit_rooms import OAK, SAGE, WHITE, light_of, living_inputs, living_room

LUMENS, KELVIN = 1000.0, 2700.0
CUBE = Room(
    "Cube", size_m=(3.0, 3.0), height_m=3.0, lamps={"middle": Lamp(LUMENS, KELVIN, at_m=(1.5,) * 3)}
)
"""A lamp that shines evenly all round stands in the middle of it."""
CUBE_FACTOR = 0.2000
"""View factor between neighbouring faces of a cube; 0.1998 between opposite ones (Howell, A
Catalog of Radiation Heat Transfer Configuration Factors, C-11 and C-14)."""


def cube(colour: Any = OAK) -> Lit:
    colours = RoomColours(walls=colour, ceiling=colour, floor=colour)
    return light_of([RoomInputs(CUBE, colours)])[0].lights["evening"]


def test_in_a_cube_of_one_paint_every_wall_has_the_light_of_an_integrating_sphere() -> None:
    """Flux / (area (1 - reflectance)) at every band (Sumpner 1892); exact by symmetry."""
    bands = band_weights(lamp(KELVIN, None)) / (1.0 - OAK.reflectance)[:, None]
    x, y, z, lux = bands.sum(0) * LUMENS / 54.0
    light = cube()
    for key, wall in tints_of(CUBE, light).walls.items():
        assert xy(light.total(key)) == pytest.approx((x / (x + y + z), y / (x + y + z)), abs=3e-4)
        assert wall.whole.lux == pytest.approx(lux, rel=2e-3)


def test_what_comes_from_the_floor_and_from_opposite_are_the_shares_of_their_view_factors() -> None:
    """Within 3 %: the lamp lights the middle of each face more than its edges."""
    weights = band_weights(lamp(KELVIN, None))[:, 3]
    sent = (weights * OAK.reflectance / (1.0 - OAK.reflectance)).sum() * LUMENS / 54.0
    for wall in tints_of(CUBE, cube()).walls.values():
        assert wall.floor
        assert wall.opposite
        assert wall.floor.lux == pytest.approx(CUBE_FACTOR * sent, rel=0.03)
        assert wall.opposite.lux == pytest.approx(0.1998 * sent, rel=0.03)


def test_greys_add_no_colour() -> None:
    tints = tints_of(CUBE, cube(grey(0.6)))
    for wall in tints.walls.values():
        for tint in (wall.whole, wall.floor, wall.opposite):
            assert tint
            assert tint.ucs == pytest.approx(tints.source.ucs, abs=1e-3)


def test_an_oak_floor_adds_orange_and_the_tint_can_be_shown() -> None:
    (room,) = light_of([living_inputs()])
    tints = tints_of(living_room(), room.lights["day"])
    for wall in tints.walls.values():
        assert wall.floor
        assert wall.floor.undertone.temperature == "warm"
        assert wall.floor.undertone.chroma > wall.whole.undertone.chroma
        red, green, blue = (int(wall.floor.srgb_hex[i : i + 2], 16) for i in (1, 3, 5))
        assert red > green > blue


def test_the_parts_of_the_light_are_those_of_the_lit_room() -> None:
    (room,) = light_of([living_inputs()])
    for name, lit in room.lights.items():
        tints = tints_of(living_room(), lit)
        assert tints.walls.keys() == {"n", "e", "s", "w"}, name
        for key, wall in tints.walls.items():
            assert wall.whole.lux == pytest.approx(lit.total_lux(key))
            assert wall.across == {"n": "s", "s": "n", "e": "w", "w": "e"}[key]
            assert wall.opposite
            assert wall.floor
            assert wall.floor.lux == pytest.approx(float(lit.from_surface(key, "floor")[3]))
            assert wall.floor.lux + wall.opposite.lux < wall.whole.lux


def test_a_wall_without_any_light_has_no_tint() -> None:
    black = grey(0.0)
    lit = cube(black)
    for wall in tints_of(CUBE, lit).walls.values():
        assert wall.floor is None
        assert wall.opposite is None
    assert np.isfinite(lit.source).all()


L_SHAPE = ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0))


@pytest.mark.parametrize(
    ("wall", "across"), [("0", "2"), ("1", "5"), ("2", "0"), ("3", "5"), ("4", "0"), ("5", "3")]
)
def test_opposite_is_what_one_looks_at_with_the_back_to_the_middle_of_a_wall(
    wall: str, across: str
) -> None:
    room = Room("L", outline_m=L_SHAPE)
    assert opposite(room, wall) == across


def test_a_wall_that_is_not_there_has_no_opposite() -> None:
    assert opposite(Room("Nowhere"), "n") is None


@pytest.mark.parametrize(
    ("more", "day", "evening"),
    [
        ({}, "", ""),
        ({"windows": {}}, "no window", ""),
        ({"lamps": {}}, "", "no lamp"),
        ({"windows": {"off": Window("n", 9.0, 1.0, 1.0, 0.9)}}, "no window in its walls", ""),
        (
            {"windows": {"blind": Window("n", 1.0, 1.0, 1.0, 0.9, 0.0)}},
            "no light by its windows",
            "",
        ),
        ({"lamps": {"broken": Lamp(0.0, 2700.0)}}, "", "no light from its lamps"),
        ({"size_m": None}, "not measured", "not measured"),
        ({"height_m": None}, "no height", "no height"),
        ({"use": "outdoor"}, "outdoors", "outdoors"),
    ],
)
def test_missing_light_is_told_in_a_few_words(more: dict[str, Any], day: str, evening: str) -> None:
    inputs = living_inputs(RoomColours(walls=SAGE, ceiling=WHITE, floor=OAK), **more)
    (known,) = light_of([inputs])
    assert why_unlit(inputs.room, known, "day") == day
    assert why_unlit(inputs.room, known, "evening") == evening


def test_the_guide_tells_the_figures_that_are_used() -> None:
    text = " ".join(page("method").split())
    assert f"{OUTDOOR_LUX:,.0f} lx" in text
    for use, percent in BS8206_PERCENT.items():
        noun = "living rooms" if use == "living" else f"{use}s"
        assert f"{percent:g} % in {noun}" in text
