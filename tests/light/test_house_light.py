"""Rooms that openings join: against ray tracing, and what must hold in any house."""

from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from housemap.light import enclosures, house_light, shine, system
from housemap.light.house_light import HouseLight, Solved
from housemap.light.house_light import house_light as light_of_house
from housemap.light.inputs import RoomColours, RoomInputs, RoomOpening, SurfaceColour
from housemap.light.scene import LIGHTS, LightName, beams_of, grey
from housemap.light.surface_light import LUX
from housemap.light.trial import response_in
from housemap.model.house import Lamp, Room, Window
from tests.support.lit_rooms import OAK, RED, SAGE, WHITE, light_of, published_light, seen_in

CASES = {case["name"]: case for case in published_light("joined_rooms")["cases"]}
NAMES: dict[str, LightName] = {"overcast": "day", "lamp": "evening"}
OPENED = sorted(CASES)


def step(low: float, high: float, split_nm: float) -> SurfaceColour:
    reflectance = np.where(np.arange(380.0, 781.0, 10.0) < split_nm, low, high)
    return SurfaceColour(reflectance, 100.0 * (low + high) / 2.0)


def colours_of(case: dict[str, Any], room: str, *, coloured: bool) -> RoomColours:
    if coloured:
        painted = {k: step(v[0], v[1], case["split_nm"]) for k, v in case["coloured"][room].items()}
    else:
        painted = {k: grey(v) for k, v in case["grey"][room].items()}
    walls = painted.get("walls")
    return RoomColours(walls=walls, ceiling=painted["ceiling"], floor=painted["floor"])


def opening_in(case: dict[str, Any], room: str, depth_m: float) -> tuple[RoomOpening, ...]:
    found = []
    for name, way in case["geometry"]["openings"].items():
        if room not in way["between"]:
            continue
        first = way["between"][0] == room
        if "rect_x0y0x1y1_in_each_room" in way:
            x0, y0, x1, y1 = way["rect_x0y0x1y1_in_each_room"]
            surface = "ceiling" if first else "floor"
            found.append(RoomOpening(name, surface, x0, x1 - x0, y1 - y0, "open", y0, depth_m))
            continue
        wall, along = (way["wall"], way["along"]) if first else (way["to_wall"], way["to_along"])
        found.append(RoomOpening(name, wall, along, way["width"], way["height"], depth_m=depth_m))
    return tuple(found)


def inputs_of_case(
    case: dict[str, Any], *, coloured: bool = False, depth_m: float = 0.0
) -> dict[str, RoomInputs]:
    rooms = {}
    for key, geometry in case["geometry"]["rooms"].items():
        windows = {
            name: Window(
                w["wall"], w["along"], w["width"], w["height"], w["sill"], w["transmittance"],
                90.0, 6504.0,
            )
            for name, w in geometry["windows"].items()
        }  # fmt: skip
        lamp = case["lamp"]
        x, y, z = lamp["at_in_room"]
        lamps = {"a": Lamp(lamp["lumens"], 2856.0, "A", at_m=(x, y, z))}
        x, y = geometry["size"]
        room = Room(
            key,
            size_m=(x, y),
            height_m=geometry["height"],
            windows=windows,
            lamps=lamps if lamp["room"] == key else {},
        )
        colours = colours_of(case, key, coloured=coloured)
        rooms[key] = RoomInputs(room, colours, opening_in(case, key, depth_m))
    return rooms


def allowed(lux: float) -> float:
    """The means of surfaces within 5 %, 8 % where under 10 lx."""
    return 0.08 if lux < 10.0 else 0.05


@pytest.mark.parametrize("name", OPENED)
def test_joined_rooms_are_lit_as_two_ray_tracers_say(name: str) -> None:
    """Floor, ceiling, walls and plane of every room by day and by lamplight.

    Where a stair void lies, which moves the hall's light by a tenth, no house file says: here it
    is given. Strips of wall 0.1 m wide beside an opening are left out: at 3 lx they are 13 % off,
    as patches of 0.25 m in a corner are too coarse for them.
    """
    case = CASES[name]
    house = light_of_house(inputs_of_case(case))
    for light, rooms in case["expected"].items():
        for room, surfaces in rooms.items():
            lit = house.rooms[room].lights[NAMES[light]]
            for surface, (direct, total) in surfaces.items():
                if surface == "plane":
                    if light == "overcast":
                        plane = house.rooms[room].plane_percent
                        assert plane == pytest.approx(total / 100.0, rel=allowed(total))
                    continue
                assert lit.total_lux(surface) == pytest.approx(total, rel=allowed(total))
                if direct is not None and direct > 0.2 * total:
                    assert lit.direct_lux(surface) == pytest.approx(direct, rel=0.05)


@pytest.mark.parametrize("name", OPENED)
def test_the_light_on_walls_has_the_colour_that_ray_tracers_say(name: str) -> None:
    """u', v' of the light on all walls of a room within 0.004."""
    case = CASES[name]
    house = light_of_house(inputs_of_case(case, coloured=True))
    for light, rooms in case["coloured_walls"].items():
        for room, (uv, lux) in rooms.items():
            total = house.rooms[room].lights[NAMES[light]].total("walls")
            x, y, z = total[:3]
            got = np.array([4.0 * x, 9.0 * y]) / (x + 15.0 * y + 3.0 * z)
            assert got == pytest.approx(np.array(uv), abs=0.004)
            assert total[LUX] == pytest.approx(lux, rel=allowed(lux))


@pytest.mark.parametrize("name", ["doorway", "three-in-a-row", "stair-void", "stairwell"])
def test_linings_keep_light_as_a_ray_tracer_says(name: str) -> None:
    """Walls 0.1 m thick; the lining there reflects the walls' mean, ours 0.6: within 5 %, 8 %."""
    case = CASES[name]
    house = light_of_house(inputs_of_case(case, depth_m=0.1))
    for light, rooms in case["with_lining"].items():
        for room, surfaces in rooms.items():
            for surface, total in surfaces.items():
                if surface != "plane":
                    lit = house.rooms[room].lights[NAMES[light]]
                    assert lit.total_lux(surface) == pytest.approx(total, rel=allowed(total))


FURTHER = {
    "day": {
        "one": {"floor": (71.92, 81.35), "ceiling": (9.00, 19.91), "walls": (18.65, 30.87)},
        "two": {"floor": (5.401, 16.35), "ceiling": (1.514, 12.46), "walls": (2.640, 12.06)},
    },
    "evening": {
        "one": {"floor": (1.823, 6.29), "ceiling": (1.019, 3.83), "walls": (0.945, 3.97)},
        "two": {"floor": (7.433, 32.39), "ceiling": (20.88, 45.19), "walls": (10.31, 33.95)},
    },
}


def test_light_that_a_lining_reflects_is_no_direct_light() -> None:
    """Dark room and white one, a wall of 0.1 m with an opening of full height between.

    Radiance 6, own scene: direct light (8,000 points of each surface four times) within 2 %, that
    after all bounces (2,000, six times) within 4 %; standard errors 0.5 and 1.4 % and less. The
    conventions of the cases above; the lining reflects 0.6.
    """
    window = Window("s", 3.39, 1.28, 0.81, 0.6, 0.6, 90.0)
    lamp = Lamp(1000.0, 2700.0, at_m=(1.54, 2.23, 2.66))
    one = Room("1", size_m=(4.84, 4.66), height_m=3.31, windows={"w": window})
    two = Room("2", size_m=(3.84, 3.72), height_m=3.55, lamps={"l": lamp})
    painted = (
        (one, (0.15, 0.8, 0.32), ("e", 1.09)),
        (two, (0.85, 0.73, 0.39), ("w", 0.68)),
    )
    rooms = {}
    for key, (room, colours, (wall, along)) in zip(("one", "two"), painted, strict=True):
        walls, ceiling, floor = map(grey, colours)
        way = RoomOpening("way", wall, along, 2.4, 3.31, depth_m=0.1)
        rooms[key] = RoomInputs(room, RoomColours(walls, ceiling, floor), (way,))
    house = light_of_house(rooms)
    for light, name in product(LIGHTS, rooms):
        for surface, (direct, total) in FURTHER[light][name].items():
            lit = house.rooms[name].lights[light]
            assert lit.direct_lux(surface) == pytest.approx(direct, rel=0.02)
            assert lit.total_lux(surface) == pytest.approx(total, rel=0.04)


@pytest.mark.parametrize("name", ["open-plan", "three-in-a-row", "stairwell"])
def test_following_faint_light_by_fewer_lines_changes_little(
    monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """A lamp in every room: no surface has 2 % more or less."""
    inputs = inputs_of_case(CASES[name])
    lamps = [each.room.lamps for each in inputs.values() if each.room.lamps]
    rooms = {
        key: each._replace(room=replace(each.room, lamps=lamps[0])) for key, each in inputs.items()
    }
    weighed = light_of_house(rooms).rooms
    monkeypatch.setattr(shine, "FULL_SHARE", 1e-9)
    for key, full in light_of_house(rooms).rooms.items():
        for light, surface in product(LIGHTS, ("floor", "ceiling", "walls")):
            lux = full.lights[light].total_lux(surface)
            got = weighed[key].lights[light].total_lux(surface)
            assert got == pytest.approx(lux, rel=0.02)


# What must hold in any house


def two_rooms(
    walls: SurfaceColour = SAGE,
    other: SurfaceColour = RED,
    closed: str = "open",
    depth: float = 0.1,
) -> dict[str, RoomInputs]:
    """A living room with window and lamp, and a hall without either behind its east wall."""
    window, lamp = Window("n", 1.0, 1.5, 1.2, 0.9), Lamp(1400.0, 2700.0)
    ways = [RoomOpening("way", wall, 1.0, 0.9, 2.0, closed, depth_m=depth) for wall in "ew"]  # type: ignore[arg-type]
    living = Room("L", size_m=(4.0, 3.5), height_m=2.5, windows={"a": window}, lamps={"a": lamp})
    hall = Room("H", size_m=(1.8, 3.5), height_m=2.5)
    return {
        "living": RoomInputs(living, RoomColours(walls, WHITE, OAK), (ways[0],), 0.0, 51.5),
        "hall": RoomInputs(hall, RoomColours(other, WHITE, OAK), (ways[1],), 0.0, 51.5),
    }


def test_shut_doors_make_single_rooms_exactly() -> None:
    rooms = two_rooms(closed="door")
    house = light_of_house(rooms)
    for room, alone in zip(rooms, light_of(list(rooms.values())), strict=True):
        together = house.rooms[room]
        assert together.lights.keys() == alone.lights.keys()
        for name, light in together.lights.items():
            assert np.array_equal(light.bands, alone.lights[name].bands)
            assert np.array_equal(light.source, alone.lights[name].source)
    assert house.rooms["hall"].lights == {}
    assert [*house.joined] == [("living",)]


def test_a_red_room_glows_into_a_white_hall() -> None:
    red = light_of_house(two_rooms(RED, WHITE)).rooms["hall"]
    plain = light_of_house(two_rooms(WHITE, WHITE)).rooms["hall"]
    for name in LIGHTS:
        warm, even = (room.lights[name].total("walls") for room in (red, plain))
        assert warm[0] / warm[1] > even[0] / even[1] + 0.02
        assert warm[LUX] < even[LUX]


def test_glass_lets_less_light_through_than_an_open_doorway() -> None:
    opened, glazed = (
        light_of_house(two_rooms(closed=way)).rooms["hall"] for way in ("open", "glass")
    )
    for name in LIGHTS:
        share = glazed.lights[name].total_lux("walls") / opened.lights[name].total_lux("walls")
        assert 0.7 < share < 0.9


def only(house: HouseLight) -> Solved:
    (joined,) = house.joined.values()
    return joined.solved


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(walls=st.floats(0.1, 0.8), other=st.floats(0.1, 0.8), depth=st.sampled_from([0.0, 0.3]))
def test_what_rooms_exchange_is_the_same_both_ways(
    walls: float, other: float, depth: float
) -> None:
    solved = only(light_of_house(two_rooms(grey(walls), grey(other), depth=depth)))
    cluster = solved.system.cluster
    by_modes = {
        (taker, link.sender): link.by_modes
        for taker, links in enumerate(solved.system.links)
        for link in links
    }
    assert by_modes[0, 1] == pytest.approx(by_modes[1, 0].T, abs=1e-6)
    assert by_modes.keys() >= {(0, 0), (1, 1)} if depth else by_modes.keys() == {(0, 1), (1, 0)}
    if not depth:
        (pair,) = system.passage(cluster).pairs
        mesh = enclosures.enclosure(cluster.shapes[0]).mesh
        there = np.bincount(pair.one, pair.square, len(mesh.area_m2))
        assert there.sum() == pytest.approx(0.9 * 2.0, rel=0.02)
        door = mesh.surface == len(mesh.surfaces) - 1
        assert np.all(there <= mesh.exchange(np.float64)[:, door].sum(1) + 1e-7)


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(walls=st.floats(0.1, 0.8), other=st.floats(0.1, 0.8))
def test_what_is_absorbed_is_what_shines(walls: float, other: float) -> None:
    """In both rooms together, through a doorway without a lining: within 1 %."""
    house = light_of_house(two_rooms(grey(walls), grey(other), depth=0.0))
    absorbed = dict.fromkeys(LIGHTS, 0.0)
    for scene, room in ((house.scenes[key][1], house.rooms[key]) for key in house.rooms):
        areas = scene.mesh.surface_area_m2()
        for name in LIGHTS:
            for surface, area, rho in zip(
                scene.shape.surfaces, areas, scene.reflectance[:, 20], strict=True
            ):
                if not surface.startswith("opening"):
                    absorbed[name] += area * (1.0 - rho) * room.lights[name].total_lux(surface)
    lumens = {beam.column[0]: beam.lumens for beam in beams_of(*house.scenes["living"], 10_000.0)}
    lumens_grey = {name: absorbed[name] / lumens[name] for name in LIGHTS}
    assert lumens_grey == pytest.approx(dict.fromkeys(LIGHTS, 1.0), abs=0.04)


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(before=st.floats(0.1, 0.8), after=st.floats(0.1, 0.8))
def test_a_repaint_gives_the_light_that_the_house_has_from_scratch(
    before: float, after: float
) -> None:
    """Within 0.4 %; a room that hardly changes keeps its light."""
    old = light_of_house(two_rooms(grey(before), WHITE))
    new = light_of_house(two_rooms(grey(after), WHITE), before=old)
    fresh = light_of_house(two_rooms(grey(after), WHITE))
    for room, each in fresh.rooms.items():
        for name, light in each.lights.items():
            for surface in ("floor", "ceiling", "walls"):
                got = new.rooms[room].lights[name].total_lux(surface)
                assert got == pytest.approx(light.total_lux(surface), rel=4e-3)


def test_the_same_house_again_keeps_all_its_light() -> None:
    rooms = two_rooms()
    first = light_of_house(rooms)
    again = light_of_house(rooms, before=first)
    assert all(again.rooms[room] is first.rooms[room] for room in rooms)


def test_a_paint_tried_in_a_hall_looks_as_it_does_once_it_is_on() -> None:
    """With what the living room sends back: within 0.1 CAM16-UCS units."""
    house = light_of_house(two_rooms(SAGE, WHITE))
    tried = response_in(house, "hall", "walls").tried(RED.reflectance[np.newaxis])
    painted = light_of_house(two_rooms(SAGE, RED)).rooms["hall"]
    for name in LIGHTS:
        assert tried[name].ucs[0] == pytest.approx(seen_in(painted, name)["walls"].ucs, abs=0.1)
        lux = painted.lights[name].total_lux("walls")
        assert tried[name].wall_lux[0] == pytest.approx(lux, rel=5e-3)


def test_an_opening_cut_by_a_low_room_is_as_low_on_both_sides() -> None:
    rooms = two_rooms()
    low = rooms["hall"]._replace(room=replace(rooms["hall"].room, height_m=1.8))
    house = light_of_house({**rooms, "hall": low})
    for room in rooms:
        (hole,) = (h for h in house.scenes[room][1].shape.holes if h.name == "opening way")
        assert hole.height_m == pytest.approx(1.8)


def test_a_dark_room_far_from_any_light_has_none() -> None:
    rooms = two_rooms()
    unlit = {
        key: each._replace(room=replace(each.room, windows={}, lamps={}))
        for key, each in rooms.items()
    }
    assert all(not room.lights for room in light_of_house(unlit).rooms.values())
    assert house_light.LEAST_LUX > 0.0
