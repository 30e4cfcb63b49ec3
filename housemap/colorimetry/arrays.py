"""The array types of this package."""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
"""float64; the last axis holds channels or bands, leading axes broadcast."""
Complexes = npt.NDArray[np.complex128]
Indices = npt.NDArray[np.intp]
Truths = npt.NDArray[np.bool_]
