"""Reflectance of a colour that was given without one.

Burns' least-slope method in the hyperbolic tangent (LHTSS; S. A. Burns 2020, Color Res. Appl. 45,
"Numerical methods for smoothest reflectance reconstruction"): R = (tanh z + 1) / 2 with the least
sum of squared slopes of z that gives the colour.
"""

from functools import cache

import numpy as np

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.errors import ColourError

STEPS = 80
LONGEST_STEP = 1.5
GOOD_ENOUGH_XYZ100, STILL_GOOD_XYZ100 = 1e-8, 1e-3


@cache
def _slope_matrix() -> Floats:
    """D with z D z = sum of squared slopes."""
    slopes = np.diff(np.eye(len(spectra.GRID_NM)), axis=0)
    matrix: Floats = 2.0 * slopes.T @ slopes
    return matrix


def recover(xyz100: Floats, observed: str = spectra.REFERENCE) -> Floats:
    """Reflectance within 0..1 that has the XYZ under `observed`: (n, 3) to (n, 41).

    Raises ColourError where no reflectance has it.
    """
    weights = spectra.weights(observed)
    target = np.clip(xyz100, 1e-4 * weights.sum(0), None)
    z, lagrange = np.zeros((len(target), len(weights))), np.zeros((len(target), 3))
    for _ in range(STEPS):
        error, step_z, step_l = _newton(z, lagrange, weights, target)
        if np.abs(error).max() < GOOD_ENOUGH_XYZ100:
            break
        shrink = np.minimum(1.0, LONGEST_STEP / np.abs(step_z).max(-1))[:, None]
        z, lagrange = z - shrink * step_z, lagrange - shrink * step_l
    reflectance = (np.tanh(z) + 1.0) / 2.0
    if np.abs(reflectance @ weights - target).max() > STILL_GOOD_XYZ100:
        raise ColourError("no surface has this colour")
    return reflectance


def _newton(z: Floats, lagrange: Floats, weights: Floats, target: Floats) -> tuple[Floats, ...]:
    tanh = np.tanh(z)
    first, second = (1.0 - tanh**2) / 2.0, -tanh * (1.0 - tanh**2)
    pull = lagrange @ weights.T
    n, bands = z.shape
    system = np.zeros((n, bands + 3, bands + 3))
    system[:, :bands, :bands] = _slope_matrix()
    system[:, range(bands), range(bands)] += second * pull
    system[:, :bands, bands:] = first[..., None] * weights
    system[:, bands:, :bands] = np.swapaxes(system[:, :bands, bands:], 1, 2)
    error = (tanh + 1.0) / 2.0 @ weights - target
    right = np.concatenate([z @ _slope_matrix() + first * pull, error], axis=-1)
    step = np.linalg.solve(system, right[..., None])[..., 0]
    return error, step[:, :bands], step[:, bands:]
