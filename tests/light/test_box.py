"""Rectangular rooms: reciprocity, whole rows, lamps and the working plane."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.colorimetry.arrays import Floats
from housemap.light.mesh import (
    PATCH_M,
    PATCHES,
    Hole,
    Shape,
    box,
    corners_of_box,
    lines,
    patch_size_m,
)
from housemap.light.radiosity import single
from housemap.light.tracing import Cluster, follow, gates_of, lines_from
from housemap.light.view_factors import Ints
from housemap.model.house import AIMS, Aim
from tests.support.lit_rooms import box_shape

sides = st.floats(1.0, 6.0)
heights = st.floats(1.9, 3.5)


@settings(max_examples=20, deadline=None)
@given(x=sides, y=sides, z=heights, along=st.floats(0.0, 0.8), width=st.floats(0.05, 0.2))
def test_exchange_is_reciprocal_and_every_row_is_whole(
    x: float, y: float, z: float, along: float, width: float
) -> None:
    """To 1e-10, with a window and an opening in the walls and a hatch in the ceiling."""
    holes = (
        Hole("window", "w", along * y, 0.4, width * y, 0.5 * z),
        Hole("door", "s", 0.1 * x, 0.0, 0.4 * x, 0.8 * z),
        Hole("hatch", "ceiling", 0.3 * x, 0.2 * y, 0.3 * x, 0.3 * y),
    )
    mesh = box(box_shape(x, y, z, *holes)).mesh
    exchange_m2 = mesh.exchange(np.float64)
    assert np.array_equal(exchange_m2, exchange_m2.T)
    assert np.abs(exchange_m2.sum(1) / mesh.area_m2 - 1.0).max() < 1e-10
    assert np.all(exchange_m2 >= 0.0)


@given(
    x=sides, y=sides, z=heights, at=st.tuples(*3 * [st.floats(0.0, 1.0)]), aim=st.sampled_from(AIMS)
)
@settings(max_examples=30, deadline=None)
def test_all_the_light_of_a_lamp_falls_somewhere(
    x: float, y: float, z: float, at: tuple[float, float, float], aim: Aim
) -> None:
    shares = box(box_shape(x, y, z)).lamp_shares((at[0] * x, at[1] * y, at[2] * z), aim)
    assert shares.sum() == pytest.approx(1.0, abs=1e-6)
    assert np.all(shares >= 0.0)


def test_a_hole_has_its_own_area_wherever_its_wall_is_counted_from() -> None:
    """Along runs with the outline: from the east on the north wall, from the north on the west."""
    for wall, centre in {
        "s": (1.0, 0.0),
        "e": (5.0, 1.0),
        "n": (4.0, 3.0),
        "w": (0.0, 2.0),
    }.items():
        mesh = box(box_shape(5.0, 3.0, 2.5, Hole("window", wall, 0.6, 0.9, 0.8, 1.1))).mesh
        mine = mesh.surface == mesh.surfaces.index("window")
        assert mesh.area_m2[mine].sum() == pytest.approx(0.88)
        middle = np.average(mesh.centre_m[mine], axis=0, weights=mesh.area_m2[mine])
        assert middle == pytest.approx((*centre, 1.45))


def test_areas_of_the_surfaces_are_those_of_the_room() -> None:
    mesh = box(box_shape(5.0, 3.0, 2.5)).mesh
    areas = dict(zip(mesh.surfaces, mesh.surface_area_m2(), strict=True))
    assert areas == pytest.approx(
        {"floor": 15.0, "ceiling": 15.0, "s": 12.5, "n": 12.5, "e": 7.5, "w": 7.5}
    )


def test_patches_are_half_a_metre_at_most_and_larger_only_in_large_rooms() -> None:
    assert patch_size_m(box_shape(6.0, 8.0, 2.7)) == PATCH_M
    for face in box(box_shape(4.1, 3.3, 2.4)).faces:
        assert all(np.diff(line).max() <= PATCH_M + 1e-9 for line in face.grid.values())
    assert patch_size_m(box_shape(40.0, 25.0, 6.0)) > PATCH_M
    hall = box(box_shape(40.0, 25.0, 6.0))
    assert len(hall.mesh.area_m2) < 2 * PATCHES


def test_the_working_plane_sees_the_ceiling_and_the_walls_above_it() -> None:
    room = box(box_shape(4.0, 3.0, 2.5))
    plane = room.plane()
    assert plane is not None
    assert plane.area_m2.sum() == pytest.approx(3.0 * 2.0)
    assert plane.exchange_m2.sum(1) == pytest.approx(plane.area_m2, abs=1e-6)
    assert plane.exchange_m2[:, room.mesh.surface == 0].sum() == 0.0
    low = room.mesh.centre_m[:, 2] < 0.6
    assert plane.exchange_m2[:, low].sum() == pytest.approx(0.0, abs=1e-12)


def falling(shape: Shape, plan_m: Floats) -> Ints:
    """The cells of the working plane that lines straight down from the ceiling cross."""
    at = np.column_stack([plan_m, np.full(len(plan_m), 2.5)])
    down = np.tile([0.0, 0.0, -1.0], (len(plan_m), 1))
    lines = lines_from(np.zeros(len(plan_m), np.intp), at, down)
    return follow(gates_of(Cluster((shape,), ())), lines, np.arange(len(plan_m))).cell


def test_a_line_down_through_the_working_plane_crosses_the_cell_there() -> None:
    shape = box_shape(4.0, 3.0, 2.5)
    plane = box(shape).plane()
    assert plane is not None
    assert falling(shape, plane.centre_m[:, :2]).tolist() == list(range(len(plane.area_m2)))
    assert not len(falling(shape, np.array([[0.49, 1.0], [3.51, 1.0], [2.0, 0.2], [2.0, 2.8]])))


@given(
    seed=st.integers(0, 99),
    along=st.floats(0.0, 3.0),
    width=st.floats(0.02, 0.9),
    wall=st.sampled_from("senw"),
)
def test_a_line_ends_on_the_patch_that_it_runs_into(
    seed: int, along: float, width: float, wall: str
) -> None:
    """The grid of the face says which, line by line of its grid."""
    shape = box_shape(5.0, 4.0, 2.5, Hole("window", wall, along, 0.9, width, 1.1))
    random = np.random.default_rng(seed)
    at, toward = random.uniform(0.1, 2.4, (500, 3)), random.normal(size=(500, 3))
    lines = lines_from(np.zeros(500, np.intp), at, toward)
    follow(gates_of(Cluster((shape,), ())), lines, np.arange(500))
    first = 0
    for face in box(shape).faces:
        there = (lines.patch >= first) & (lines.patch < first + face.cells)
        place = lines.at_m[:, there]
        assert place[face.axis] == pytest.approx(face.at_m, abs=1e-6)
        u, v = (
            np.searchsorted(single(edges), place[axis]) - 1 for axis, edges in face.grid.items()
        )
        assert lines.patch[there].tolist() == (first + u * face.owner.shape[1] + v).tolist()
        first += face.cells


def test_a_room_lower_than_the_working_plane_has_none() -> None:
    assert box(box_shape(4.0, 3.0, 0.8)).plane() is None


@given(length=st.floats(0.3, 12.0), cuts=st.lists(st.floats(0.0, 12.0), max_size=6))
def test_grid_lines_run_from_end_to_end_through_every_cut(length: float, cuts: list[float]) -> None:
    inside = [cut for cut in cuts if 0.01 < cut < length - 0.01]
    got = lines(length, inside, 0.5)
    assert (got[0], got[-1]) == pytest.approx((0.0, length))
    assert np.all(np.diff(got) > 0.0)
    assert np.diff(got).max() <= 0.5 + 1e-9
    assert all(np.abs(got - cut).min() <= 0.002 for cut in inside)


def test_only_an_axis_aligned_rectangle_at_the_origin_is_a_box() -> None:
    assert corners_of_box(((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))) == (4.0, 3.0)
    assert corners_of_box(((4.0, 0.0), (4.0, 3.0), (0.0, 3.0), (0.0, 0.0))) == (4.0, 3.0)
    assert corners_of_box(((0.0, 0.0), (4.0, 0.0), (3.0, 3.0), (0.0, 3.0))) is None
    ell = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (2.0, 1.0), (2.0, 3.0), (0.0, 3.0))
    assert corners_of_box(ell) is None
