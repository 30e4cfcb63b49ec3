"""One way to check every conversion: published pairs, as a batch, with one more axis, and back."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from housemap.colorimetry.arrays import Floats

Convert = Callable[[Floats], Floats]
SEED = 20260
BACK_LOOSER = 10.0
"""The published side is rounded; the way back may stretch what that leaves."""


@dataclass(frozen=True)
class Ranges:
    """Where random colours for the way there and back are taken from."""

    low: npt.ArrayLike
    high: npt.ArrayLike
    count: int = 500

    def sample(self) -> Floats:
        low, high = np.asarray(self.low, float), np.asarray(self.high, float)
        random = np.random.default_rng(SEED)
        return random.uniform(low, high, (self.count, len(low)))


def check_conversion(
    there: Convert,
    back: Convert,
    gold: Sequence[tuple[npt.ArrayLike, npt.ArrayLike]],
    *,
    atol: float,
    round_trip: Ranges,
    round_trip_atol: float = 1e-9,
) -> None:
    """Check four promises of `there` and its inverse `back`.

    Published pairs agree to `atol` (their own rounding) one by one, as a batch and with a leading
    axis; random colours come back far closer than that, because there both sides are ours.
    """
    given = np.array([pair[0] for pair in gold], dtype=float)
    expected = np.array([pair[1] for pair in gold], dtype=float)
    for one, other in zip(given, expected, strict=True):
        np.testing.assert_allclose(there(one), other, rtol=0, atol=atol)
        np.testing.assert_allclose(back(other), one, rtol=0, atol=atol * BACK_LOOSER)
    np.testing.assert_allclose(there(given), expected, rtol=0, atol=atol)
    deep = there(given[:, None, :])
    assert deep.shape == (len(gold), 1, expected.shape[-1])
    np.testing.assert_allclose(deep[:, 0], expected, rtol=0, atol=atol)
    colours = round_trip.sample()
    np.testing.assert_allclose(back(there(colours)), colours, rtol=0, atol=round_trip_atol)
