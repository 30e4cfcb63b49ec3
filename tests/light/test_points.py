"""Light from small sources against solid angles that are known and sums over small pieces."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry.arrays import Floats
from housemap.light import view_factors

HALF = np.array([-0.5, 0.5])
metres = st.floats(0.2, 4.0)


def test_the_face_of_a_cube_takes_a_sixth_of_what_shines_from_its_middle() -> None:
    assert view_factors.even(HALF, HALF, 0.5).item() == pytest.approx(1.0 / 6.0, rel=1e-12)


def test_a_source_in_the_plane_lights_half_of_all_in_the_cell_that_it_stands_in() -> None:
    shares = view_factors.even(np.array([-1.0, -0.2, 0.7, 2.0]), HALF, 0.0)
    assert shares[1, 0] == pytest.approx(0.5, abs=1e-6)
    assert shares[[0, 2], 0] == pytest.approx(0.0, abs=1e-6)


def grid(low: float, high: float) -> tuple[Floats, Floats]:
    x, w = np.polynomial.legendre.leggauss(24)
    return (low + high) / 2.0 + (high - low) / 2.0 * x, (high - low) / 2.0 * w


@given(u=st.floats(-3.0, 3.0), v=st.floats(-3.0, 3.0), gap=metres)
def test_shares_are_the_integral_of_intensity_over_solid_angle(
    u: float, v: float, gap: float
) -> None:
    """Cosine of incidence over r^2, times the source's own intensity a lumen."""
    (x, wx), (y, wy) = grid(u, u + 1.0), grid(v, v + 1.0)
    r2 = x[:, None] ** 2 + y[None, :] ** 2 + gap**2
    lines = (np.array([u, u + 1.0]), np.array([v, v + 1.0]))
    even = np.einsum("ij,i,j->", gap / r2**1.5 / (4.0 * np.pi), wx, wy)
    assert view_factors.even(*lines, gap).item() == pytest.approx(even, rel=1e-5)
    facing = np.einsum("ij,i,j->", gap**2 / r2**2 / np.pi, wx, wy)
    assert view_factors.lambertian_facing(*lines, gap).item() == pytest.approx(facing, rel=1e-5)


@given(u=st.floats(-3.0, 3.0), ahead=st.floats(0.0, 3.0), gap=st.floats(0.5, 4.0))
def test_beside_a_lambertian_source_the_share_is_that_integral_too(
    u: float, ahead: float, gap: float
) -> None:
    (x, wx), (y, wy) = grid(u, u + 1.0), grid(ahead, ahead + 1.0)
    r2 = x[:, None] ** 2 + y[None, :] ** 2 + gap**2
    expected = np.einsum("ij,i,j->", gap * y[None, :] / r2**2 / np.pi, wx, wy)
    lines = (np.array([u, u + 1.0]), np.array([ahead, ahead + 1.0]))
    assert view_factors.lambertian_beside(*lines, gap).item() == pytest.approx(expected, rel=1e-5)


def test_nothing_behind_a_lambertian_source_is_lit() -> None:
    assert view_factors.lambertian_beside(HALF, np.array([-2.0, -1.0]), 1.0).item() == 0.0
