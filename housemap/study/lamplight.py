"""Pools of light in the evening: each surface is lighter near its room's lamps, darker elsewhere.

The lamps' own light on a point follows the inverse square and cosine laws, with the distributions
that the light of rooms is computed with (all round, or Lambertian down or up). What the solved
light adds by bounces is spread evenly over a surface, so that its mean is the solved one. Nothing
shades a lamp here but the walls of its room. The colour shown is that of the mean; the eye evens
light out, and a screen cannot show its range, so the ratio is drawn with the exponent of sRGB,
from DARKEST to full (our choice).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import pi

import numpy as np
from numpy.typing import NDArray

from housemap.light.room_scene import lamp_place_m
from housemap.model.geometry import wall_of
from housemap.model.house import Lamp, Room
from housemap.plan.elevations import Elevations
from housemap.plan.floor_plan import outward
from housemap.plan.raster import Face, View
from housemap.plan.view import Camera, Sightlines
from housemap.study.seen import LitRoom

Floats = NDArray[np.float64]
PEAK = 1.4
"""So many times the mean light of its surface is drawn as bright as can be."""
DARKEST, KNEE = 0.6, 8
"""No darker than this, and how sharply light levels off toward full."""
ENCODING = 1 / 2.2
NEAREST_M = 0.25
"""Nearer to a lamp than this it is no lighter: a lamp is no point."""
LEVELS: Mapping[str, tuple[float, float, float]] = {"floor": (0, 0, 1), "ceiling": (0, 0, -1)}


def with_lamplight(
    lit: Mapping[str, LitRoom], elevations: Elevations, camera: Camera, view: View
) -> View:
    """The view with the shade of its pixels as the lamps make it; of lit rooms alone."""
    lamplight = _Lamplight(lit, elevations, Sightlines.of(elevations, camera, view), view.faces)
    pixel = np.arange(view.face.size)
    factor = lamplight.factors(view.face.ravel(), pixel, view.depth_m.ravel())
    edges = view.edges
    if edges is not None:
        there = lamplight.factors(edges.face, edges.pixel, edges.depth_m)
        edges = replace(edges, shade=edges.shade * there)
    return replace(view, shade=view.shade * factor.reshape(view.shade.shape), edges=edges)


@dataclass(frozen=True, slots=True)
class _Lamplight:
    lit: Mapping[str, LitRoom]
    elevations: Elevations
    sight: Sightlines
    faces: tuple[Face, ...]

    def factors(
        self, face: NDArray[np.int16], pixel: NDArray[np.intp], depth_m: NDArray[np.float32]
    ) -> NDArray[np.float32]:
        """A factor for each pixel: 1 where no lamp is known to shine."""
        factor = np.ones(len(face), dtype=np.float32)
        order = np.argsort(face, kind="stable")
        ends = np.searchsorted(face[order], np.arange(len(self.faces) + 1))
        for number, each in enumerate(self.faces):
            which = order[ends[number] : ends[number + 1]]
            if len(which):
                at_m = self.sight.points(pixel[which], depth_m[which].astype(np.float64))
                factor[which] = self._on(each, at_m)
        return factor

    def _on(self, face: Face, at_m: Floats) -> Floats | float:
        room = self.elevations.house.rooms[face.room]
        light = self.lit[face.room].light.lights.get("evening") if face.room in self.lit else None
        normal, surface = _normal(room, face), face.wall or face.surface
        if light is None or normal is None or surface not in light.surfaces or not room.height_m:
            return 1.0
        total = light.total_lux(surface)
        if total <= 0:
            return 1.0
        own_m = at_m - [*self.elevations.plan.rooms[face.room].at_m, 0.0]
        own = sum(_lux(room, lamp, normal, own_m) for lamp in room.lamps.values())
        ratio = (own + max(total - light.direct_lux(surface), 0.0)) / total
        bright = (ratio / PEAK) ** ENCODING
        return np.maximum(bright / (1 + bright**KNEE) ** (1 / KNEE), DARKEST)


def _normal(room: Room, face: Face) -> Floats | None:
    """Into the room; None for what stands in it."""
    if face.wall is None:
        return np.array(LEVELS[face.surface], dtype=np.float64) if face.surface in LEVELS else None
    wall = wall_of(room, face.wall)
    if wall is None:
        return None
    x, y = outward(wall)
    return np.array([-x, -y, 0.0])


def _lux(room: Room, lamp: Lamp, normal: Floats, at_m: Floats) -> Floats:
    """What a lamp gives points of a surface by itself."""
    to_lamp = np.array(lamp_place_m(room, lamp)) - at_m
    distance = np.maximum(np.linalg.norm(to_lamp, axis=-1), NEAREST_M)
    way = to_lamp / distance[:, None]
    intensity = np.full(len(at_m), lamp.lumens / (4 * pi))
    if lamp.aim != "all":
        down = way[:, 2] if lamp.aim == "down" else -way[:, 2]
        intensity = lamp.lumens / pi * np.maximum(down, 0.0)
    return np.asarray(intensity * np.maximum(way @ normal, 0.0) / distance**2)
