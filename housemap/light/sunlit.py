"""Rooms in the sun on a clear day: where its patches lie, and the light that they give."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import passages, rays, sources
from housemap.light.house_light import Column, HouseLight, Solved, light_from
from housemap.light.inputs import RoomInputs
from housemap.light.passages import Cluster
from housemap.light.room_scene import Scene
from housemap.light.sun import (
    CLEAR_SKY_KELVIN,
    SUN_KELVIN,
    Sun,
    SunnyWindow,
    SunPatch,
    clear_luminance,
    shines_in,
    sun_at,
    sun_patches,
)
from housemap.light.surface_light import Lit

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
    joined = {room for group in house.solved for room in group}
    groups: list[tuple[tuple[str, ...], Cluster]] = [
        (group, solved.system.cluster) for group, solved in house.solved.items()
    ]
    groups += [
        ((room,), Cluster((scene.shape.nameless(),), ()))
        for room, (_, scene) in house.scenes.items()
        if room not in joined
    ]
    made: dict[str, SunlitRoom] = {}
    for group, cluster in groups:
        rooms = [house.scenes[room] for room in group]
        made.update(zip(group, _sunlit(cluster, rooms, sun), strict=True))
    return {room: made[room] for room in house.rooms if room in made}


def _sunlit(
    cluster: Cluster, rooms: Sequence[tuple[RoomInputs, Scene]], sun: Sun
) -> list[SunlitRoom]:
    north = rooms[0][0].north_deg
    windows = [
        SunnyWindow(place, hole, window.transmittance, window.sky_angle_deg)
        for place, (_, scene) in enumerate(rooms)
        for hole, window in scene.windows.items()
    ]
    toward = sun.toward(north)
    patches = [patch for window in windows for patch in sun_patches(cluster, window, toward)]
    first, lumens = _first(cluster, rooms, windows, sun)
    solved = light_from(cluster, rooms, COLUMNS, first)
    return [
        SunlitRoom(tuple(p for p in patches if p.room == place), *_lights(solved, place, lumens))
        for place in range(len(rooms))
    ]


def _lights(solved: Solved, place: int, lumens: Floats) -> tuple[Lit, Lit]:
    lights = solved.lit(place, lumens[place])
    return lights["day"], lights["evening"]


def _first(
    cluster: Cluster,
    rooms: Sequence[tuple[RoomInputs, Scene]],
    windows: Sequence[SunnyWindow],
    sun: Sun,
) -> tuple[list[Floats], Floats]:
    """First light by sun and sky on the patches of each room, and what comes into it: lumens."""
    first = [np.zeros((len(scene.mesh.area_m2), 2)) for _, scene in rooms]
    entering = np.zeros((len(rooms), 2))
    north = rooms[0][0].north_deg
    for window in windows:
        for column, (start, along, lumens) in enumerate(_beams(cluster, window, sun, north)):
            if not len(lumens):
                continue
            room = np.full(len(lumens), window.room)
            lines = passages.lines_from(room, start, along)
            passages.follow(cluster, passages.gates_of(cluster), lines, np.arange(len(lumens)))
            entering[window.room, column] += lumens.sum()
            for place, light in enumerate(first):
                here = (lines.room == place) & (lines.patch >= 0)
                value = lumens[here] * lines.kept[here]
                light[:, column] += np.bincount(lines.patch[here], value, len(light))
                if place != window.room:
                    entering[place, column] += value.sum()
    area = [scene.mesh.area_m2[:, None] for _, scene in rooms]
    return [light / each for light, each in zip(first, area, strict=True)], entering


def _beams(
    cluster: Cluster, window: SunnyWindow, sun: Sun, north_deg: float
) -> Iterator[tuple[Floats, Floats, Floats]]:
    """Of the sun and of the sky: where lines set out, which way, and their lumens."""
    shape = cluster.shapes[window.room]
    corner, axes = passages.frame(shape, window.hole)
    size = np.array([window.hole.width_m, window.hole.height_m])
    uniform = rays.spread(LINES, 4)
    start = corner + (uniform[:, :2] * size) @ axes[:2]
    passed = window.transmittance * float(size.prod()) / LINES
    toward = sun.toward(north_deg)
    shining = shines_in(shape, window.hole, window.sky_angle_deg, toward)
    ahead = float(toward @ axes[2]) if shining else 0.0
    along = np.broadcast_to(-toward, start.shape)
    count = LINES if shining else 0
    lumens = np.full(count, sun.normal_lux * ahead * passed)
    yield start[:count], along[:count], lumens
    out = rays.cosine_directions(uniform[:, 2:]) @ axes
    free = out[:, 2] > _lowest(window.sky_angle_deg) * (out @ axes[2])
    shine = clear_luminance(sun, north_deg, out) * (free | (out[:, 2] < 0.0))
    yield start, -out, np.pi * shine * passed


def _lowest(sky_angle_deg: float) -> float:
    return float(np.tan(np.radians(90.0 - np.clip(sky_angle_deg, 0.0, 90.0))))


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
    found = []
    for quarter in range(96):
        moment = dt.datetime.combine(day, dt.time(quarter // 4, 15 * (quarter % 4)))
        sun = sun_at(latitude_deg, moment)
        toward = sun.toward(inputs.north_deg)
        if sun.up and any(
            shines_in(scene.shape, hole, window.sky_angle_deg, toward)
            for hole, window in scene.windows.items()
        ):
            found.append(quarter / 4.0)
    return found
