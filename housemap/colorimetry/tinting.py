"""Tints: what a paint comes to with less colorant, or with white, black or grey mixed in.

Two-constant mixing (Kubelka & Munk 1931; Duncan 1949): absorption K and scattering S of a mixture
are the sums of those of its parts by concentration. Of a paint only its reflectance is known, so
what scatters is an assumption of ours: that the paint scatters as much as the stated white in every
band (most of a wall paint's scattering is its white pigment's), the black a twentieth of it.
Reflection at the surface is left out (no Saunderson correction). A tint is a computed colour: it
must be asked for, mixed and sampled.
"""

from collections.abc import Callable

import numpy as np

from housemap.colorimetry.arrays import Floats

WHITE, BLACK = 0.92, 0.03
"""Reflectance of the white base, flat over the spectrum, and of the black: our assumption."""
BLACK_SCATTERS = 0.05
"""Scattering of the black for the white's 1."""
LEAST, MOST = 0.001, 0.999
"""Reflectances outside have no meaning to the formula."""
HALVINGS = 30


def absorption(reflectance: Floats) -> Floats:
    """K/S of an opaque layer: (1 - R)^2 / 2R (Kubelka & Munk 1931)."""
    within = np.clip(reflectance, LEAST, MOST)
    return np.asarray((1.0 - within) ** 2 / (2.0 * within))


def reflectance_of(ratio: Floats) -> Floats:
    """Reflectance of an opaque layer of that K/S."""
    return np.asarray(1.0 + ratio - np.sqrt(ratio**2 + 2.0 * ratio))


def mixed(reflectance: Floats, share: float, other: Floats, scatters: float = 1.0) -> Floats:
    """A paint (..., n) with so much of it, 0..1, and the rest of another one.

    `scatters` is what the other one scatters for the paint's 1.
    """
    own_k, other_k = absorption(reflectance), absorption(other) * scatters
    total_k = share * own_k + (1.0 - share) * other_k
    return reflectance_of(total_k / (share + (1.0 - share) * scatters))


def strength(reflectance: Floats, share: float) -> Floats:
    """The paint with a share of its colorant, such as 0.5 for half strength, in the white base."""
    return mixed(reflectance, share, np.full_like(reflectance, WHITE))


def lighter(reflectance: Floats, by: Callable[[Floats], float], step: float) -> Floats:
    """With white, until a figure of the reflectance has risen by a step."""
    white = np.full_like(reflectance, WHITE)
    return _until(lambda share: mixed(reflectance, share, white), by, by(reflectance) + step)


def darker(reflectance: Floats, by: Callable[[Floats], float], step: float) -> Floats:
    """With black, until a figure of the reflectance has fallen by a step."""
    black = np.full_like(reflectance, BLACK)
    made = lambda share: mixed(reflectance, share, black, BLACK_SCATTERS)  # noqa: E731 - of one line
    return _until(made, by, by(reflectance) - step)


def greyer(reflectance: Floats, lightness: float, share: float) -> Floats:
    """With a grey of a reflectance as light as the paint, so that a share of the paint is left."""
    return mixed(reflectance, share, np.full_like(reflectance, lightness))


def _until(make: Callable[[float], Floats], by: Callable[[Floats], float], target: float) -> Floats:
    """The mixture whose figure is the target, or the nearest to it that there is."""
    low, high = 0.0, 1.0
    start, end = by(make(high)), by(make(low))
    rising = end > start
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        beyond = by(make(middle)) > target
        if beyond == rising:
            low = middle
        else:
            high = middle
    return make((low + high) / 2)
