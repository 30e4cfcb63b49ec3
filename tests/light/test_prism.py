"""Rooms of any outline: strips, rays, exchange by rays against the closed forms."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from housemap.colorimetry.arrays import Floats
from housemap.light import rays
from housemap.light.enclosures import Enclosure
from housemap.light.mesh import Hole, box
from housemap.light.outline_mesh import balanced, prism, strips
from housemap.light.rays import inside, inside_points, wall_distance_m
from housemap.model.house import AIMS, Aim
from tests.support.lit_rooms import box_shape, from_hole, outline_shape, surface_means, total_lux

ELL = [[0.0, 0.0], [5.0, 0.0], [5.0, 2.2], [2.4, 2.2], [2.4, 4.6], [0.0, 4.6]]
BAY = [[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [3.0, 3.9], [1.4, 3.9], [0.5, 3.0], [0.0, 3.0]]
OUTLINES = (ELL, BAY)


@pytest.mark.parametrize("outline", OUTLINES)
def test_strips_cover_the_floor_once(outline: list[list[float]]) -> None:
    """Against shapely's area, and no patch wider than asked."""
    cut = strips([(x, y) for x, y in outline], 0.5)
    assert sum(strip.area_m2.sum() for strip in cut) == pytest.approx(Polygon(outline).area)
    assert all((s.east_m - s.west_m) / s.columns <= 0.5 + 1e-9 for s in cut)


@pytest.mark.parametrize("outline", OUTLINES)
def test_points_of_a_patch_lie_in_it_and_inside_the_outline(outline: list[list[float]]) -> None:
    floor = Polygon(outline).buffer(1e-9)
    for strip in strips([(x, y) for x, y in outline], 0.5):
        places = strip.places(np.random.default_rng(3).random((strip.cells, 9, 2)))
        owner = np.repeat(np.arange(strip.cells), 9)
        assert np.array_equal(strip.cell_of(places.reshape(-1, 2)), owner)
        assert all(floor.contains(Point(place)) for place in places.reshape(-1, 2))


def test_points_of_a_triangle_are_spread_evenly() -> None:
    (strip,) = strips([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)], 2.0)
    places = strip.places(rays.spread(4096, 2)[None])[0]
    assert places.mean(0) == pytest.approx((2.0 / 3.0, 1.0 / 3.0), abs=2e-3)


@settings(max_examples=40, deadline=None)
@given(x=st.floats(0.1, 2.3), y=st.floats(0.1, 4.5), z=st.floats(0.1, 2.4), seed=st.integers(0, 99))
def test_rays_end_where_an_independent_geometry_says(
    x: float, y: float, z: float, seed: int
) -> None:
    """The nearest crossing with the outline by shapely, unless floor or ceiling come first."""
    ring = Polygon(ELL).exterior
    toward = rays.even_directions(np.random.default_rng(seed).random((8, 2)))
    outline = tuple((a, b) for a, b in ELL)
    hits = rays.cast(outline, 2.5, np.tile((x, y, z), (8, 1)), toward)
    for direction, edge, place in zip(toward, hits.edge, hits.place_m, strict=True):
        level_speed = np.hypot(*direction[:2])
        far = (x + 20.0 * direction[0] / level_speed, y + 20.0 * direction[1] / level_speed)
        to_wall = Point(x, y).distance(LineString([(x, y), far]).intersection(ring))
        rise = (2.5 - z if direction[2] > 0.0 else z) / abs(direction[2])
        level = rise * level_speed
        assert np.hypot(place[0] - x, place[1] - y) == pytest.approx(min(to_wall, level), abs=1e-7)
        assert (edge < 0) == (level < to_wall)


@pytest.mark.parametrize("outline", OUTLINES)
def test_exchange_is_reciprocal_and_every_row_is_whole(outline: list[list[float]]) -> None:
    window = Hole("window", "1", 0.3, 0.9, 0.8, 1.2, shines=True)
    mesh = prism(outline_shape(outline, 2.5, window)).mesh
    exchange_m2 = mesh.exchange(np.float64)
    assert np.array_equal(exchange_m2, exchange_m2.T)
    assert np.abs(exchange_m2.sum(1) / mesh.area_m2 - 1.0).max() < 1e-10
    areas = dict(zip(mesh.surfaces, mesh.surface_area_m2(), strict=True))
    assert areas["floor"] == pytest.approx(Polygon(outline).area)
    assert areas["window"] == pytest.approx(0.96)


def test_walls_round_the_corner_do_not_see_each_other() -> None:
    mesh = prism(outline_shape(ELL, 2.5)).mesh
    east, west_end = (
        mesh.surface == mesh.surfaces.index("1"),
        mesh.surface == mesh.surfaces.index("4"),
    )
    assert mesh.exchange_m2[np.ix_(east, west_end)].sum() == 0.0
    south = mesh.surface == mesh.surfaces.index("0")
    assert mesh.exchange_m2[np.ix_(east, south)].sum() > 0.0


def lit_means(room: Enclosure, first: Floats) -> Floats:
    mesh = room.mesh
    reflectance = np.array([[0.2], [0.8], [0.5], [0.5], [0.5], [0.5], [0.1]])
    return np.asarray(surface_means(mesh) @ total_lux(mesh, reflectance, first[:, None]))[:, 0]


@pytest.mark.parametrize("aim", [None, *AIMS])
def test_a_box_by_rays_is_lit_as_the_box_in_closed_form(aim: Aim | None) -> None:
    """Window or lamp: the mean of each surface within 1.5 %."""
    shape = box_shape(4.0, 3.0, 2.5, Hole("window", "w", 0.75, 0.9, 1.5, 1.2, shines=True))
    means = []
    for room in (box(shape), prism(shape)):
        lamp = aim and 1000.0 * room.lamp_shares((1.0, 1.2, 1.6), aim) / room.mesh.area_m2
        first = from_hole(room, "window", 1000.0) if lamp is None else lamp
        means.append(lit_means(room, first))
    assert means[1] == pytest.approx(means[0], rel=0.015)


def test_the_working_plane_by_rays_is_that_of_the_box() -> None:
    shape = box_shape(4.0, 3.0, 2.5)
    exact, traced = box(shape), prism(shape)
    planes = exact.plane(), traced.plane()
    assert planes[0] is not None
    assert planes[1] is not None
    assert planes[1].area_m2.sum() == pytest.approx(planes[0].area_m2.sum(), rel=0.01)
    by_surface = [
        np.bincount(room.mesh.surface, plane.exchange_m2.sum(0) / plane.area_m2.sum(), 6)
        for room, plane in ((exact, planes[0]), (traced, planes[1]))
    ]
    assert by_surface[1] == pytest.approx(by_surface[0], abs=0.004)


def test_the_same_outline_always_gives_the_same_exchange() -> None:
    first, second = (prism(outline_shape(BAY, 2.4)).mesh.exchange(np.float64) for _ in range(2))
    assert np.array_equal(first, second)


@given(seed=st.integers(0, 50))
def test_balancing_makes_rows_whole_and_stays_symmetric(seed: int) -> None:
    random = np.random.default_rng(seed)
    area = random.uniform(0.1, 0.3, 12)
    ideal = np.outer(area, area) / area.sum()
    noise = random.uniform(0.7, 1.3, (12, 12))
    got = balanced(ideal * (noise + noise.T) / 2.0, area)
    assert got.sum(1) == pytest.approx(area, rel=1e-12)
    assert got == pytest.approx(got.T, rel=1e-15)


@pytest.mark.parametrize("outline", OUTLINES)
def test_inside_and_distance_agree_with_shapely(outline: list[list[float]]) -> None:
    corners = tuple((x, y) for x, y in outline)
    points = np.random.default_rng(5).uniform(-0.5, 5.5, (300, 2))
    floor = Polygon(outline)
    assert inside(corners, points).tolist() == [floor.contains(Point(p)) for p in points]
    expected = [floor.exterior.distance(Point(p)) for p in points]
    assert wall_distance_m(corners, points) == pytest.approx(expected)
    free = inside_points(corners, 0.4)
    assert len(free) * 0.05**2 == pytest.approx(floor.buffer(-0.4).area, rel=0.03)


def test_spread_points_are_even() -> None:
    """Each sixteenth of the square holds its share of 4096 points within 2 %."""
    points = rays.spread(4096, 2)
    cells = np.bincount((points * 4.0).astype(int) @ (4, 1), minlength=16)
    assert cells == pytest.approx(np.full(16, 256.0), rel=0.02)
