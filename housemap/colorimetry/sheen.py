"""What a painted surface shows of its colour, by its sheen.

The face of a paint film reflects some 4 % of the light by itself (Fresnel at right angles, index
1.5). A matt face scatters it, so that a colour is paler by it; a glossy one mirrors what is
opposite, and looks deeper. Colours are measured with that part included or excluded.
"""

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.model.house import Gloss, Sheen

FACE = 0.04
MIRRORED: dict[Sheen, float] = {
    "flat": 0.0, "matt": 0.0, "eggshell": 0.1, "satin": 0.3, "semi-gloss": 0.6, "gloss": 0.9,
}  # fmt: skip
"""The part of it that a face mirrors (our assumption)."""
SIGNS: dict[Gloss | None, float] = {"included": 1.0, "excluded": -1.0, None: 0.0}
"""How a colour was measured, as a number; 0 where that is not known."""


def by_sheen(reflectance: Floats, measured: Floats, sheen: Sheen | None) -> Floats:
    """Reflectance (..., 41) of paints measured so (...) as a wall of that sheen shows them.

    What it mirrors is taken as painted and lit as it is itself (our assumption). Without a sheen,
    or where it is not known how the paint was measured, as it is.
    """
    if sheen is None:
        return reflectance
    how = np.asarray(measured)[..., np.newaxis]
    whole = reflectance + np.where(how < 0.0, FACE, 0.0) * (1.0 - reflectance)
    shown = whole - MIRRORED[sheen] * FACE * (1.0 - whole)
    return np.where(how == 0.0, reflectance, np.maximum(shown, 0.0))
