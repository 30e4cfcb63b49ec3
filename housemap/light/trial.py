"""Many paints tried on one surface of a room: what each would look like there, bounces included.

At one band the light on a surface depends on nothing but the painted surface's reflectance there,
so the room is solved once with greys and every paint is read off the curves. The bounces between
the painted surface and the rest are a geometric series: E (1 - c rho) is nearly straight in the
reflectance rho, with one c, the share that comes back to the surface, for all surfaces of a room.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from functools import cached_property
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import appearance
from housemap.colorimetry.arrays import Floats
from housemap.light import sources
from housemap.light.as_seen import Eye, eye_white
from housemap.light.daylight import MedianDaylight
from housemap.light.house_light import HouseLight
from housemap.light.scene import Column, LightName, Scene
from housemap.light.surface_light import LUX, WALLS, as_discounted, lit_as, lit_surfaces
from housemap.model.frozen import frozen

GREYS = np.array([0.04, 0.4, 0.88])
"""Reflectances that the room is solved for. What is read off the parabola through them differs by
at most 0.03 CAM16-UCS units from the room solved with the paint, in the rooms of the tests."""


class Tried(NamedTuple):
    """Of n paints under one light; arrays (n, 3), and lux on the walls (n,)."""

    xyz100: Floats
    """As in `Lit.reflected_xyz100`."""
    jmh: Floats
    ucs: Floats
    wall_lux: Floats
    eye: Eye
    """Adapted to the light that each of the paints leaves in the room."""

    def on_screen(self) -> Floats:
        """XYZ100 (D65, 2 degrees) that look on the screen as the paints do in the room, (n, 3)."""
        return self.eye.on_screen(self.xyz100)


class Curves(NamedTuple):
    """One light of a room, for any paint on the surface: lux as in the head of this module."""

    surfaces: tuple[str, ...]
    """As in `Lit`."""
    coefficients: Floats
    """Of lux x (1 - back x reflectance): (degree + 1, surfaces, beams, 41), the constant first."""
    back: Floats
    """The share of what the painted surface sends that comes back to it: (41,)."""
    weights: Floats
    """Of each beam, as in `sources.band_weights`: (beams, 41, 4)."""
    source: Floats
    """Of all lumens that come in, (4,)."""

    def under(self, reflectance: Floats) -> "Repainted":
        """The light with each of the paints, (n, 41), on the surface."""
        return Repainted(self, reflectance)


@frozen(eq=False)
class Repainted:
    """One light of a room with each of n paints on one surface; as `Lit`, n times."""

    curves: Curves
    reflectance: Floats
    known: dict[str, Sequence[Floats]] = field(default_factory=dict)
    """The lux of each beam on surfaces that were asked for."""

    def sent_xyz100(self, surface: str, reflectance: Floats) -> Floats:
        """As `Lit.reflected_xyz100`: of one colour (41,), or of one with each paint (n, 41)."""
        sent = np.zeros((len(self.reflectance), 3))
        white = np.zeros((len(self.reflectance), 3))
        for lux, weights in self._beams(surface):
            if reflectance.ndim == 1:
                sent += lux @ (reflectance[:, np.newaxis] * weights[:, :3])
            else:
                sent += (lux * reflectance) @ weights[:, :3]
            white += lux @ weights[:, :3]
        return as_discounted(sent, white, self.curves.source)

    @cached_property
    def wall_lux(self) -> Floats:
        """Mean over all walls: (n,)."""
        each = (lux @ weights[:, LUX] for lux, weights in self._beams(WALLS))
        return np.asarray(sum(each))

    @property
    def eye(self) -> Eye:
        level = appearance.adapting_luminance(self.wall_lux)
        return Eye(eye_white(self.curves.source), level)

    def _beams(self, surface: str) -> "zip[tuple[Floats, Floats]]":
        """Of each beam the lux in each band, (n, 41), and the band's weights, (41, 4)."""
        if surface not in self.known:
            at = self.curves.surfaces.index(surface)
            coefficients = self.curves.coefficients[:, at].swapaxes(0, 1)
            bounces = 1.0 / (1.0 - self.curves.back * self.reflectance)
            self.known[surface] = [_at(each, self.reflectance) * bounces for each in coefficients]
        return zip(self.known[surface], self.curves.weights, strict=True)


class Response(NamedTuple):
    """How a room answers to what is painted on one surface."""

    lit_as: str
    """The surface whose light falls on the paint."""
    curves: Mapping[LightName, Curves]
    daylight: MedianDaylight | None = None
    """What half of the working plane has with each paint; None where no daylight comes in."""

    def tried(self, reflectance: Floats) -> dict[LightName, Tried]:
        """What paints, (n, 41), look like under each light of the room."""
        found = {}
        for name, curves in self.curves.items():
            light = curves.under(reflectance)
            sent = light.sent_xyz100(self.lit_as, reflectance)
            jmh = appearance.jmh(sent, light.eye.conditions)
            found[name] = Tried(sent, jmh, appearance.ucs(jmh), light.wall_lux, light.eye)
        return found


def response_in(house: HouseLight, room: str, surface: str) -> Response:
    """The response of a measured room of a house, with what the rooms next to it send back.

    `surface` is "walls", "doors", "ceiling", "floor" or a wall's key; "trim" is too little to
    change the light. Trim and doors stand in the light of the walls.
    """
    place, scene = house.place_of(room), house.scenes[room][1]
    # One wall in another paint is an accent wall: the walls' paint is on the others alone.
    scene = scene._replace(plain_walls=scene.plain_walls - {surface})
    light = {name: each.source for name, each in house.rooms[room].lights.items()}
    if place is None or not light:
        return Response(_lit_as(scene, surface), {})
    columns = place.solved.system.columns
    return _response(
        scene, surface, columns, light, lambda painted: place.total(painted, house.outdoor_lux)
    )


def _lit_as(scene: Scene, surface: str) -> str:
    return surface if surface in scene.shape.wall_keys else lit_as(surface)


def _response(
    scene: Scene, surface: str, columns: Sequence[Column], light: Mapping[LightName, Floats],
    total: Callable[[Scene], tuple[Floats, float]],
) -> Response:  # fmt: skip
    """From the light of the room with each grey on the surface: `total` is (rows, columns, 41)."""
    worn = scene.wearing(surface)
    greys = GREYS if worn else GREYS[:1]
    each, medians = zip(*(total(_painted(scene, worn, grey)) for grey in greys), strict=True)
    lux = np.stack(each)
    back = _back(scene, worn, greys, lux)
    polynomials = _through(greys, lux * (1.0 - np.multiply.outer(greys, back))[:, None, None])
    surfaces = lit_surfaces(scene)
    curves = {}
    for name, source in light.items():
        mine = [i for i, (light_name, _) in enumerate(columns) if light_name == name]
        weights = np.stack([sources.band_weights(columns[i][1]) for i in mine])
        curves[name] = Curves(surfaces, polynomials[:, :, mine], back, weights, source)
    daylight = MedianDaylight(np.array(medians), greys) if "day" in light else None
    return Response(_lit_as(scene, surface), curves, daylight)


def _painted(scene: Scene, worn: frozenset[str], reflectance: float) -> Scene:
    mine = np.array([name in worn for name in scene.shape.surfaces])
    return scene._replace(reflectance=np.where(mine[:, None], reflectance, scene.reflectance))


def _back(scene: Scene, worn: frozenset[str], greys: Floats, lux: Floats) -> Floats:
    """From the light on the painted surface at the least and the greatest grey: (41,)."""
    area = scene.mesh.surface_area_m2() * [name in worn for name in scene.shape.surfaces]
    on_paint = np.einsum("s,gsbn->gn", area, lux[:, : len(area)])[[0, -1]]
    change = np.diff(on_paint, axis=0)[0]
    sent = np.diff(greys[[0, -1], None] * on_paint, axis=0)[0]
    return np.asarray(np.divide(change, sent, out=np.zeros_like(change), where=sent > 0.0))


def _through(greys: Floats, values: Floats) -> Floats:
    """Coefficients of polynomials through values at the greys: (greys, ...) to (greys, ...)."""
    powers = np.vander(greys, increasing=True)
    solved = np.linalg.solve(powers, values.reshape(len(greys), -1))
    return np.asarray(solved.reshape(values.shape))


def _at(coefficients: Floats, reflectance: Floats) -> Floats:
    """Horner's rule: (degree + 1, 41) at (n, 41); no light is below none."""
    value = np.broadcast_to(coefficients[-1], reflectance.shape)
    for coefficient in coefficients[-2::-1]:
        value = coefficient + reflectance * value
    return np.asarray(np.maximum(value, 0.0))
