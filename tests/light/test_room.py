"""The light of whole rooms, what is seen in it, and the facts that are told of it."""

import json
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from housemap.colorimetry import spectra
from housemap.light import enclosures
from housemap.light.inputs import RoomColours, RoomOpening, inputs_of
from housemap.light.room_light import light_facts
from housemap.light.scene import LIGHTS, grey, scene_of
from housemap.light.sky import Outside
from housemap.light.surface_light import WALLS, PlaneLight, xy
from housemap.model.house import House, Lamp, Window
from housemap.plan.house_graph import graph_of
from tests.support.lit_rooms import (
    OAK,
    RED,
    WHITE,
    exact_lux,
    light_of,
    lit_room,
    living_inputs,
)
from tests.support.strategies import houses

SURFACES = ("floor", "ceiling", WALLS)


def test_a_room_with_window_and_lamp_has_both_lights() -> None:
    room = lit_room()
    assert tuple(room.lights) == LIGHTS
    for light in room.lights.values():
        for surface in SURFACES:
            assert light.total_lux(surface) > light.direct_lux(surface)
        assert light.gain("floor") == pytest.approx(
            light.total_lux("floor") / light.direct_lux("floor")
        )


def test_direct_light_is_what_comes_in_spread_over_the_surfaces() -> None:
    """Lumens of the window by hand: sky share x transmittance x area; and those of the lamp."""
    room = lit_room()
    areas = {"floor": 14.0, "ceiling": 14.0, WALLS: 37.5 - 1.8}
    lumens = {"day": 10_000.0 * 0.437034 * 0.68 * 1.8, "evening": 1400.0}
    for name, light in room.lights.items():
        caught = sum(light.direct_lux(surface) * areas[surface] for surface in SURFACES)
        on_glass = 1.8 * light.direct_lux("window garden")
        assert caught + on_glass == pytest.approx(lumens[name], rel=1e-4)
        assert light.source[3] == pytest.approx(lumens[name], rel=1e-4)


def test_outdoor_light_scales_the_day_and_nothing_else() -> None:
    plain, bright = lit_room(), lit_room(outdoor_lux=25_000.0)
    for surface in SURFACES:
        assert bright.lights["day"].total_lux(surface) == pytest.approx(
            2.5 * plain.lights["day"].total_lux(surface)
        )
        assert bright.lights["evening"].total_lux(surface) == pytest.approx(
            plain.lights["evening"].total_lux(surface)
        )
    assert bright.plane_percent == pytest.approx(plain.plane_percent)


def test_light_by_surfaces_adds_up() -> None:
    """Direct light and what each surface sends are all there is."""
    for light in lit_room().lights.values():
        others = light.surfaces[:-2]
        for on in (*others, WALLS):
            parts = np.sum([light.from_surface(on, by) for by in others], axis=0)
            direct = light.direct_lux(on)
            assert direct + parts[3] == pytest.approx(light.total_lux(on), rel=1e-9)
        assert light.from_surface("floor", "floor")[3] == pytest.approx(0.0, abs=1e-9)


def test_the_floor_tints_the_ceiling_and_an_accent_the_wall_across() -> None:
    plain = lit_room(living_inputs(RoomColours(walls=grey(0.6), ceiling=WHITE, floor=grey(0.25))))
    oak = lit_room(living_inputs(RoomColours(walls=grey(0.6), ceiling=WHITE, floor=OAK)))
    red = living_inputs(RoomColours(grey(0.6), WHITE, OAK, accents={"e": RED}))
    for name in LIGHTS:
        assert oak.lights[name].total("ceiling")[2] / oak.lights[name].total("ceiling")[1] < (
            plain.lights[name].total("ceiling")[2] / plain.lights[name].total("ceiling")[1]
        )
        accented = lit_room(red).lights[name]
        across = accented.from_surface("w", "e")
        assert xy(across)[0] > xy(accented.source)[0] + 0.02


def test_the_source_is_the_light_as_it_comes_in() -> None:
    room = lit_room()
    north = spectra.weights_of(spectra.daylight(7500.0)).sum(0)
    assert xy(room.lights["day"].source) == pytest.approx(xy(north))
    windows = {"a": Window("n", 1.0, 1.5, 1.2, 0.9), "b": Window("s", 1.0, 1.5, 1.2, 0.9)}
    mixed = lit_room(living_inputs(windows=windows)).lights["day"].source
    assert xy(mixed)[0] > xy(north)[0]


@settings(max_examples=12, deadline=None)
@given(low=st.floats(0.1, 0.6), more=st.floats(0.02, 0.3))
def test_lighter_walls_never_take_light_from_any_surface(low: float, more: float) -> None:
    dark, light = (
        lit_room(living_inputs(RoomColours(grey(rho), WHITE, OAK))) for rho in (low, low + more)
    )
    for name in LIGHTS:
        for surface in dark.lights[name].surfaces:
            assert light.lights[name].total_lux(surface) >= (
                dark.lights[name].total_lux(surface) * (1.0 - 1e-3)
            )
    assert dark.plane_percent is not None
    assert light.plane_percent is not None
    assert light.plane_percent > dark.plane_percent


def test_rooms_alike_in_all_but_names_have_each_their_own_light() -> None:
    """A window and an opening of another name; and a twin in another paint is not mixed up."""
    one, other = (
        living_inputs(windows={name: Window("n", 1.0, 1.5, 1.2, 0.9)})._replace(
            openings=(RoomOpening(f"to {name}", "e", 0.2, 0.9, 2.0),),
        )
        for name in ("street", "yard")
    )
    twin = other._replace(colours=replace(other.colours, walls=RED))
    for together, alone in zip(light_of([one, other, twin]), (one, other, twin), strict=True):
        light, expected = together.lights["day"], lit_room(alone).lights["day"]
        assert light.surfaces == expected.surfaces
        assert np.array_equal(light.bands, expected.bands)
    assert light_of([one, other])[1].lights["day"].surfaces[6] == "window yard"


@settings(max_examples=10, deadline=None)
@given(low=st.floats(0.1, 0.8), floor=st.floats(0.05, 0.6), angle=st.floats(40.0, 90.0))
def test_the_plane_has_the_daylight_that_patches_alone_give_it(
    low: float, floor: float, angle: float
) -> None:
    """Against a dense solution by patches: within 0.1 %."""
    windows = {"a": Window("n", 1.0, 1.5, 1.2, 0.9, sky_angle_deg=angle)}
    colours = RoomColours(grey(low), WHITE, grey(floor))
    scene = scene_of(living_inputs(colours, windows=windows))
    plane = enclosures.working_plane(scene.shape)
    assert plane is not None
    (pane,) = scene.panes
    falls = enclosures.skylight(scene.shape, 0, Outside(angle))
    glass = pane.window.transmittance
    total = exact_lux(scene.mesh, scene.grey[:, None], glass * falls.patches[:, None])[:, 0]
    reflected = plane.exchange_m2 @ (scene.grey[scene.mesh.surface] * total) / plane.area_m2
    expected = 100.0 * PlaneLight(glass * falls.plane + reflected, plane.area_m2).mean
    got = lit_room(living_inputs(colours, windows=windows)).plane_percent
    assert got == pytest.approx(expected, rel=1e-3)


def test_an_open_wall_lets_light_out() -> None:
    shut = living_inputs()
    opened = shut._replace(openings=(RoomOpening("way", "e", 0.2, 3.0, 2.4),))
    for name in LIGHTS:
        assert lit_room(opened).lights[name].total_lux("floor") < (
            lit_room(shut).lights[name].total_lux("floor")
        )


def test_a_mirrored_room_is_lit_as_its_mirror() -> None:
    """East for west: the same light on floor, ceiling and walls."""
    window, lamp = Window("e", 0.4, 1.2, 1.2, 0.9), Lamp(900.0, 2700.0, at_m=(1.0, 1.2, 1.9))
    one = living_inputs(windows={"a": window}, lamps={"a": lamp})
    other = living_inputs(
        windows={"a": replace(window, wall="w")}, lamps={"a": replace(lamp, at_m=(3.0, 1.2, 1.9))}
    )
    for name in LIGHTS:
        first, second = lit_room(one).lights[name], lit_room(other).lights[name]
        for surface in SURFACES:
            assert first.total_lux(surface) == pytest.approx(second.total_lux(surface), rel=2e-4)


def test_several_rooms_at_once_are_as_each_alone() -> None:
    rooms = [living_inputs(), living_inputs(windows={}), living_inputs(size_m=None)]
    for together, alone in zip(
        light_of(rooms), (light_of([room])[0] for room in rooms), strict=True
    ):
        assert light_facts(together) == light_facts(alone)
        assert together.notes == alone.notes
    assert light_of([]) == ()


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(house=houses())
def test_any_legal_house_has_light_in_figures_or_in_words(house: House) -> None:
    """No figure is without meaning, and a room without light says why."""
    paints = {key: grey(0.5) for key in house.paints}
    finishes = {key: grey(0.3) for key in house.finishes}
    graph = graph_of(house)
    inputs = [
        inputs_of(house, room, paints, finishes, graph.openings_of(room)) for room in house.rooms
    ]
    for room in light_of(inputs):
        assert json.dumps(light_facts(room), allow_nan=False)
        assert room.notes or room.lights
        for light in room.lights.values():
            assert all(light.total_lux(s) >= light.direct_lux(s) * 0.999 for s in SURFACES)


# Facts


def test_facts_have_the_shape_of_the_file_format() -> None:
    facts = light_facts(lit_room())
    assert set(facts) == {"mean_reflectance", "daylight_factor", "daylight_plane", "light"}
    light = facts["light"]
    assert isinstance(light, dict)
    assert set(light) == {"day", "evening"}
    for one in light.values():
        assert set(one) == {"source_xy", "direct", "total", "wall_light_xy", "wall_seen"}
        assert set(one["direct"]) == set(one["total"]) == {"floor", "ceiling", "walls"}
        assert set(one["wall_seen"]) == {"JMh", "ucs", "srgb"}


def test_facts_are_null_where_nothing_is_known() -> None:
    assert light_facts(lit_room(living_inputs(size_m=None))) == {
        "mean_reflectance": None, "daylight_factor": None, "daylight_plane": None, "light": {},
    }  # fmt: skip
    borrowed = lit_room(living_inputs(windows={}))._replace(plane=lit_room().plane)
    assert borrowed.plane is not None
    dark = light_facts(borrowed)
    assert dark["daylight_factor"] is None
    assert dark["daylight_plane"] is None
    assert dark["mean_reflectance"] is not None
