"""Many symmetric systems that share one matrix up to scaling, solved side by side."""

import numpy as np

from housemap.colorimetry.arrays import Floats

TOLERANCE = 3e-4
"""Of the residual against the right side, in the energy norm."""
ROUNDS = 200
"""More than any room needs; the mean reflectance is below 1."""


def conjugate_gradients(exchange: Floats, root: Floats, wanted: Floats) -> Floats:
    """Solve (1 - r S r) z = wanted, every column on its own (Hestenes & Stiefel 1952).

    S (K, K) is symmetric; `root` and `wanted` are (K, columns). Few of the eigenvalues of the
    matrix differ from 1 (light evens out within some bounces), so that few rounds are needed.
    """
    z, enough = wanted, TOLERANCE**2 * _squares(wanted)
    rest = root * (exchange @ (root * z))
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
