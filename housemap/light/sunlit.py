"""Rooms in the sun on a clear day: where its patches lie, and the light that they give."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import rays, sky, sources
from housemap.light.house_light import HouseLight, light_from
from housemap.light.inputs import RoomInputs
from housemap.light.mesh import frame
from housemap.light.orientation import window_azimuth_deg
from housemap.light.passages import Cluster, Lines, follow, gates_of
from housemap.light.scene import Column, Pane, Scene
from housemap.light.sun import (
    CLEAR_SKY_KELVIN,
    SUN_KELVIN,
    Sun,
    SunPatch,
    clear_luminance,
    hours_of_sun,
    shines_in,
    sun_patches,
)
from housemap.light.surface_light import Lit
from housemap.light.system import First, made_of

SURFACES = ("floor", "ceiling", "walls")
LINES = 4096
"""From each window, for the sun and for the sky."""
COLUMNS: tuple[Column, Column] = (
    ("day", sources.daylight(SUN_KELVIN)), ("evening", sources.daylight(CLEAR_SKY_KELVIN)),
)  # fmt: skip
"""The sun and the blue sky are held as the two lights of a house."""


@dataclass(frozen=True, slots=True, eq=False)
class SunlitRoom:
    """A room on a clear day."""

    patches: tuple[SunPatch, ...]
    beam: Lit
    """What the sun alone gives."""
    sky: Lit
    """What the blue sky and the ground give."""

    @property
    def patch_m2(self) -> float:
        """Of sun on floor, walls and ceiling together."""
        return sum(patch.area_m2 for patch in self.patches)

    @property
    def light(self) -> Lit:
        """Sun and sky together, to see colours by."""
        return replace(
            self.beam,
            source=self.beam.source + self.sky.source,
            bands=self.beam.bands + self.sky.bands,
            direct=self.beam.direct + self.sky.direct,
            received=self.beam.received + self.sky.received,
        )


def sunlit(house: HouseLight, sun: Sun) -> Mapping[str, SunlitRoom]:
    """Every room of which light is computed, with the sun where it stands; none by night."""
    if not sun.up:
        return {}
    made: dict[str, SunlitRoom] = {}
    for group, solved in house.solved.items():
        rooms = [house.scenes[room] for room in group]
        made.update(zip(group, _sunlit(solved.system.cluster, rooms, sun), strict=True))
    return {room: made[room] for room in house.rooms if room in made}


def _sunlit(
    cluster: Cluster, rooms: Sequence[tuple[RoomInputs, Scene]], sun: Sun
) -> list[SunlitRoom]:
    north, scenes = rooms[0][0].north_deg, [scene for _, scene in rooms]
    windows = [(place, pane) for place, scene in enumerate(scenes) for pane in scene.panes]
    toward = sun.toward(north)
    patches = [p for place, pane in windows for p in sun_patches(cluster, place, pane, toward)]
    first, lumens = _first(cluster, scenes, windows, (sun, north))
    solved = light_from(made_of(cluster, COLUMNS, scenes, First(first, lumens)), scenes)
    lights = [solved.lights(place)[0] for place in range(len(scenes))]
    return [
        SunlitRoom(tuple(p for p in patches if p.room == place), each["day"], each["evening"])
        for place, each in enumerate(lights)
    ]


def _first(
    cluster: Cluster,
    scenes: Sequence[Scene],
    windows: Sequence[tuple[int, Pane]],
    sun: tuple[Sun, float],
) -> tuple[list[Floats], Floats]:
    """First light by sun and sky on the patches of each room, and what comes into it: lumens."""
    first = [np.zeros((len(scene.mesh.area_m2), 2)) for scene in scenes]
    entering = np.zeros((len(scenes), 2))
    for own, pane in windows:
        for column, (start, along, lumens) in enumerate(_beams(scenes[own], pane, *sun)):
            if not len(lumens):
                continue
            lines = Lines(np.full(len(lumens), own), start, along.copy())
            follow(gates_of(cluster), lines, np.arange(len(lumens)))
            entering[own, column] += lumens.sum()
            for place, light in enumerate(first):
                here = (lines.room == place) & (lines.patch >= 0)
                value = lumens[here] * lines.kept[here]
                light[:, column] += np.bincount(lines.patch[here], value, len(light))
                if place != own:
                    entering[place, column] += value.sum()
    area = [scene.mesh.area_m2[:, None] for scene in scenes]
    return [light / each for light, each in zip(first, area, strict=True)], entering


def _beams(
    scene: Scene, pane: Pane, sun: Sun, north_deg: float
) -> Iterator[tuple[Floats, Floats, Floats]]:
    """Of the sun and of the sky: where lines set out, which way, and their lumens."""
    corner, axes = frame(scene.shape, pane.hole)
    uniform = rays.spread(LINES, 4)
    size = pane.hole.width_m, pane.hole.height_m
    start = corner + (uniform[:, :2] * size) @ axes[:2]
    passed = pane.window.transmittance * pane.area_m2 / LINES
    toward = sun.toward(north_deg)
    shining = shines_in(scene.shape, pane, toward)
    count, ahead = (LINES, float(toward @ axes[2])) if shining else (0, 0.0)
    along = np.broadcast_to(-toward, (count, 3))
    yield start[:count].copy(), along, np.full(count, sun.normal_lux * ahead * passed)
    out = rays.cosine_directions(uniform[:, 2:]) @ axes
    lowest = sky.profile_tangent(pane.window.sky_angle_deg)
    seen = (out[:, 2] > lowest * (out @ axes[2])) | (out[:, 2] < 0.0)
    shine = clear_luminance(sun, north_deg, out, pane.outside.ground) * seen
    yield start, -out, np.pi * shine * passed


def sun_facts(house: HouseLight, sun: Sun) -> dict[str, Any]:
    """The sun in every room by the file format; `direct` and `total` are of its beam alone, lux."""
    rooms = {
        room: {
            "patch_m2": each.patch_m2,
            "direct": {surface: each.beam.direct_lux(surface) for surface in SURFACES},
            "total": {surface: each.beam.total_lux(surface) for surface in SURFACES},
            "sky": {surface: each.sky.total_lux(surface) for surface in SURFACES},
        }
        for room, each in sunlit(house, sun).items()
    }
    return {
        "altitude": sun.altitude_deg,
        "azimuth": sun.azimuth_deg,
        "normal_lux": sun.normal_lux,
        "sky_lux": sun.sky_lux,
        "rooms": rooms,
    }


def sunny_hours(house: HouseLight, room: str, latitude_deg: float, day: dt.date) -> list[float]:
    """The quarters of an hour, solar time, at which the sun comes in by the room's own windows."""
    if room not in house.scenes:
        return []
    inputs, scene = house.scenes[room]
    every = (
        hours_of_sun(
            window_azimuth_deg(inputs.room, pane.window, inputs.north_deg),
            pane.window.sky_angle_deg, latitude_deg, day,
        )
        for pane in scene.panes
    )  # fmt: skip
    return sorted({hour for hours in every for hour in hours})
