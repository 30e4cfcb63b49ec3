"""Patches merged into blocks: a coarser mesh with exact exchange, for quick solutions."""

from dataclasses import dataclass

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.enclosure import Mesh
from housemap.light.factors import Ints

BLOCKS = 80
"""About as many as a room is merged into."""


@dataclass(frozen=True, slots=True, eq=False)
class Blocks:
    """`mesh` has one patch for each block; `of` says which block each of N patches is in."""

    mesh: Mesh
    of: Ints

    def means(self, patches: Floats, area_m2: Floats) -> Floats:
        """Area means over each block: (N, columns) to (blocks, columns)."""
        weighted = area_m2[:, None] * patches
        sums = np.zeros((len(self.mesh.area_m2), patches.shape[1]))
        np.add.at(sums, self.of, weighted)
        return sums / self.mesh.area_m2[:, None]


def merged(mesh: Mesh) -> Blocks:
    """Merge the patches of each surface that lie together."""
    low, high = mesh.centre_m.min(0), mesh.centre_m.max(0)
    edge = np.sqrt(mesh.area_m2.sum() / BLOCKS)
    number = np.maximum(np.rint((high - low) / edge), 2.0)
    place = np.floor((mesh.centre_m - low) / (high - low) * number).clip(0, number - 1)
    keys = np.column_stack([mesh.surface, place])
    _, of = np.unique(keys, axis=0, return_inverse=True)
    of = of.reshape(-1)
    order = np.argsort(of, kind="stable")
    starts = np.searchsorted(of[order], np.arange(of.max() + 1))
    rows = np.add.reduceat(mesh.exchange_m2[order], starts, axis=0)
    return Blocks(
        Mesh(
            surfaces=mesh.surfaces,
            surface=mesh.surface[order][starts],
            area_m2=np.bincount(of, mesh.area_m2).astype(np.float64),
            centre_m=mesh.centre_m[order][starts],
            exchange_m2=np.add.reduceat(rows[:, order], starts, axis=1),
        ),
        of,
    )
