"""A room under one light: lux and colour on every surface, first light and all bounces."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from housemap.colorimetry import appearance
from housemap.colorimetry.arrays import Floats
from housemap.light import sources
from housemap.light.beams import Beam
from housemap.light.radiosity import total_lux
from housemap.light.scene import Scene

LightName = Literal["day", "evening"]
LIGHTS: tuple[LightName, ...] = ("day", "evening")
WALLS, PLAIN_WALLS = "walls", "plain walls"
"""All walls of a room, and those of them that wear the walls' paint: area means."""
LUX = 3
"""The column after X, Y and Z."""


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
    def source_xyz100(self) -> Floats:
        """The white that the eye adapts to: the light as it comes in, Y 100."""
        return np.asarray(self.source[:3] * (100.0 / self.source[1]))

    @property
    def adapting_cd_m2(self) -> float:
        """L_A: a background of Y 20 under the light on the walls (as CIECAM16 takes it)."""
        return appearance.adapting_luminance(self.total_lux(WALLS))

    def reflected_xyz100(self, surface: str, reflectance: Floats) -> Floats:
        """What a surface sends to the eye, all bounces in its tint: (..., 41) to (..., 3).

        Y 100 is a perfect diffuser on the walls.
        """
        weights = self.bands[self._at(surface), :, :3]
        return np.asarray(reflectance @ weights * (100.0 / self.total(WALLS)[1]))

    def _at(self, surface: str) -> int:
        return self.surfaces.index(surface)


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
    bands = scene.reflectance.shape[1]
    reflectance = np.tile(scene.reflectance, len(beams))
    total = total_lux(scene.mesh, reflectance, np.repeat(first, bands, axis=1))
    means = _mean_rows(scene)
    spectral = (means @ total).reshape(len(means), len(beams), bands)
    received = _received(scene, means, reflectance[scene.mesh.surface] * total, len(beams))
    shares = {"day": slice(0, len(scene.day)), "evening": slice(len(scene.day), len(beams))}
    return {
        light: _lit(
            scene, beams[part], means @ first[:, part], spectral[:, part], received[:, :, part]
        )
        for light in LIGHTS
        if beams[(part := shares[light])]
    }


def _lit(
    scene: Scene, beams: tuple[Beam, ...], first: Floats, spectral: Floats, received: Floats
) -> Lit:
    """Fold spectra into what was computed for each beam at every band."""
    weights = np.stack([sources.band_weights(beam.spectrum) for beam in beams])
    whites = weights.sum(1)
    return Lit(
        surfaces=(*scene.mesh.surfaces, WALLS, PLAIN_WALLS),
        source=np.array([beam.lumens for beam in beams]) @ whites,
        bands=np.einsum("sgb,gbc->sbc", spectral, weights),
        direct=first @ whites,
        received=np.einsum("tsgb,gbc->tsc", received, weights),
    )


def _mean_rows(scene: Scene) -> Floats:
    """Area means of each surface, of all walls and of the plain walls: (surfaces + 2, N)."""
    mesh, names = scene.mesh, scene.mesh.surfaces
    means, areas = mesh.mean_matrix(), mesh.surface_area_m2()
    # Where every wall is an accent, all walls stand for the plain ones.
    groups = (scene.shape.wall_keys, scene.plain_walls or scene.shape.wall_keys)
    weights = np.array(
        [[a * (n in keys) for n, a in zip(names, areas, strict=True)] for keys in groups]
    )
    return np.vstack([means, weights @ means / weights.sum(1, keepdims=True)])


def _received(scene: Scene, means: Floats, exitance: Floats, beams: int) -> Floats:
    """Mean light on each row's surface from each surface: (rows, surfaces, beams, bands)."""
    mesh = scene.mesh
    gather = means @ (mesh.exchange_m2 / mesh.area_m2[:, None])
    parts = [
        gather[:, mine] @ exitance[mine]
        for mine in (mesh.surface == i for i in range(len(mesh.surfaces)))
    ]
    return np.stack(parts, axis=1).reshape(len(means), len(mesh.surfaces), beams, -1)
