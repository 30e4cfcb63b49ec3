"""Pools of light in the evening: they add up to the solved light, and fall off from lamps."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from housemap.model.house import Aim, House, Lamp, Notation, Paint, Room, SurfacePaints
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.view import Camera, Sightlines, look
from housemap.study import study_of
from housemap.study.lamplight import lamp_lux, with_lamplight

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
    assert (lit.shade <= view.shade + 1e-6).all()
    assert (lit.face == view.face).all()
    assert lit.edges is not None


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
    sight = Sightlines.of(elevations, camera, view)
    x, y, z = sight.points(np.arange(view.face.size), view.depth_m.ravel())
    outside = [np.abs(x), np.abs(x - 4.0), np.abs(y), np.abs(y - 5.0), np.abs(z), np.abs(z - 2.6)]
    assert np.min(outside, axis=0) == pytest.approx(0.0, abs=1e-4)
