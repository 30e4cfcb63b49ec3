"""Light on surfaces at every band: patches at a few bands, blocks of patches at all of them.

Blocks are coarse, but what they are wrong by hardly depends on the reflectances: the ratio of the
reflected light by patches to that by blocks is computed at NODES and interpolated. With
steep spectra the result is within 0.2 % of patches at every band, for a fifth of the work.
"""

from dataclasses import dataclass

import numpy as np

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.light.blocks import Blocks
from housemap.light.enclosure import Mesh
from housemap.light.radiosity import total_lux

NODES = np.arange(2, 33, 5)
"""Bands that patches are solved at: 400(50)700 nm."""


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """Groups of surfaces to average over: `member` (rows, surfaces) is 1 or 0."""

    member: Floats

    def means(self, mesh: Mesh) -> Floats:
        """Area means over each row's surfaces of a patch quantity: (rows, N)."""
        areas = self.member[:, mesh.surface] * mesh.area_m2
        total = areas.sum(1, keepdims=True)
        return np.asarray(areas / np.where(total > 0.0, total, 1.0))


@dataclass(frozen=True, slots=True, eq=False)
class BandLight:
    """Area means on each row for each beam."""

    direct: Floats
    """(rows, beams)."""
    total: Floats
    """(rows, beams, bands)."""
    received: Floats
    """(rows, surfaces, beams, bands): reflected from each surface."""


def band_light(
    mesh: Mesh, blocks: Blocks, rows: Rows, reflectance: Floats, first_lux: Floats
) -> BandLight:
    """Of beams that fall first as `first_lux` (N, beams), with reflectance (surfaces, bands)."""
    means = rows.means(mesh)
    direct = means @ first_lux
    coarse_first = blocks.means(first_lux, mesh.area_m2)
    received = _received(blocks.mesh, rows, reflectance, coarse_first)
    later = received.sum(1)
    at_nodes = _each_band(mesh, reflectance[:, NODES], first_lux)
    finer = np.tensordot(means, at_nodes, 1) - direct[..., None]
    coarser = later[..., NODES]
    ratio = np.divide(finer, coarser, out=np.ones_like(finer), where=coarser > 0.0)
    correction = ratio @ _from_nodes()
    return BandLight(direct, direct[..., None] + later * correction, received * correction[:, None])


def _each_band(mesh: Mesh, reflectance: Floats, first_lux: Floats) -> Floats:
    """Total illuminance (N, beams, bands)."""
    beams, bands = first_lux.shape[1], reflectance.shape[1]
    total = total_lux(mesh, np.tile(reflectance, beams), np.repeat(first_lux, bands, axis=1))
    return total.reshape(len(total), beams, bands)


def _received(mesh: Mesh, rows: Rows, reflectance: Floats, first_lux: Floats) -> Floats:
    """Reflected light on each row from each surface: (rows, surfaces, beams, bands)."""
    total = _each_band(mesh, reflectance, first_lux)
    exitance = total * reflectance[mesh.surface][:, None]
    gather = rows.means(mesh) / mesh.area_m2 @ mesh.exchange_m2
    mine = (mesh.surface == i for i in range(len(mesh.surfaces)))
    return np.stack([np.tensordot(gather[:, m], exitance[m], 1) for m in mine], axis=1)


def _from_nodes() -> Floats:
    """Linear interpolation from NODES to all bands, (nodes, bands)."""
    bands = np.arange(len(spectra.GRID_NM))
    return np.stack([np.interp(bands, NODES, unit) for unit in np.eye(len(NODES))])
