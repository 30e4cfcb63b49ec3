"""Polygons, against shapely."""

from math import cos, pi, sin

from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon as Reference

from housemap.model.polygon import Polygon, is_simple, overlap_area_m2, signed_area_m2

coordinates = st.integers(0, 8).map(float)
points = st.tuples(coordinates, coordinates)
any_polygons = st.lists(points, min_size=3, max_size=7).map(tuple)


@st.composite
def stars(draw: st.DrawFn) -> Polygon:
    """Draw a simple polygon: corners at rising angles around a middle."""
    x, y = draw(points)
    radii = draw(st.lists(st.integers(1, 50), min_size=3, max_size=8))
    angles = [2 * pi * i / len(radii) for i in range(len(radii))]
    return tuple(
        (x + r / 10 * cos(a), y + r / 10 * sin(a)) for r, a in zip(radii, angles, strict=True)
    )


@given(any_polygons)
def test_area_and_simplicity_are_those_of_shapely(polygon: Polygon) -> None:
    reference = Reference(polygon)
    whole = reference.is_valid and len(set(polygon)) == len(polygon)
    assert is_simple(polygon) == whole
    if whole:
        assert abs(signed_area_m2(polygon)) == reference.area


@given(stars(), stars())
def test_the_shared_area_is_that_of_shapely(one: Polygon, other: Polygon) -> None:
    expected = Reference(one).intersection(Reference(other)).area
    assert abs(overlap_area_m2(one, other) - expected) < 1e-9


def test_a_straight_corner_is_simple_and_a_spike_is_not() -> None:
    assert is_simple(((0, 0), (1, 0), (2, 0), (2, 2), (0, 2)))
    assert not is_simple(((0, 0), (3, 0), (2, 0), (2, 2), (0, 2)))
    assert not is_simple(((0, 0), (2, 2), (2, 0), (0, 2)))
