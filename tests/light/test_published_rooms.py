"""Whole rooms against fine meshes, Monte Carlo and ray tracing from outside the project."""

from typing import Any

import numpy as np
import pytest

from housemap.colorimetry import spaces
from housemap.colorimetry.arrays import Floats
from housemap.light import shape_cache, sky
from housemap.light.inputs import RoomColours, RoomInputs
from housemap.light.mesh import Box, Hole
from housemap.light.radiosity import Rows, band_light
from housemap.light.room_light import light_facts, light_of
from housemap.light.room_scene import grey
from housemap.model.house import Room, Window
from tests.support.lit_rooms import (
    by_surface,
    from_hole,
    modes,
    outline_shape,
    published_light,
    published_room,
    surface_means,
    total_lux,
)

EMITTERS = {"lamp", "window"}
DIRECT, TOTAL, TOTAL_ON_EMITTER = 0.005, 0.02, 0.025
"""The light that comes back onto the small emitter itself is coarser; nothing is made of it."""


def cases(name: str) -> list[Any]:
    return [pytest.param(case, id=case["name"]) for case in published_light(name)["cases"]]


def uv(xyz: Floats) -> Floats:
    return np.asarray(xyz[..., :2] * [4.0, 9.0] / (xyz @ [1.0, 15.0, 3.0])[..., None])


@pytest.mark.parametrize("case", cases("grey_rooms"))
def test_grey_rooms_are_lit_as_by_finer_methods(case: dict[str, Any]) -> None:
    """Fine radiosity, confirmed by Mitsuba and in part by Radiance; see the file's source."""
    room, first = published_room(case)
    mesh = room.mesh
    reflectance = np.array(by_surface(room, case["reflectance"]))[:, None]
    means = surface_means(mesh)
    total = means @ total_lux(mesh, reflectance, first[:, None])[:, 0]
    for i, expected in enumerate(by_surface(room, case["expected"] | _absent(case))):
        if expected is not None:
            loose = mesh.surfaces[i] in EMITTERS
            assert means[i] @ first == pytest.approx(expected["direct"], rel=DIRECT, abs=1e-9)
            allowed = TOTAL_ON_EMITTER if loose else TOTAL
            assert total[i] == pytest.approx(expected["total"], rel=allowed)


def _absent(case: dict[str, Any]) -> dict[str, None]:
    """A ceiling that is all lamp has no row of its own."""
    return dict.fromkeys(case["reflectance"].keys() - case["expected"].keys())


@pytest.mark.parametrize("case", cases("rgb_rooms"))
def test_coloured_rooms_have_the_published_light_and_tint(case: dict[str, Any]) -> None:
    """Beige or sage walls over oak: lux within 2 %, chromaticity within 0.002 in u'v'."""
    room, first = published_room(case)
    mesh = room.mesh
    reflectance = np.array(by_surface(room, case["reflectance"]), dtype=float)
    total = surface_means(mesh) @ total_lux(mesh, reflectance, np.repeat(first[:, None], 3, axis=1))
    for got, direct, expected in zip(
        total, surface_means(mesh) @ first, by_surface(room, case["expected"]), strict=True
    ):
        assert direct == pytest.approx(expected["direct"][0], rel=DIRECT, abs=1e-9)
        assert got == pytest.approx(np.array(expected["total"]), rel=TOTAL)
        assert uv(got @ spaces.SRGB_TO_XYZ100.T) == pytest.approx(expected["uv"], abs=0.002)


def test_a_spectral_room_has_the_published_light_and_tint() -> None:
    """Measured reflectances under CIE A at 41 bands; Mitsuba agrees at three of them."""
    case = published_light("spectral_room")
    room, first = published_room(case)
    spectra = case["reflectances"] | {"black": [0.0] * 41}
    surfaces = by_surface(room, case["surfaces"] | {"lamp": "black"})
    reflectance = np.array([spectra[name] for name in surfaces])
    rows = Rows(np.eye(len(surfaces)))
    light = band_light(room.mesh, modes(room.mesh), rows, reflectance, first[:, None])
    weights = np.array(case["power_380_10_780"])[:, None] * np.array(case["observer_1931"])
    weights /= weights[:, 1].sum()
    expected = by_surface(room, case["expected"] | {"lamp": None})
    for direct, total, want in zip(light.direct[:, 0], light.total[:, 0], expected, strict=True):
        if want is not None:
            xyz = total @ weights
            assert direct == pytest.approx(want["direct"], rel=DIRECT, abs=1e-9)
            assert xyz[1] == pytest.approx(want["total"], rel=TOTAL)
            assert uv(xyz) == pytest.approx(want["uv"], abs=0.002)


@pytest.mark.parametrize("case", cases("raytraced_rooms"))
def test_rooms_with_an_accent_wall_are_lit_as_a_ray_tracer_says(case: dict[str, Any]) -> None:
    """Our own case, by Radiance: a box within 1 %, an L within 2 % (round its window 4 %)."""
    window, holes = case["window"], []
    if window:
        size = (window["along_m"], window["sill_m"], window["width_m"], window["height_m"])
        holes = [Hole("window", str(window["wall"]), *size, shines=True)]
    room = shape_cache.enclosure(outline_shape(case["outline_m"], case["height_m"], *holes))
    mesh = room.mesh
    if window:
        first = from_hole(room, "window", window["exitance_lm_per_m2"])
    else:
        shares = room.lamp_shares(tuple(case["lamp"]["at"]), "all")
        first = case["lamp"]["lumens"] * shares / mesh.area_m2
    black = {"window": [0.0] * 3}
    reflectance = np.array([(case["reflectance"] | black)[name] for name in mesh.surfaces])
    total = surface_means(mesh) @ total_lux(mesh, reflectance, np.repeat(first[:, None], 3, axis=1))
    exact = isinstance(room, Box)
    for name, direct, got in zip(mesh.surfaces, surface_means(mesh) @ first, total, strict=True):
        if name in case["expected"]:
            expected = case["expected"][name]
            beside = window is not None and name == str(window["wall"])
            assert direct == pytest.approx(expected["direct"], rel=0.005 if exact else 0.015)
            allowed = 0.01 if exact else 0.04 if beside else 0.02
            assert got == pytest.approx(np.array(expected["total"]), rel=allowed)


def test_the_published_window_room_comes_out_of_the_facts() -> None:
    """The same room as a room of a house: its window's exitance by sky, glass and outdoor light."""
    (case,) = (c for c in published_light("grey_rooms")["cases"] if c["name"] == "window_x0_w5")
    window = Window("w", 0.75, 1.5, 1.2, 0.9, 0.68, 90.0)
    room = Room("Room", size_m=(4.0, 3.0), height_m=2.5, windows={"a": window})
    colours = RoomColours(walls=grey(0.5), ceiling=grey(0.8), floor=grey(0.2))
    outdoor_lux = 1000.0 / (sky.glass_share(90.0) * 0.68)
    (lit,) = light_of([RoomInputs(room, colours)], outdoor_lux)
    light: Any = light_facts(lit)["light"]
    day = light["day"]
    expected = case["expected"]
    areas = {"wall_x0": 5.7, "wall_x1": 7.5, "wall_y0": 10.0, "wall_y1": 10.0}
    for part, tolerance in (("direct", DIRECT), ("total", TOTAL)):
        walls = np.average([expected[w][part] for w in areas], weights=list(areas.values()))
        assert day[part]["walls"] == pytest.approx(walls, rel=tolerance)
        for surface in ("floor", "ceiling"):
            assert day[part][surface] == pytest.approx(expected[surface][part], rel=tolerance)
