"""Many paints tried on one surface of a room: what each would look like there, bounces included.

At one band the light on a surface depends on nothing but the surface's own reflectance there, so
the room is solved once with greys and every paint is read off the curves: 1 / E is nearly straight
in the reflectance, as the bounces between a surface and the rest are a geometric series.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np

from housemap.colorimetry import appearance
from housemap.colorimetry.arrays import Floats
from housemap.light import geometry, sources
from housemap.light.beams import Beam
from housemap.light.enclosure import CEILING, FLOOR
from housemap.light.factors import Ints
from housemap.light.inputs import RoomInputs
from housemap.light.lit import DARK_LUX, LUX, PLAIN_WALLS, WALLS, rows_of, source_light
from housemap.light.scene import LIGHTS, LightName, Scene, scene_of
from housemap.light.seen import Eye, Triple, eye_white
from housemap.light.sky import OUTDOOR_LUX
from housemap.light.spectral import band_light

GREYS = np.array([0.02, 0.25, 0.6, 0.93])
"""Reflectances that the room is solved for; the cubic through them is within 1e-4 in between."""
LEVELS = 20
"""Paints that leave about the same light on the walls share one adaptation, in so many groups."""


@dataclass(frozen=True, slots=True, eq=False)
class Tried:
    """Of n paints under one light; arrays (n, 3), and lux on the walls (n,)."""

    xyz100: Floats
    """As in `Lit.reflected_xyz100`."""
    jmh: Floats
    ucs: Floats
    wall_lux: Floats
    white: Triple
    """Of the eye, which adapts to the light as it comes in."""

    def on_screen(self) -> Floats:
        """XYZ100 (D65, 2 degrees) that look on the screen as the paints do in the room, (n, 3)."""
        screen = np.empty_like(self.xyz100)
        for alike, eye in _eyes(self.white, self.wall_lux):
            screen[alike] = eye.on_screen(self.xyz100[alike])
        return screen


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """Light on the surface and on all walls, for one beam: 1 / lux as a cubic in reflectance.

    `on_surface` and `on_walls` are (4, 41), the constant first.
    """

    weights: Floats
    """(41, 4), as in `sources.band_weights`."""
    on_surface: Floats
    on_walls: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Response:
    """How a room answers to what is painted on one surface."""

    curves: dict[LightName, tuple[Curve, ...]]
    whites: dict[LightName, Triple]

    def tried(self, reflectance: Floats) -> dict[LightName, Tried]:
        """What paints, (n, 41), look like under each light of the room."""
        return {name: self._tried(name, reflectance) for name in self.curves}

    def _tried(self, name: LightName, reflectance: Floats) -> Tried:
        sent, white = np.zeros((len(reflectance), 3)), np.zeros(len(reflectance))
        wall_lux = np.zeros(len(reflectance))
        for curve in self.curves[name]:
            same = curve.on_surface is curve.on_walls
            light = _lux(curve.on_surface, reflectance)
            walls = light if same else _lux(curve.on_walls, reflectance)
            sent += (light * reflectance) @ curve.weights[:, :3]
            white += light @ curve.weights[:, 1]
            wall_lux += walls @ curve.weights[:, LUX]
        xyz100 = sent * (100.0 / np.maximum(white, DARK_LUX))[:, None]
        eyes, jmh = _eyes(self.whites[name], wall_lux), np.empty_like(xyz100)
        for alike, eye in eyes:
            jmh[alike] = appearance.jmh(xyz100[alike], eye.conditions)
        return Tried(xyz100, jmh, appearance.ucs(jmh), wall_lux, self.whites[name])


def response_of(inputs: RoomInputs, surface: str, outdoor_lux: float = OUTDOOR_LUX) -> Response:
    """The response of a room for which `why_not` has no reason.

    `surface` is "walls", "ceiling", "floor" or a wall's key; on anything else ("trim", "doors")
    paint is too little to change the light, and stands in that of the walls.
    """
    scene = scene_of(inputs, outdoor_lux)
    by_light = {name: beams for name in LIGHTS if (beams := scene.beams(name))}
    curves: dict[LightName, tuple[Curve, ...]] = {}
    if by_light:
        every = iter(_curves(scene, surface, [b for beams in by_light.values() for b in beams]))
        curves = {name: tuple(islice(every, len(beams))) for name, beams in by_light.items()}
    return Response(curves, {name: eye_white(source_light(b)) for name, b in by_light.items()})


def _curves(scene: Scene, surface: str, beams: Sequence[Beam]) -> Iterator[Curve]:
    lit_as, painted = _where(scene, surface)
    first = np.stack([beam.first_lux for beam in beams], axis=-1)
    rows, blocks = rows_of(scene), geometry.blocks(scene.shape)
    total = np.stack([
        band_light(scene.mesh, blocks, rows, _painted(scene, painted, grey), first).total
        for grey in GREYS
    ])  # fmt: skip
    names = (*scene.mesh.surfaces, WALLS, PLAIN_WALLS)
    on, walls = names.index(lit_as), names.index(WALLS)
    same = np.array_equal(rows.member[on], rows.member[walls])
    for i, beam in enumerate(beams):
        on_surface = _cubic(total[:, on, i])
        on_walls = on_surface if same else _cubic(total[:, walls, i])
        yield Curve(sources.band_weights(beam.spectrum), on_surface, on_walls)


def _where(scene: Scene, surface: str) -> tuple[str, frozenset[str]]:
    """Whose light falls on the surface, and which surfaces of the mesh it paints."""
    if surface == "walls":
        return PLAIN_WALLS, scene.plain_walls
    if surface in {CEILING, FLOOR, *scene.shape.wall_keys}:
        return surface, frozenset({surface})
    return WALLS, frozenset()


def _painted(scene: Scene, painted: frozenset[str], reflectance: float) -> Floats:
    mine = np.array([name in painted for name in scene.mesh.surfaces])
    return np.where(mine[:, None], reflectance, scene.reflectance)


def _cubic(lux: Floats) -> Floats:
    """Coefficients of 1 / lux through GREYS: (greys, 41) to (4, 41)."""
    inverse = 1.0 / np.maximum(lux, DARK_LUX)
    return np.asarray(np.linalg.solve(np.vander(GREYS, increasing=True), inverse))


def _lux(cubic: Floats, reflectance: Floats) -> Floats:
    c0, c1, c2, c3 = cubic
    return np.asarray(1.0 / (c0 + reflectance * (c1 + reflectance * (c2 + reflectance * c3))))


def _eyes(white: Triple, wall_lux: Floats) -> Iterator[tuple[Ints, Eye]]:
    """Eyes adapted to the light that the paints leave in the room, each with its paints."""
    for alike in np.array_split(np.argsort(wall_lux), min(LEVELS, max(len(wall_lux), 1))):
        if len(alike):
            level = appearance.adapting_luminance(float(wall_lux[alike].mean()))
            yield alike, Eye(white, level)
