"""All bounces at once: the radiosity equation for many bands in one batch."""

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light.enclosure import Mesh
from housemap.light.modes import Modes

CYCLES = 2
"""Surface means are then mostly within 2e-4 of the exact solution; single patches in corners, of
which nothing is made, within some percent."""


def total_lux(
    mesh: Mesh,
    modes: Modes,
    reflectance: Floats,
    first_lux: Floats,
    later: Floats | None = None,
) -> Floats:
    """Irradiance of every patch after all bounces: E = E0 + F rho E.

    `reflectance` (surfaces, columns) and `first_lux` (N, columns) give (N, columns); `later`
    (K, columns) are shares of the modes in what bounces, where they are known. A two-grid cycle
    (Brandt 1977): one bounce by patches, then what that leaves, by the modes, over all bounces.
    No bounce takes light away, which the modes do not know.
    """
    if later is None:
        later = modes.bounced(reflectance, modes.once(mesh, reflectance, first_lux))
    area, rho = mesh.area_m2[:, None], reflectance[mesh.surface]
    lux = first_lux + modes.on_patches.T @ later
    for _ in range(CYCLES):
        bounced = first_lux + mesh.exchange_m2 @ (rho * lux) / area
        left = modes.bounced(reflectance, modes.once(mesh, reflectance, bounced - lux))
        lux = np.maximum(bounced + modes.on_patches.T @ left, first_lux)
    return np.asarray(lux)
