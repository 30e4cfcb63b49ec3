"""What colour-science knows and our own tables do not hold. Nothing else imports it.

Its import takes about half a second, so this module is imported only by functions that need a
spectrum by an unusual name, and by tests.
"""

import warnings
from difflib import get_close_matches
from typing import Any

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.errors import ColourError

with warnings.catch_warnings():
    # It warns of optional parts that are not installed.
    warnings.simplefilter("ignore")
    import colour

FINE_NM: Floats = np.arange(380.0, 781.0, 5.0)


def illuminant(name: str) -> Floats:
    """Relative power at 380(5)780 nm, (81,). ColourError for a name that is not known."""
    known = list(colour.SDS_ILLUMINANTS)
    if name not in known:
        near = get_close_matches(name, known, n=1, cutoff=0.4)
        hint = f"; did you mean {near[0]}?" if near else ""
        raise ColourError(f'no CIE illuminant is called "{name}"{hint}')
    return np.asarray(colour.SDS_ILLUMINANTS[name][FINE_NM], dtype=np.float64)


def rendering(power: Floats) -> tuple[float, float, float]:
    """CIE 13.3 Ra, and Rf and Rg of ANSI/IES TM-30, of a light at 380(5)780 nm, (81,)."""
    light = colour.SpectralDistribution(dict(zip(FINE_NM.tolist(), power.tolist(), strict=True)))
    with warnings.catch_warnings():
        # It warns that its tables reach further than the light.
        warnings.simplefilter("ignore")
        fidelity: Any = colour.colour_fidelity_index(
            light, additional_data=True, method="ANSI/IES TM-30-18"
        )
        ra: Any = colour.colour_rendering_index(light)
    return float(ra), float(fidelity.R_f), float(fidelity.R_g)
