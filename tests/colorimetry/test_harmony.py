"""Two-colour harmony of Ou & Luo 2006."""

import numpy as np
import pytest

from housemap.colorimetry.difference import harmony
from tests.support.conversions import Ranges
from tests.support.published import published

WORKED = [
    ((92, -0.5, 4), (70, -1, 8), 1.3423),
    ((75, 2, 10), (75, -4, -6), 0.5771),
    ((30, 2, -20), (90, 0, 3), 0.4752),
]
"""Computed by hand from the published equations."""


@pytest.mark.parametrize("case", published("harmony")["cases"])
def test_harmony_of_the_published_pairs(case: dict[str, list[float] | dict[str, float]]) -> None:
    """Equations of Ou & Luo 2006, Color Res. Appl. 31:191."""
    expected = case["expect"]
    assert isinstance(expected, dict)
    got = harmony(np.array(case["Lab1"], float), np.array(case["Lab2"], float))
    assert got == pytest.approx(expected["CH"], abs=1e-5)


@pytest.mark.parametrize(("one", "other", "expected"), WORKED)
def test_harmony_of_worked_pairs(
    one: tuple[float, ...], other: tuple[float, ...], expected: float
) -> None:
    got = harmony(np.array(one, float), np.array(other, float))
    assert got == pytest.approx(expected, abs=1e-4)


def test_harmony_does_not_mind_the_order_and_never_overflows() -> None:
    labs = Ranges([0, -120, -120], [100, 120, 120], 400).sample()
    one, other = labs[:200], labs[200:]
    there = harmony(one, other)
    np.testing.assert_allclose(there, harmony(other, one), atol=1e-12)
    assert np.isfinite(there).all()
