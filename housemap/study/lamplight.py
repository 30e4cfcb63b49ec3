"""Pools of light in the evening: each surface is lighter near its room's lamps, darker elsewhere.

The lamps' own light on a point follows the inverse square and cosine laws, with the distributions
that the light of rooms is computed with (all round, or Lambertian down or up). What the solved
light adds by bounces is spread evenly over a surface, so that its mean is the solved one. Nothing
shades a lamp here but the walls of its room. The colour shown is that of the mean; the eye evens
light out, and a screen cannot show its range, so the root of the ratio is drawn, levelling
off from DARKEST to full (our choice).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import pi

import numpy as np
from numpy.typing import NDArray

from housemap.light.scene import lamp_place_m
from housemap.model.geometry import outward, wall_of
from housemap.model.house import Lamp, Room
from housemap.plan.elevations import Elevations
from housemap.plan.raster import Face, View
from housemap.plan.view import Camera, Sightlines
from housemap.study.seen import LitRoom

Floats = NDArray[np.float32]
PEAK = 1.4
"""So many times the mean light of its surface is drawn as bright as can be."""
DARKEST = 0.6
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
                at_m = self.sight.points(pixel[which], depth_m[which])
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
        west, south = self.elevations.plan.rooms[face.room].at_m
        own_m = at_m - np.array([[west], [south], [0.0]], dtype=at_m.dtype)
        bounced = max(total - light.direct_lux(surface), 0.0)
        lux = np.full(at_m.shape[1], bounced, dtype=at_m.dtype)
        for lamp in room.lamps.values():
            lux += lamp_lux(room, lamp, normal, own_m)
        squared = lux / (total * PEAK)
        bright = np.sqrt(squared / np.sqrt(np.sqrt(1 + squared**4)))
        return np.asarray(np.maximum(bright, DARKEST))


def _normal(room: Room, face: Face) -> tuple[float, float, float] | None:
    """Into the room; None for what stands in it."""
    if face.wall is None:
        return LEVELS.get(face.surface)
    wall = wall_of(room, face.wall)
    if wall is None:
        return None
    x, y = outward(wall)
    return -x, -y, 0.0


def lamp_lux(room: Room, lamp: Lamp, normal: tuple[float, float, float], at_m: Floats) -> Floats:
    """What a lamp gives points (3, n) of a surface by itself; in the room's own coordinates."""
    x, y, z = (
        float(place) - each for place, each in zip(lamp_place_m(room, lamp), at_m, strict=True)
    )
    toward = np.maximum(normal[0] * x + normal[1] * y + normal[2] * z, 0.0)
    square = np.maximum(x * x + y * y + z * z, NEAREST_M**2)
    if lamp.aim == "all":
        return np.asarray(lamp.lumens / (4 * pi) * toward / (square * np.sqrt(square)))
    down = np.maximum(z if lamp.aim == "down" else -z, 0.0)
    return np.asarray(lamp.lumens / pi * down * toward / (square * square))
