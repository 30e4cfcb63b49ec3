"""View factors against handbook values and against sums over small pieces."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry.arrays import Floats
from housemap.light import view_factors

UNIT = np.array([0.0, 1.0])
metres = st.floats(0.05, 8.0)


@pytest.mark.parametrize(
    ("side_m", "gap_m", "expected"),
    [(1.0, 1.0, 0.199825), (1.0, 0.5, 0.415253), (1.0, 2.0, 0.068590)],
)
def test_facing_squares_have_the_textbook_factor(
    side_m: float, gap_m: float, expected: float
) -> None:
    """Howell C-11 / Incropera table 13.2 evaluated: ln term and four arc tangents."""
    square = side_m * UNIT
    exchange = view_factors.parallel(square, square, square, square, gap_m)
    assert exchange.item() / side_m**2 == pytest.approx(expected, abs=5e-6)


def test_squares_at_right_angles_with_a_common_edge_have_the_textbook_factor() -> None:
    """Howell C-14: 0.2000 for two unit squares."""
    exchange = view_factors.perpendicular(UNIT, UNIT, UNIT, UNIT)
    assert exchange.item() == pytest.approx(0.200044, abs=5e-6)


def pieces(edge: Floats) -> tuple[Floats, Floats]:
    """Eight Gauss-Legendre places along an edge and their weights."""
    x, w = np.polynomial.legendre.leggauss(8)
    low, high = edge
    return (low + high) / 2.0 + (high - low) / 2.0 * x, (high - low) / 2.0 * w


@given(u=metres, v=metres, shift=st.floats(-3.0, 3.0), gap=st.floats(1.0, 5.0))
def test_parallel_factors_are_the_double_area_integral(
    u: float, v: float, shift: float, gap: float
) -> None:
    """The definition, cos cos / (pi r^2) over both areas, by Gauss quadrature."""
    a_u, a_v = np.array([0.0, min(u, 1.0)]), np.array([0.0, min(v, 1.0)])
    b_u, b_v = a_u + shift, a_v + shift / 2.0
    got = view_factors.parallel(a_u, a_v, b_u, b_v, gap).item()
    (au, wa), (av, wb), (bu, wc), (bv, wd) = map(pieces, (a_u, a_v, b_u, b_v))
    across = np.subtract.outer(au, bu)[:, None, :, None]
    along = np.subtract.outer(av, bv)[None, :, None, :]
    kernel = gap**2 / np.pi / (across**2 + along**2 + gap**2) ** 2
    expected = np.einsum("ijkl,i,j,k,l->", kernel, wa, wb, wc, wd)
    assert got == pytest.approx(expected, rel=1e-6, abs=1e-12)


@given(shift=st.floats(-3.0, 3.0), low=st.floats(0.5, 3.0), up=st.floats(0.5, 3.0))
def test_perpendicular_factors_are_the_double_area_integral(
    shift: float, low: float, up: float
) -> None:
    a_s, b_s = UNIT, UNIT + shift
    a_d, b_d = low + UNIT, up + UNIT
    got = view_factors.perpendicular(a_s, a_d, b_s, b_d).item()
    (sa, wa), (da, wb), (sb, wc), (db, wd) = map(pieces, (a_s, a_d, b_s, b_d))
    shared = np.subtract.outer(sa, sb)[:, None, :, None]
    a, b = da[None, :, None, None], db[None, None, None, :]
    kernel = a * b / np.pi / (shared**2 + a**2 + b**2) ** 2
    expected = np.einsum("ijkl,i,j,k,l->", kernel, wa, wb, wc, wd)
    assert got == pytest.approx(expected, rel=1e-5)


@given(cut=st.floats(0.01, 0.99), gap=metres)
def test_cutting_a_rectangle_shares_its_exchange_out(cut: float, gap: float) -> None:
    whole = view_factors.parallel(UNIT, UNIT, UNIT, UNIT, gap)
    parts = view_factors.parallel(np.array([0.0, cut, 1.0]), UNIT, UNIT, UNIT, gap)
    assert parts.sum() == pytest.approx(whole.item(), rel=1e-9)
    assert np.all(parts > 0.0)
