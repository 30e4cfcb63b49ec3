"""The array types of this package."""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
"""float64; the last axis holds channels or bands, leading axes broadcast."""
Singles = npt.NDArray[np.float32]
"""float32, where an array is large and its error does not count."""
Complexes = npt.NDArray[np.complex128]
Indices = npt.NDArray[np.intp]
Truths = npt.NDArray[np.bool_]
