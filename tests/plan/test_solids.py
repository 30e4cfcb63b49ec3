"""Furniture and open door leaves in the view, against every point of a block shot at by itself."""

from dataclasses import replace
from math import radians, tan

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from housemap.file.reader import read_house
from housemap.model.house import House, Opening, Piece, Room, Side
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.pixels import in_view
from housemap.plan.placing import place
from housemap.plan.raster import View
from housemap.plan.solids import blocks_in
from housemap.plan.view import Camera, look
from tests.support.project import DEMO

WIDTH, HEIGHT = 60, 40
BOX = Room("Box", size_m=(5.0, 4.0), height_m=2.6)


def furnished(**pieces: Piece) -> House:
    return House(rooms={"box": replace(BOX, pieces=pieces)})


def elevations_of(house: House) -> Elevations:
    plan = place(house)
    return Elevations(house, plan, space_of(house, plan))


def seen(house: House, camera: Camera, *, smooth: bool = False, finer: int = 1) -> View:
    size = WIDTH * finer, HEIGHT * finer
    view = look(elevations_of(house), camera, *size, smooth=smooth)
    assert view is not None
    return view


def shot(piece: Piece, camera: Camera) -> NDArray[np.bool_]:
    """Whether the ray through each pixel's centre meets the block (slab method, Kay 1986)."""
    focal = WIDTH / 2 / tan(radians(camera.field_deg) / 2)
    aside, up = np.meshgrid(
        (np.arange(WIDTH) + 0.5 - WIDTH / 2) / focal,
        (HEIGHT / 2 - np.arange(HEIGHT) - 0.5) / focal,
    )
    turn = np.exp(-1j * radians(camera.toward_deg))
    way = (1j + aside) * turn
    low = np.array([*piece.at_m, 0.0]) - [*camera.at_m, camera.eye_m]
    high = low + np.array(piece.size_m)
    first, last = np.zeros_like(aside), np.full_like(aside, np.inf)
    for axis, slope in enumerate((way.real, way.imag, up)):
        ends = np.sort([low[axis] / slope, high[axis] / slope], axis=0)
        first, last = np.maximum(first, ends[0]), np.minimum(last, ends[1])
    return np.asarray(first < last)


cameras = st.builds(
    lambda x, y, toward: Camera("box", (x + 0.0071, y + 0.0037), toward + 0.13),
    st.floats(0.3, 4.7), st.floats(0.3, 1.2), st.floats(0, 360),
)  # fmt: skip
pieces = st.builds(
    lambda x, y, wide, deep, high: Piece((wide, deep, high), (x, y)),
    st.floats(0.1, 2.5), st.floats(1.5, 2.6), st.floats(0.2, 2.2), st.floats(0.2, 1.3),
    st.floats(0.1, 2.4),
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(pieces, cameras)
def test_a_block_is_seen_where_a_ray_meets_it(piece: Piece, camera: Camera) -> None:
    view = seen(furnished(sofa=piece), camera)
    shown = np.array([face.surface == "piece sofa" for face in view.faces])[view.face]
    assert np.mean(shown != shot(piece, camera)) <= 1 / 500


@settings(max_examples=10, deadline=None)
@given(pieces, cameras)
@example(Piece((2.0, 1.0, 1.546875), (1.0, 2.5)), Camera("box", (1.0071, 1.0037), 0.13))
def test_a_smooth_block_covers_pixels_as_a_much_finer_picture(piece: Piece, camera: Camera) -> None:
    house, finer = furnished(sofa=piece), 16
    smooth = seen(house, camera, smooth=True)
    fine = seen(house, camera, finer=finer)
    brute = np.array([face.surface == "piece sofa" for face in fine.faces])[fine.face]
    brute = brute.reshape(HEIGHT, finer, WIDTH, finer).mean(axis=(1, 3)).ravel()
    is_sofa = np.array([face.surface == "piece sofa" for face in smooth.faces])
    edges = smooth.edges
    assert edges
    cover = is_sofa[smooth.face].ravel().astype(float)
    mixed = np.bincount(edges.pixel, edges.cover, cover.size)
    assert mixed[edges.pixel] == pytest.approx(1.0, abs=1e-4)
    cover[edges.pixel] = np.bincount(edges.pixel, edges.cover * is_sofa[edges.face], cover.size)[
        edges.pixel
    ]
    off = np.abs(cover - brute)
    assert off.mean() <= 0.005
    assert (off > 0.1).mean() <= 0.01


def test_what_stands_before_hides_what_is_behind() -> None:
    house = furnished(
        near=Piece((0.6, 0.4, 1.0), (1.7, 1.5)), far=Piece((0.4, 0.4, 0.8), (1.8, 3.0))
    )
    surfaces = {s for _, s in in_view(seen(house, Camera("box", (2.0, 0.4), 0.0, eye_m=0.9)))}
    assert "piece near" in surfaces
    assert "piece far" not in surfaces


def test_furniture_is_seen_through_a_door_but_not_through_a_wall() -> None:
    house = read_house(DEMO)
    rug = {"rug": Piece((2.0, 3.0, 0.02), (0.9, 1.0))}
    living = replace(house.rooms["living"], pieces=rug)
    furnished_house = replace(house, rooms={**house.rooms, "living": living})
    elevations = elevations_of(furnished_house)
    views = [
        look(elevations, Camera("hall", (4.5, y), toward), 96, 72)
        for y, toward in ((2.0, 270.0), (0.6, 270.0))
    ]
    through = [view is not None and ("living", "piece rug") in in_view(view) for view in views]
    assert through == [True, False]


@pytest.mark.parametrize("hinge", ["left", "right"])
@pytest.mark.parametrize("into", ["hall", "box"])
def test_an_open_leaf_hangs_where_the_file_says(hinge: Side, into: str) -> None:
    """From the hall, left of the door in its north wall is west; the box lies to the north."""
    hall = Room("Hall", size_m=(5.0, 2.0), height_m=2.6, at_m=(0.0, 0.0))
    door = Opening(
        ("hall", "box"), "doorway", wall="n", along_m=2.0, to_wall="s", to_along_m=2.0,
        width_m=0.8, hinge=hinge, into=into,
    )  # fmt: skip
    house = House(rooms={"hall": hall, "box": BOX}, openings={"door": door})
    leaves = [b for room in house.rooms for b in blocks_in(elevations_of(house), room)]
    (leaf,) = leaves
    assert leaf.room == into
    xs, ys = [x for x, _ in leaf.corners], [y for _, y in leaf.corners]
    assert (max(xs) <= 2.0 + 1e-9) if hinge == "left" else (min(xs) >= 2.8 - 1e-9)
    assert (min(ys), max(ys)) == pytest.approx((1.2, 2.0) if into == "hall" else (2.1, 2.9))


def test_a_door_of_which_the_file_says_nothing_shows_no_leaf() -> None:
    house = read_house(DEMO)
    openings = {k: replace(o, hinge=None, into=None) for k, o in house.openings.items()}
    elevations = elevations_of(replace(house, openings=openings))
    assert not [block for room in house.rooms for block in blocks_in(elevations, room)]
