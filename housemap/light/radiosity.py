"""All bounces at once: the radiosity equation for many bands in one batch."""

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.enclosure import Mesh

TOLERANCE = 1e-4
"""Of the residual against the first light, in the energy norm; surface means are then within 2e-5
of the exact solution."""
ROUNDS = 200
"""More than any room needs; the mean reflectance is below 1."""
BRIGHTEST = 0.99
"""A surface that reflects everything would never lose its light."""


def total_lux(mesh: Mesh, reflectance: Floats, first_lux: Floats) -> Floats:
    """Irradiance of every patch after all bounces: E = E0 + F rho E.

    `reflectance` (surfaces, columns) and `first_lux` (N, columns) give (N, columns). The equation
    made symmetric by reciprocity is positive definite, and few of its eigenvalues differ from 1
    (light evens out within some bounces), so that conjugate gradients (Hestenes & Stiefel 1952)
    need a quarter of the products of bounce by bounce.
    """
    root_area = np.sqrt(mesh.area_m2)[:, None]
    exchange = mesh.exchange_m2 / (root_area * root_area.T)
    root_rho = np.sqrt(np.clip(reflectance, 0.0, BRIGHTEST))[mesh.surface]
    wanted = root_rho * root_area * first_lux
    solution = wanted + root_rho * (exchange @ (root_rho * wanted))
    solution = _refined(exchange, root_rho, wanted, solution)
    total: Floats = first_lux + exchange @ (root_rho * solution) / root_area
    return total


def _refined(exchange: Floats, root_rho: Floats, wanted: Floats, start: Floats) -> Floats:
    """Solve (1 - r X r) z = wanted by conjugate gradients, every column on its own."""
    z = start
    rest = wanted - z + root_rho * (exchange @ (root_rho * z))
    step, left = rest, _squares(rest)
    enough = TOLERANCE**2 * _squares(wanted)
    for _ in range(ROUNDS):
        if np.all(left <= enough):
            break
        image = step - root_rho * (exchange @ (root_rho * step))
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
