"""All bounces at once: the radiosity equation for every band, by patches and by a small model.

The small model (modes) takes the light on each surface as even, or as each of the other surfaces
would cast it there if it were even itself: some thirty modes do for a room. It is coarse, but what
it is wrong by hardly depends on the reflectances: the ratio of the reflected light by patches to
that by modes is computed at NODES and interpolated. With steep spectra the result is within 0.3 %
of patches at every band, mostly within 0.02 %.
"""

from functools import cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats, Singles
from housemap.light.mesh import Mesh
from housemap.light.view_factors import Ints


def single(values: Floats) -> Singles:
    return values.astype(np.float32)


LEAST = 0.01
"""A mode is kept where the view factors it stands for vary by this much over its surface."""

BRIGHTEST = 0.99
"""A surface that reflects everything would never lose its light."""


class Modes(NamedTuple):
    """K even or varying distributions of light, each on one surface; orthonormal by area."""

    surface: Ints
    """Of each mode, (K,), rising; the first of a surface is even light."""
    on_patches: Singles
    """(K, N)."""
    gather: Singles
    """(K, N): the shares that light from each patch adds elsewhere, by its lux reflected."""
    exchange: Floats
    """(K, K): the same for light that lies as a mode; symmetric."""
    seen: Singles
    """View factors from each patch to each surface: (surfaces, N)."""

    @property
    def starts(self) -> Ints:
        """The first mode of each surface."""
        return np.flatnonzero(np.diff(self.surface, prepend=-1))

    def lux(self, shares: Floats) -> Floats:
        """On each patch, of shares of the modes: (K, columns) to (N, columns)."""
        return np.asarray(self.on_patches.T @ single(shares), np.float64)

    def once(self, mesh: Mesh, reflectance: Floats, lux: Floats) -> Floats:
        """Of light on patches, (N, columns), what its first bounce adds: (K, columns)."""
        return np.asarray(self.gather @ single(reflectance[mesh.surface] * lux), np.float64)

    def bounced(self, reflectance: Floats, once: Floats) -> Floats:
        """All bounces, of which `once` is the first: (K, columns) to the same.

        `reflectance` is (surfaces, n); the columns are n for each beam.
        """
        sent = np.clip(reflectance, 0.0, BRIGHTEST)[self.surface].T
        kept = np.eye(len(self.exchange)) - self.exchange * sent[:, None]
        each = once.reshape(len(once), -1, len(sent)).transpose(2, 0, 1)
        return np.asarray(np.linalg.solve(kept, each).transpose(1, 2, 0).reshape(once.shape))


def modes_of(mesh: Mesh, holes_from: int | None = None) -> Modes:
    """Windows and openings, from `holes_from` on, have one each: they send back little."""
    member = np.equal(np.arange(len(mesh.surfaces))[:, None], mesh.surface[None, :])
    seen = member.astype(np.float32) @ mesh.exchange_m2 / mesh.area_m2
    each = []
    for number in range(len(mesh.surfaces)):
        mine = np.flatnonzero(mesh.surface == number)
        ways = seen[:, mine] if number < (holes_from or len(mesh.surfaces)) else seen[:0, mine]
        each.append((mine, _modes(mesh.area_m2[mine], ways)))
    surface = np.repeat(np.arange(len(each)), [len(modes) for _, modes in each])
    on_patches = np.zeros((len(surface), len(mesh.area_m2)))
    start = 0
    for mine, modes in each:
        on_patches[start : start + len(modes), mine] = modes
        start += len(modes)
    gather = single(on_patches) @ mesh.exchange_m2
    return Modes(surface, single(on_patches), gather, gather @ on_patches.T, single(seen))


def _modes(area_m2: Floats, seen: Floats) -> Floats:
    """(surfaces, n) to (modes, n): even light, then the principal ways of varying."""
    if not len(area_m2):  # a window behind another
        return np.ones((1, 0))
    whole = area_m2.sum()
    varying = seen - (seen @ area_m2 / whole)[:, None]
    squares, turn = np.linalg.eigh(varying * area_m2 @ varying.T)
    kept = squares > LEAST**2 * whole
    ways = (turn[:, kept] / np.sqrt(squares[kept])).T @ varying
    return np.concatenate([np.full((1, len(area_m2)), whole**-0.5), ways])


def cycled(mesh: Mesh, modes: Modes, lit: tuple[Floats, Floats], lux: Floats) -> Floats:
    """Irradiance of every patch after all bounces, E = E0 + F rho E, nearer than `lux` is.

    `lit` are reflectance (surfaces, n) and first light (N, beams x n), as `lux`. A two-grid cycle
    (Brandt 1977): one bounce by patches, then what that leaves, by the modes, over all bounces.
    From what the modes say, surface means are then within 5e-4 of the exact solution, single
    patches in corners, of which nothing is made, within a tenth. No bounce takes light away, which
    modes do not know.
    """
    reflectance, first_lux = lit
    columns = np.tile(reflectance, lux.shape[1] // reflectance.shape[1])
    sent = single(columns[mesh.surface] * lux)
    bounced = first_lux + mesh.exchange_m2 @ sent / mesh.area_m2[:, None]
    left = modes.bounced(reflectance, modes.once(mesh, columns, bounced - lux))
    return np.maximum(bounced + modes.lux(left), first_lux)


NODES = np.array([2, 10, 17, 25, 32])
"""Bands that patches are solved at: 400, 480, 550, 630 and 700 nm."""
MOST = 10.0
"""More than this the model is wrong by only where hardly any light comes."""


class Rows(NamedTuple):
    """Groups of surfaces to average over: `member` (rows, surfaces) is 1 or 0."""

    member: Floats

    def means(self, mesh: Mesh) -> Floats:
        """Area means over each row's surfaces of a patch quantity: (rows, N)."""
        areas = self.member[:, mesh.surface] * mesh.area_m2
        total = areas.sum(1, keepdims=True)
        return np.asarray(areas / np.where(total > 0.0, total, 1.0))


class BandLight(NamedTuple):
    """Area means on each row for each beam."""

    direct: Floats
    """That no surface and no lining has reflected: (rows, beams)."""
    total: Floats
    """(rows, beams, bands)."""
    correction: Floats
    """What patches say over what modes say of reflected light: (rows, beams, bands)."""
    received: Floats
    """(rows, surfaces, beams, bands): reflected from each surface."""


class FirstLight(NamedTuple):
    """What beams bring before the first bounce, whatever the paints."""

    lux: Floats
    """On each patch: (N, beams)."""
    straight: Floats
    """Of that, what linings of openings did not reflect: (N, beams)."""
    bounced: Floats
    """Shares of the modes that each surface would add by its first bounce, were it white:
    (K, surfaces, beams)."""


class Bounced(NamedTuple):
    """Reflected light of a room by the modes, and of that what comes in through openings."""

    later: Floats
    """All of it, as shares of the modes: (K, beams, bands)."""
    coming: Floats
    """Of that, what comes in as it does: (K, beams, bands)."""
    correction: Floats | None = None
    """As in `BandLight`, where it is known: it hardly depends on what comes in."""


def band_light(
    mesh: Mesh, modes: Modes, rows: Rows, lit: tuple[Floats, FirstLight], bounced: Bounced
) -> BandLight:
    """`lit`: reflectance (surfaces, bands), and what beams bring first."""
    reflectance, first = lit
    means = rows.means(mesh)
    first_lux = means @ first.lux
    by_modes = np.asarray(means @ modes.on_patches.T)
    received = _received(modes, by_modes, reflectance, first.bounced, bounced.later)
    coarser = received.sum(1) + np.tensordot(by_modes, bounced.coming, 1)
    correction = bounced.correction
    if correction is None:
        at_nodes = _at_nodes(mesh, modes, (reflectance, first.lux), bounced)
        finer = np.tensordot(means, at_nodes, 1) - first_lux[..., None]
        at = coarser[..., NODES]
        ratio = np.divide(finer, at, out=np.ones_like(finer), where=at > 0.0).clip(0.0, MOST)
        correction = ratio @ _from_nodes()
    total = first_lux[..., None] + coarser * correction
    return BandLight(means @ first.straight, total, correction, received * correction[:, None])


def first_light(
    mesh: Mesh, modes: Modes, lux: Floats, straight: Floats | None = None
) -> FirstLight:
    """First light of so much on each patch, (N, beams); all of it straight unless given."""
    came = lux if straight is None else straight
    return FirstLight(lux, came, from_surfaces(mesh, modes.gather, lux))


def from_surfaces(mesh: Mesh, matrix: Singles, lux: Floats) -> Floats:
    """A matrix (rows, N) times light on patches (N, beams), by surface: (rows, surfaces, beams)."""
    apart = np.zeros((len(lux), len(mesh.surfaces), lux.shape[1]), np.float32)
    apart[np.arange(len(lux)), mesh.surface] = lux
    made = matrix @ apart.reshape(len(lux), -1)
    return np.asarray(made.reshape(len(matrix), *apart.shape[1:]), np.float64)


def _at_nodes(mesh: Mesh, modes: Modes, lit: tuple[Floats, Floats], bounced: Bounced) -> Floats:
    """Total illuminance by patches, (N, beams, nodes), begun from what the modes say."""
    reflectance, first_lux = lit
    nodes, (count, beams) = len(NODES), first_lux.shape
    reflected, coming = (
        modes.lux(shares[..., NODES].reshape(len(modes.surface), -1))
        for shares in (bounced.later - bounced.coming, bounced.coming)
    )
    first = np.repeat(first_lux, nodes, axis=1) + coming
    at_nodes = reflectance[:, NODES], first
    return cycled(mesh, modes, at_nodes, first + reflected).reshape(count, beams, nodes)


def _received(
    modes: Modes, means: Floats, reflectance: Floats, from_first: Floats, later: Floats
) -> Floats:
    """Reflected light on each row from each surface: (rows, surfaces, beams, bands).

    `means` (rows, K) are those of the modes. A mode is below zero on a part of its surface, but
    no light is: a small or far surface may come out below nothing, which is none.
    """
    first = np.tensordot(means, from_first, 1)
    weights, flat = means @ modes.exchange, later.reshape(len(later), -1)
    bounds = pairwise([*modes.starts.tolist(), len(later)])
    again = np.stack([weights[:, a:b] @ flat[a:b] for a, b in bounds], axis=1)
    white = first[..., None] + again.reshape(*again.shape[:2], *later.shape[1:])
    return np.asarray(np.maximum(white, 0.0) * reflectance[:, None])


@cache
def _from_nodes() -> Floats:
    """Linear interpolation from NODES to all bands, (nodes, bands)."""
    bands = np.arange(len(spectra.GRID_NM))
    return np.stack([np.interp(bands, NODES, unit) for unit in np.eye(len(NODES))])
