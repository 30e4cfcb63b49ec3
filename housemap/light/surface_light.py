"""A room under one light: lux and colour on every surface and on the working plane."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from housemap.colorimetry import appearance
from housemap.colorimetry.arrays import Floats
from housemap.light import shape_cache, sources
from housemap.light.mesh import CEILING, FLOOR, Plane
from housemap.light.radiosity import BandLight, Rows, band_light, total_lux
from housemap.light.room_scene import Beam, LightName, Scene

WALLS, PLAIN_WALLS = "walls", "plain walls"
"""All walls of a room, and those of them that wear the walls' paint: area means."""
LUX = 3
"""The column after X, Y and Z."""
DARK_LUX = 1e-9
"""Less light than this is none."""


@dataclass(frozen=True, slots=True, eq=False)
class Lit:
    """Light on `surfaces` (floor, ceiling, each wall, windows, openings, WALLS, PLAIN_WALLS).

    The last axis of the arrays is X, Y, Z of the 10 degree observer and lux; X, Y, Z are on one
    scale, on which a light of some lux has a Y near that.
    """

    surfaces: tuple[str, ...]
    source: Floats
    """Of all lumens that come in, (4,)."""
    bands: Floats
    """(surfaces, 41, 4): after all bounces, band by band."""
    direct: Floats
    """(surfaces, 4): before the first bounce."""
    received: Floats
    """(surfaces, surfaces, 4): on the first, reflected by the second."""

    def called(self, surfaces: tuple[str, ...]) -> "Lit":
        """The same with other names for the surfaces of the mesh."""
        return replace(self, surfaces=(*surfaces, WALLS, PLAIN_WALLS))

    def total(self, surface: str) -> Floats:
        """X, Y, Z and lux after all bounces."""
        summed: Floats = self.bands[self._at(surface)].sum(0)
        return summed

    def total_lux(self, surface: str) -> float:
        return float(self.total(surface)[LUX])

    def direct_lux(self, surface: str) -> float:
        return float(self.direct[self._at(surface), LUX])

    def gain(self, surface: str) -> float:
        """Total over direct light; infinite where no light comes directly."""
        direct = self.direct_lux(surface)
        return self.total_lux(surface) / direct if direct > 0.0 else np.inf

    def from_surface(self, on: str, by: str) -> Floats:
        """X, Y, Z and lux that one surface has from another."""
        light: Floats = self.received[self._at(on), self._at(by)]
        return light

    @property
    def adapting_cd_m2(self) -> float:
        """L_A: a background of Y 20 under the light on the walls (as CIECAM16 takes it)."""
        return appearance.adapting_luminance(self.total_lux(WALLS))

    def reflected_xyz100(self, surface: str, reflectance: Floats) -> Floats:
        """What a surface sends to the eye, all bounces in its tint: (..., 41) to (..., 3).

        Y 100 is a perfect diffuser on that same surface: a paint looks about as light on a wall in
        shade as on one beside the lamp (lightness constancy; our assumption).
        """
        weights = self.bands[self._at(surface), :, :3]
        brightest = max(float(weights[:, 1].sum()), DARK_LUX)
        return np.asarray(reflectance @ weights * (100.0 / brightest))

    def _at(self, surface: str) -> int:
        return self.surfaces.index(surface)


def lit_as(surface: str) -> str:
    """The surface of `Lit` whose light falls on a coat; of a single wall "accent" and its key.

    What stands in a room, its trim and doors too, is lit as its walls are.
    """
    kind, _, wall = surface.partition(" ")
    own = {"walls": PLAIN_WALLS, "ceiling": CEILING, "floor": FLOOR}
    return wall if kind == "accent" else own.get(kind, WALLS)


def xy(light: Floats) -> tuple[float, float]:
    """Chromaticity of X, Y, Z (and lux), 10 degree observer."""
    x, y, _ = (light[:3] / light[:3].sum()).tolist()
    return x, y


def lit(scene: Scene) -> dict[LightName, Lit]:
    """The scene under each light that it has; both lights in one batch."""
    beams = (*scene.day, *scene.evening)
    if not beams:
        return {}
    first = np.stack([beam.first_lux for beam in beams], axis=-1)
    modes = shape_cache.modes(scene.shape)
    light = band_light(scene.mesh, modes, rows_of(scene), scene.reflectance, first)
    days = len(scene.day)
    parts: dict[LightName, slice] = {"day": slice(0, days), "evening": slice(days, None)}
    return {name: _lit(scene, beams, light, part) for name, part in parts.items() if beams[part]}


def _lit(scene: Scene, beams: tuple[Beam, ...], light: BandLight, part: slice) -> Lit:
    """Fold the spectra of one light's beams into what was computed for each at every band."""
    weights = np.stack([sources.band_weights(beam.spectrum) for beam in beams[part]])
    whites = weights.sum(1)
    return Lit(
        surfaces=(*scene.mesh.surfaces, WALLS, PLAIN_WALLS),
        source=source_light(beams[part]),
        bands=np.einsum("sgb,gbc->sbc", light.total[:, part], weights),
        direct=light.direct[:, part] @ whites,
        received=np.einsum("tsgb,gbc->tsc", light.received[:, :, part], weights),
    )


def source_light(beams: Sequence[Beam]) -> Floats:
    """X, Y, Z and lumens of all that comes in, (4,)."""
    each = [beam.lumens * sources.band_weights(beam.spectrum).sum(0) for beam in beams]
    return np.asarray(np.sum(each, axis=0))


def rows_of(scene: Scene) -> Rows:
    """Each surface, all walls, and the plain walls (all of them where each is an accent)."""
    names = scene.mesh.surfaces
    groups = (scene.shape.wall_keys, scene.plain_walls or scene.shape.wall_keys)
    walls = np.array([[float(name in group) for name in names] for group in groups])
    return Rows(np.vstack([np.eye(len(names)), walls]))


def plane_percents(scene: Scene) -> Floats | None:
    """Daylight factor on each cell of the working plane; None in a room too low for one."""
    plane = shape_cache.working_plane(scene.shape)
    return None if plane is None else 100.0 * _shares(scene, plane)


def _shares(scene: Scene, plane: Plane) -> Floats:
    mesh = scene.mesh
    direct, first = np.zeros(len(plane.area_m2)), np.zeros(len(mesh.area_m2))
    for hole, window in scene.windows.items():
        falls = shape_cache.window_skylight(scene.shape, hole, window.sky_angle_deg)
        direct += window.transmittance * falls.plane
        first += window.transmittance * falls.patches
    modes = shape_cache.modes(scene.shape)
    total = total_lux(mesh, modes, scene.grey[:, None], first[:, None])[:, 0]
    reflected = plane.exchange_m2 @ (scene.grey[mesh.surface] * total) / plane.area_m2
    return np.asarray(direct + reflected)
