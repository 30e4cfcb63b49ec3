"""All bounces at once: the radiosity equation for many bands in one batch."""

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.enclosure import Mesh

TOLERANCE = 3e-4
"""Of the residual against the first light, in the energy norm; surface means are then within 1e-3
of the exact solution, most of them within 1e-4."""
ROUNDS = 200
"""More than any room needs; the mean reflectance is below 1."""
BRIGHTEST = 0.99
"""A surface that reflects everything would never lose its light."""


def total_lux(
    mesh: Mesh, reflectance: Floats, first_lux: Floats, guess_lux: Floats | None = None
) -> Floats:
    """Irradiance of every patch after all bounces: E = E0 + F rho E.

    `reflectance` (surfaces, columns) and `first_lux` (N, columns) give (N, columns); a guess that
    is near saves rounds. The equation made symmetric by reciprocity is positive definite, and few
    of its eigenvalues differ from 1 (light evens out within some bounces), so that conjugate
    gradients (Hestenes & Stiefel 1952) need a quarter of the products of bounce by bounce.
    """
    area = mesh.area_m2[:, None]
    # In the unknown B A / sqrt(rho A) the matrix is 1 - r S r, symmetric.
    root = root_of(reflectance)[mesh.surface] / np.sqrt(area)
    weight = root * area
    start = first_lux if guess_lux is None else guess_lux
    z = solution(mesh.exchange_m2, root, weight * first_lux, weight * start)
    total: Floats = first_lux + mesh.exchange_m2 @ (root * z) / area
    return total


def root_of(reflectance: Floats) -> Floats:
    return np.sqrt(np.clip(reflectance, 0.0, BRIGHTEST))


def solution(exchange: Floats, root: Floats, wanted: Floats, z: Floats) -> Floats:
    """Solve (1 - r S r) z = wanted from a first guess of z, every column on its own."""
    enough = TOLERANCE**2 * _squares(wanted)
    rest = wanted - z + root * (exchange @ (root * z))
    step, left = rest, _squares(rest)
    for _ in range(ROUNDS):
        if np.all(left <= enough):
            break
        image = step - root * (exchange @ (root * step))
        along = _ratio(left, np.einsum("ij,ij->j", step, image))
        z = z + along * step
        rest = rest - along * image
        left, before = _squares(rest), left
        step = rest + _ratio(left, before) * step
    return z


def _squares(columns: Floats) -> Floats:
    return np.asarray(np.einsum("ij,ij->j", columns, columns))


def _ratio(above: Floats, below: Floats) -> Floats:
    """0 where a column is done and both are 0."""
    return np.divide(above, below, out=np.zeros_like(above), where=below > 0.0)
