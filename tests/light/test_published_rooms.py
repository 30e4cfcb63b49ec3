"""Whole rooms against fine meshes, Monte Carlo and ray tracing from outside the project."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from housemap.colorimetry import spaces
from housemap.colorimetry.arrays import Floats
from housemap.light.inputs import RoomColours, RoomInputs
from housemap.light.mesh import Box, Hole
from housemap.light.radiosity import Rows, band_light, first_light
from housemap.light.room_light import light_facts
from housemap.light.scene import grey
from housemap.model.house import Room, Window
from tests.support.lit_rooms import (
    bounced_alone,
    by_surface,
    enclosure_of,
    from_hole,
    lit_room,
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
    known = modes(room.mesh)
    lit = reflectance, first_light(room.mesh, known, first[:, None])
    light = band_light(room.mesh, known, rows, lit, bounced_alone(known, *lit))
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
    room = enclosure_of(outline_shape(case["outline_m"], case["height_m"], *holes))
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
    """The rooms ray-traced under the overcast sky: floor, ceiling and walls as a file has them."""
    (case,) = (c for c in published_light("skylit_rooms")["cases"] if c["name"] == "one-window")
    light: Any = light_facts(lit_room(skylit_inputs(case)))["light"]
    for surface in ("floor", "ceiling", "walls"):
        expected = case["expected"][surface]
        assert light["day"]["direct"][surface] == pytest.approx(expected["direct"], rel=0.01)
        assert light["day"]["total"][surface] == pytest.approx(expected["total"], rel=0.01)


@pytest.mark.parametrize("case", cases("skylit_rooms"))
def test_rooms_under_the_sky_are_lit_as_two_ray_tracers_say(case: dict[str, Any]) -> None:
    """First light within 1.5 %, all bounces within 1.5 %, the working plane within 2 %."""
    lit = lit_room(skylit_inputs(case))
    for surface, expected in case["expected"].items():
        if surface == "plane":
            assert lit.plane_percent == pytest.approx(expected["total"] / 100.0, rel=0.02)
            continue
        light = lit.lights["day"]
        assert light.total_lux(surface) == pytest.approx(expected["total"], rel=0.015)
        if expected["direct"] > 20.0:
            assert light.direct_lux(surface) == pytest.approx(expected["direct"], rel=0.015)


def skylit_inputs(case: dict[str, Any]) -> RoomInputs:
    windows = {
        key: replace(Window(*values), sky_angle_deg=90.0) for key, values in case["windows"].items()
    }
    outline = [(x, y) for x, y in case.get("outline_m", ())]
    room = Room(
        "Room",
        size_m=None if outline else tuple(case["size_m"]),
        outline_m=tuple(outline) or None,
        height_m=case["height_m"],
        windows=windows,
    )
    rho = case["reflectance"]
    return RoomInputs(
        room, RoomColours(walls=grey(rho["walls"]), ceiling=grey(rho["ceiling"]),
                          floor=grey(rho["floor"])),
    )  # fmt: skip
