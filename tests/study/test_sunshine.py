"""Patches of sun in a view: a point is in the sun where the way to it leads out by a window."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from housemap.checks import report_of
from housemap.light.sun import Sun
from housemap.model.house import House, Lamp, Notation, Paint, Room, SurfacePaints, Window
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.raster import View
from housemap.plan.solids import Frame
from housemap.plan.view import Camera, frame_of, look
from housemap.study import study_of
from housemap.study.light_in_view import SUNNY, patches_of, with_sunshine
from housemap.study.study import Study
from housemap.workbench.light_facts import sun_shown
from housemap.workbench.session import Session
from housemap.workbench.walker import Walker

WINDOW = Window("s", 1.2, 1.5, 1.3, 0.7)
OATS = SurfacePaints("oat", "oat", "oat", "oat")
ROOM = Room(
    "Box", size_m=(4.0, 3.0), height_m=2.6, at_m=(1.0, 2.0), paints=OATS, windows={"w": WINDOW},
    lamps={"l": Lamp(800.0, 2700.0)},
)  # fmt: skip
HOUSE = House(
    rooms={"box": ROOM}, paints={"oat": Paint("Oat", Notation("5Y 8/1"))},
    latitude_deg=51.5, wall_thickness_m=0.0,
)  # fmt: skip


def seen(study: Study, sun: Sun, camera: Camera) -> tuple[View, View, Frame]:
    elevations = Elevations(study.house, study.plan, space_of(study.house, study.plan))
    view = look(elevations, camera, 90, 120, smooth=True)
    assert view
    lit = with_sunshine(patches_of(study.lighting.light, sun), elevations, camera, view)
    return view, lit, frame_of(elevations, camera, view)


def in_sun(points: NDArray[np.float64], toward: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far within the window, in metres, the way to the sun leaves the box; below 0 outside."""
    x, y, z = points - np.array([[1.0], [2.0], [0.0]])
    t = -y / toward[1]
    at_x, at_z = x + t * toward[0], z + t * toward[2]
    low, high = WINDOW.sill_m, WINDOW.sill_m + WINDOW.height_m
    left, right = WINDOW.along_m, WINDOW.along_m + WINDOW.width_m
    return np.asarray(np.minimum.reduce([at_x - left, right - at_x, at_z - low, high - at_z]))


@pytest.mark.parametrize(("month", "hour", "bearing"), [(3, 12, 0.0), (3, 15, 45.0), (4, 9, 315.0)])
def test_a_pixel_is_brighter_just_where_its_way_to_the_sun_is_free(
    month: int, hour: int, bearing: float
) -> None:
    study, sun = study_of(HOUSE), sun_shown(51.5, month, hour)
    toward = sun.toward(0.0)
    assert toward[1] < 0 < toward[2]
    view, lit, sight = seen(study, sun, Camera("box", (3.0, 2.2), bearing))
    ratio = (lit.shade / view.shade).ravel()
    points = sight.points(np.arange(view.face.size), view.depth_m.ravel()).astype(float)
    room_side = points[1] > 2.0 + 1e-3
    free = in_sun(points, toward)
    clear = room_side & (np.abs(free) > 0.15)
    faces = np.array([face.surface in {"walls", "trim", "floor"} for face in view.faces])
    clear &= faces[view.face].ravel()
    assert (clear & (free > 0)).sum() > 30
    assert ratio[clear & (free > 0)] == pytest.approx(SUNNY, abs=1e-3)
    assert ratio[clear & (free < 0)] == pytest.approx(1.0, abs=1e-3)


def test_edges_are_brighter_as_the_pixels_beside_them() -> None:
    view, lit, _ = seen(study_of(HOUSE), sun_shown(51.5, 3, 15), Camera("box", (3.0, 2.2), 45.0))
    assert view.edges
    assert lit.edges
    ratio = lit.edges.shade / view.edges.shade
    assert ratio.min() == pytest.approx(1.0)
    assert ratio.max() == pytest.approx(SUNNY, abs=1e-3)
    assert (lit.edges.cover == view.edges.cover).all()


def test_by_night_and_without_windows_nothing_changes() -> None:
    study = study_of(HOUSE)
    assert not patches_of(study.lighting.light, sun_shown(51.5, 3, 23))
    dark = study_of(replace(HOUSE, rooms={"box": replace(ROOM, windows={})}))
    view, lit, _ = seen(dark, sun_shown(51.5, 3, 12), Camera("box", (3.0, 2.2), 0.0))
    assert lit is view


def test_the_walk_shows_the_sun_while_its_hour_is_shown_and_not_by_lamplight() -> None:
    session = Session.of(HOUSE)
    session.take_report(report_of(HOUSE))
    walker, camera = Walker(session, "box"), Camera("box", (3.0, 2.2), 0.0)
    view = walker.picture(camera, 90, 120)
    assert view
    assert walker.lit(view, camera) is view
    session.select_sun((3, 12))
    assert walker.lit(view, camera).shade.max() > view.shade.max() * 1.1
    session.select_light("evening")
    by_lamp = walker.lit(view, camera)
    session.select_sun(None)
    assert (walker.lit(view, camera).shade == by_lamp.shade).all()
