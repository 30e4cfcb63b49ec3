"""A few smooth ways in which light lies on a room's surfaces: a small model of all later bounces.

On each surface light is taken as even, or as each of the other surfaces would cast it there if it
were even itself (its view factors): what bounces leave is near a mix of these. Mixes that hardly
differ from the rest are dropped (principal components), so that some thirty modes do for a room.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.enclosure import Mesh
from housemap.light.factors import Ints
from housemap.light.gradients import conjugate_gradients

LEAST = 0.01
"""A mode is kept where the view factors it stands for vary by this much over its surface."""

BRIGHTEST = 0.99
"""A surface that reflects everything would never lose its light."""


@dataclass(frozen=True, slots=True, eq=False)
class Modes:
    """K distributions of light, each on one surface; orthonormal, weighted by area.

    Light is told by its shares of each mode: on N patches it is `on_patches.T @ shares`.
    """

    surface: Ints
    """Of each mode, (K,), rising; the first of a surface is even light."""
    on_patches: Floats
    """(K, N)."""
    gather: Floats
    """(K, N): the shares that light from each patch adds elsewhere, by its lux reflected."""
    exchange: Floats
    """(K, K): the same for light that lies as a mode; symmetric."""

    @property
    def starts(self) -> Ints:
        """The first mode of each surface."""
        return np.flatnonzero(np.diff(self.surface, prepend=-1))

    def once(self, mesh: Mesh, reflectance: Floats, lux: Floats) -> Floats:
        """Of light on patches, (N, columns), what its first bounce adds: (K, columns)."""
        return np.asarray(self.gather @ (reflectance[mesh.surface] * lux))

    def bounced(self, reflectance: Floats, once: Floats) -> Floats:
        """All bounces, of which `once` is the first: (K, columns) to the same.

        `reflectance` is (surfaces, columns). The equation made symmetric by reciprocity is
        positive definite.
        """
        root = np.sqrt(np.clip(reflectance, 0.0, BRIGHTEST))[self.surface]
        later = root * conjugate_gradients(self.exchange, root, root * once)
        return np.asarray(once + self.exchange @ later)


def modes_of(mesh: Mesh) -> Modes:
    """The modes of every surface of a mesh."""
    member = np.equal(np.arange(len(mesh.surfaces))[:, None], mesh.surface[None, :])
    seen = member.astype(np.float64) @ mesh.exchange_m2 / mesh.area_m2
    each = list(_each_surface(mesh, seen))
    surface = np.repeat(np.arange(len(each)), [len(modes) for _, modes in each])
    on_patches = np.zeros((len(surface), len(mesh.area_m2)))
    start = 0
    for mine, modes in each:
        on_patches[start : start + len(modes), mine] = modes
        start += len(modes)
    gather = on_patches @ mesh.exchange_m2
    return Modes(surface, on_patches, gather, gather @ on_patches.T)


def _each_surface(mesh: Mesh, seen: Floats) -> Iterator[tuple[Ints, Floats]]:
    """The patches of each surface and its modes on them; `seen` are view factors to surfaces."""
    for surface in range(len(mesh.surfaces)):
        mine = np.flatnonzero(mesh.surface == surface)
        covered = not len(mine)  # a window behind another
        yield mine, np.ones((1, 0)) if covered else _modes(mesh.area_m2[mine], seen[:, mine])


def _modes(area_m2: Floats, seen: Floats) -> Floats:
    """(surfaces, n) to (modes, n): even light, then the principal ways of varying."""
    whole = area_m2.sum()
    varying = seen - (seen @ area_m2 / whole)[:, None]
    squares, turn = np.linalg.eigh(varying * area_m2 @ varying.T)
    kept = squares > LEAST**2 * whole
    ways = (turn[:, kept] / np.sqrt(squares[kept])).T @ varying
    return np.concatenate([np.full((1, len(area_m2)), whole**-0.5), ways])
