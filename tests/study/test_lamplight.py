"""Pools of light in the evening: they add up to the solved light, and fall off from lamps."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from housemap.model.house import Aim, House, Lamp, Notation, Paint, Piece, Room, SurfacePaints
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.pixels import in_view
from housemap.plan.placing import place
from housemap.plan.view import Camera, frame_of, look
from housemap.study import study_of
from housemap.study.light_in_view import lamp_bodies, lamp_lux, with_lamplight
from tests.support.lit_houses import lit_house

NORMALS = {
    "floor": (0, 0, 1), "ceiling": (0, 0, -1), "n": (0, -1, 0), "e": (-1, 0, 0)
}  # fmt: skip


def lamp_house(*lamps: Lamp) -> House:
    paints = SurfacePaints("oat", "oat", "oat", "oat")
    room = Room(
        "Box", size_m=(4.0, 5.0), height_m=2.6, at_m=(0.0, 0.0), paints=paints,
        lamps={f"lamp{i}": lamp for i, lamp in enumerate(lamps)},
    )  # fmt: skip
    return House(rooms={"box": room}, paints={"oat": Paint("Oat", Notation("5Y 8/1"))})


def grid(surface: str) -> NDArray[np.float32]:
    """Points all over a surface of the box."""
    u, v = np.meshgrid((np.arange(80) + 0.5) / 80, (np.arange(80) + 0.5) / 80)
    x, y, z = u * 4.0, v * 5.0, v * 2.6
    flat = {
        "floor": (x, y, 0 * x), "ceiling": (x, y, 0 * x + 2.6), "n": (x, 0 * x + 5.0, z),
        "e": (0 * x + 4.0, u * 5.0, z),
    }[surface]  # fmt: skip
    return np.stack([each.ravel() for each in flat]).astype(np.float32)


@pytest.mark.parametrize("aim", ["all", "down"])
@pytest.mark.parametrize("surface", list(NORMALS))
def test_the_lamps_own_light_has_the_mean_that_the_solved_light_says(
    aim: Aim, surface: str
) -> None:
    """The solver sums exact solid angles over patches; here points follow the inverse square."""
    lamp = Lamp(1000.0, 2700.0, aim=aim, at_m=(1.4, 2.2, 1.9))
    house = lamp_house(lamp)
    light = study_of(house).lighting.rooms["box"].light.lights["evening"]
    lux = lamp_lux(house.rooms["box"], lamp, NORMALS[surface], grid(surface))
    assert lux.mean() == pytest.approx(light.direct_lux(surface), rel=0.02, abs=0.05)


def test_a_wall_is_lighter_where_a_lamp_is_near_and_paints_keep_their_hue() -> None:
    lamp = Lamp(1000.0, 2700.0, at_m=(1.0, 4.5, 1.6))
    study = study_of(lamp_house(lamp))
    space = space_of(study.house, study.plan)
    elevations = Elevations(study.house, study.plan, space)
    camera = Camera("box", (2.0, 1.0), 0.0)
    view = look(elevations, camera, 80, 60, smooth=True)
    assert view
    lit = with_lamplight(study.lighting.rooms, elevations, camera, view)
    north = np.array([face.wall == "n" and face.surface == "walls" for face in view.faces])
    row = np.flatnonzero(north[view.face[28]])
    left, right = lit.shade[28, row[2]], lit.shade[28, row[-3]]
    assert left > right + 0.1
    assert (lit.face == view.face).all()
    assert lit.edges is not None


@pytest.mark.parametrize("width", [80, 500])
def test_a_wall_is_on_the_whole_as_light_as_it_is_seen(width: int) -> None:
    """In linear light, to a tenth: the mean of roots is a little below the root of the mean."""
    study = study_of(lamp_house(Lamp(1000.0, 2700.0, at_m=(2.0, 2.5, 1.4))))
    elevations = Elevations(study.house, study.plan, space_of(study.house, study.plan))
    camera = Camera("box", (2.0, 0.2), 0.0)
    view = look(elevations, camera, width, width * 3 // 4, smooth=True)
    assert view
    lit = with_lamplight(study.lighting.rooms, elevations, camera, view)
    north = np.array([face.wall == "n" and face.surface == "walls" for face in view.faces])
    factor = (lit.shade / view.shade)[north[view.face]]
    assert (factor**2.2).mean() == pytest.approx(1.0, abs=0.1)
    assert factor.min() < 0.95
    assert factor.max() > 1.02


def test_of_a_large_picture_light_is_that_of_every_pixel(monkeypatch: pytest.MonkeyPatch) -> None:
    study = study_of(lamp_house(Lamp(1000.0, 2700.0, at_m=(1.0, 4.5, 1.6))))
    elevations = Elevations(study.house, study.plan, space_of(study.house, study.plan))
    camera = Camera("box", (2.0, 1.0), 0.0)
    view = look(elevations, camera, 421, 317)
    assert view
    some = with_lamplight(study.lighting.rooms, elevations, camera, view).shade
    monkeypatch.setattr("housemap.study.light_in_view.LARGE", view.face.size)
    every = with_lamplight(study.lighting.rooms, elevations, camera, view).shade
    assert np.abs(some - every).max() < 0.02


def test_out_of_doors_it_is_night() -> None:
    inside = lamp_house(Lamp(1000.0, 2700.0))
    terrace = Room("Terrace", use="outdoor", size_m=(4.0, 3.0), height_m=2.4, at_m=(9.0, 0.0))
    study = study_of(replace(inside, rooms={**inside.rooms, "terrace": terrace}))
    elevations = Elevations(study.house, study.plan, space_of(study.house, study.plan))
    camera = Camera("terrace", (11.0, 0.5), 0.0)
    view = look(elevations, camera, 60, 80)
    assert view
    lit = with_lamplight(study.lighting.rooms, elevations, camera, view)
    floor = np.array([face.surface == "floor" for face in view.faces])[view.face]
    sky = np.array([face.surface == "sky" for face in view.faces])[view.face]
    assert (lit.shade < view.shade * 0.6)[floor].all()
    assert (lit.shade == view.shade)[sky].all()
    assert floor.any()
    assert sky.any()


def lamps_in_view(house: House, camera: Camera) -> dict[str, float]:
    elevations = Elevations(house, place(house), space_of(house, place(house)))
    view = look(elevations, camera, 90, 60, smooth=True, bodies=lamp_bodies(elevations))
    assert view
    assert view.edges
    cover = np.bincount(view.edges.pixel, view.edges.cover)
    assert cover[np.unique(view.edges.pixel)] == pytest.approx(1.0, abs=1e-4)
    assert not {surface for _, surface in in_view(view)} & {"lamp", "stem"}
    return {surface: share for (_, surface), share in view.shares().items()}


def test_a_lamp_is_seen_where_it_hangs_or_stands() -> None:
    pendant, floor = Lamp(900.0, 2700.0), Lamp(500.0, 2700.0, at_m=(2.0, 4.0, 1.5))
    north, south = Camera("box", (2.0, 0.5), 0.0), Camera("box", (2.0, 0.5), 180.0)
    seen = lamps_in_view(lamp_house(pendant, floor), north)
    assert seen["lamp"] > 0.002
    assert seen["stem"] > 0
    assert "lamp" not in lamps_in_view(lamp_house(pendant, floor), south)
    assert "stem" not in lamps_in_view(lamp_house(Lamp(500.0, 2700.0, at_m=(2.0, 5.0, 1.9))), north)


def test_a_lamp_behind_furniture_is_hidden() -> None:
    lamp = Lamp(500.0, 2700.0, at_m=(2.0, 4.5, 1.2))
    house = lamp_house(lamp)
    press = {"press": Piece((2.0, 0.5, 2.2), (1.0, 3.5))}
    hidden = replace(house, rooms={"box": replace(house.rooms["box"], pieces=press)})
    camera = Camera("box", (2.0, 0.5), 0.0)
    assert "lamp" in lamps_in_view(house, camera)
    assert "lamp" not in lamps_in_view(hidden, camera)


def test_without_lamps_nothing_changes() -> None:
    study = study_of(lamp_house())
    elevations = Elevations(study.house, study.plan, space_of(study.house, study.plan))
    camera = Camera("box", (2.0, 1.0), 0.0)
    view = look(elevations, camera, 40, 30)
    assert view
    lit = with_lamplight(study.lighting.rooms, elevations, camera, view)
    assert (lit.shade == view.shade).all()


def test_sightlines_lead_to_the_walls_of_the_room() -> None:
    house = replace(lamp_house(), north_deg=30.0)
    study = study_of(house)
    elevations = Elevations(house, study.plan, space_of(house, study.plan))
    camera = Camera("box", (1.3, 2.1), 40.0)
    view = look(elevations, camera, 64, 48)
    assert view
    sight = frame_of(elevations, camera, view)
    x, y, z = sight.points(np.arange(view.face.size), view.depth_m.ravel())
    outside = [np.abs(x), np.abs(x - 4.0), np.abs(y), np.abs(y - 5.0), np.abs(z), np.abs(z - 2.6)]
    assert np.min(outside, axis=0) == pytest.approx(0.0, abs=1e-4)


def test_the_order_of_tables_in_a_file_is_nothing_to_the_light() -> None:
    """A save puts tables in order: what was found before it is found after it."""

    def figures(house: House) -> dict[str, list[float]]:
        rooms = study_of(house).lighting.rooms
        return {
            room: [lit.total_lux("walls") for lit in rooms[room].light.lights.values() if lit]
            for room in sorted(rooms)
        }

    house = lit_house()
    hall = house.rooms["hall"]
    lamps = {**hall.lamps, "sconce": Lamp(300.0, 2700.0, at_m=(0.3, 0.3, 1.8))}
    house = replace(house, rooms={**house.rooms, "hall": replace(hall, lamps=lamps)})
    rooms = {
        key: replace(room, lamps=dict(reversed([*room.lamps.items()])))
        for key, room in reversed([*house.rooms.items()])
    }
    openings = dict(reversed([*house.openings.items()]))
    assert figures(replace(house, rooms=rooms, openings=openings)) == figures(house)
