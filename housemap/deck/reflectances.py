"""Spectral reflectance from wavelengths and readings: sorted, evenly stepped, within 0..1."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from housemap.deck.reading import RowError
from housemap.model.house import Reflectance

LONGEST_STEP_NM = 20.0
MUST_START_NM, MUST_END_NM = 400.0, 700.0
"""The narrowest range and widest step that ASTM E308 has tables for."""
PERCENT_ABOVE = 2.0
"""No paint reflects twice what falls on it: readings above this are percent."""
SLACK = 0.02
"""How far noise and calibration may put a reading outside 0..1."""
SAME_NM = 1e-3
FEWEST = 2


@dataclass(frozen=True, slots=True)
class Spectrum:
    """A reflectance, and what had to be done to the readings."""

    reflectance: Reflectance
    notes: tuple[str, ...] = ()


def are_percent(readings: Iterable[float]) -> bool:
    """Whether readings are 0..100 rather than 0..1: told by the largest of them."""
    return max(readings, default=0.0) > PERCENT_ABOVE


def spectrum(
    wavelengths_nm: Sequence[float], readings: Sequence[float], *, percent: bool
) -> Spectrum:
    """A reflectance from readings in any order; raises RowError where they give none.

    Readings at uneven steps are interpolated linearly to the nearest even step; those up to
    `SLACK` outside 0..1 are set to the limit. Both are told in the notes.
    """
    order, grid, step = rising(tuple(wavelengths_nm))
    nm: Sequence[float] = grid
    values = [readings[i] / 100 if percent else readings[i] for i in order]
    notes = []
    if step is None:
        nm, values, step = resampled(nm, values)
        notes.append(f"spectra at uneven steps are interpolated to {step:g} nm")
    if min(values) < 0 or max(values) > 1:
        values = within_limits(nm, values)
        notes.append("readings slightly below 0 or above 1 are set to the limit")
    return Spectrum(Reflectance(nm[0], step, tuple(values)), tuple(notes))


@lru_cache(maxsize=64)
def rising(
    wavelengths_nm: tuple[float, ...],
) -> tuple[tuple[int, ...], tuple[float, ...], float | None]:
    """The order in which wavelengths rise, the wavelengths in it, and their step if it is even.

    Kept, as every row of a table asks the same; raises RowError as `check_range` does.
    """
    order = tuple(sorted(range(len(wavelengths_nm)), key=wavelengths_nm.__getitem__))
    nm = tuple(wavelengths_nm[i] for i in order)
    check_range(nm)
    return order, nm, even_step(nm)


def check_range(nm: Sequence[float]) -> None:
    if len(nm) < FEWEST or nm[0] > MUST_START_NM or nm[-1] < MUST_END_NM:
        found = f"{nm[0]:g} to {nm[-1]:g}" if nm else "none"
        raise RowError(f"a spectrum must span 400 to 700 nm, found {found}")
    for low, high in pairwise(nm):
        if high - low < SAME_NM:
            raise RowError(f"two readings at {low:g} nm")
        if high - low > LONGEST_STEP_NM + SAME_NM:
            raise RowError(f"no reading between {low:g} and {high:g} nm")


def even_step(nm: Sequence[float]) -> float | None:
    step = (nm[-1] - nm[0]) / (len(nm) - 1)
    steady = all(abs(low + step - high) < SAME_NM for low, high in pairwise(nm))
    return round(step, 6) if steady else None


def resampled(
    nm: Sequence[float], values: Sequence[float]
) -> tuple[list[float], list[float], float]:
    """The same curve at even steps of 1, 5, 10 or 20 nm, whichever is nearest to its own."""
    mean_step = (nm[-1] - nm[0]) / (len(nm) - 1)
    step = min((1.0, 5.0, 10.0, 20.0), key=lambda s: abs(math.log(s / mean_step)))
    first, last = math.ceil(nm[0] / step) * step, math.floor(nm[-1] / step) * step
    grid = [first + i * step for i in range(round((last - first) / step) + 1)]
    return grid, interpolated(grid, nm, values), step


def interpolated(
    grid: Sequence[float], nm: Sequence[float], values: Sequence[float]
) -> list[float]:
    """Linear interpolation; every grid point lies within `nm`, and both rise."""
    result, i = [], 0
    for at in grid:
        while nm[i + 1] < at:
            i += 1
        part = (at - nm[i]) / (nm[i + 1] - nm[i])
        result.append(values[i] + part * (values[i + 1] - values[i]))
    return result


def within_limits(nm: Sequence[float], values: Sequence[float]) -> list[float]:
    for at, value in zip(nm, values, strict=True):
        if not -SLACK <= value <= 1 + SLACK:
            raise RowError(
                f"reflectance {value:g} at {at:g} nm is outside 0..1: wrong unit, or a sample "
                "that glows"
            )
    return [min(max(value, 0.0), 1.0) for value in values]
