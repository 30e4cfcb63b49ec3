"""A view in colour: exact without shading, never lighter than its paint with it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.file.reader import read_house
from housemap.model.house import House, Opening, Room
from housemap.plan.elevations import OPENING, RISER, SKY, TREAD, WINDOW, Elevations
from housemap.plan.free_space import space_of
from housemap.plan.house_graph import graph_of
from housemap.plan.pixels import coloured, in_view, painted_as, rgb_of
from housemap.plan.placing import place
from housemap.plan.raster import Edges, Face, View
from housemap.plan.view import Camera, look
from tests.support.project import DEMO

DEMO_HOUSE = read_house(DEMO)
CHANNEL = st.integers(0, 255)


def view_of(house: House, camera: Camera, width: int = 48, height: int = 36) -> View:
    plan = place(house)
    view = look(Elevations(house, plan, space_of(house, plan)), camera, width, height)
    assert view is not None
    return view


HALL = view_of(DEMO_HOUSE, Camera("hall", (5.05, 0.6), 352.0))
COLOURS = [(7 * i % 256, 31 * i % 256, 11 * i % 256) for i in range(len(HALL.faces))]


def test_without_shading_every_pixel_is_its_faces_colour() -> None:
    pixels = coloured(HALL, COLOURS, shaded=False)
    assert (pixels == np.array(COLOURS)[HALL.face]).all()


def test_shading_only_darkens_and_not_by_much() -> None:
    exact = coloured(HALL, COLOURS, shaded=False).astype(int)
    shaded = coloured(HALL, COLOURS).astype(int)
    assert (shaded <= exact).all()
    assert (shaded >= exact * 0.5 - 1).all()
    assert (shaded < exact).any()


@given(st.tuples(CHANNEL, CHANNEL, CHANNEL))
def test_shading_keeps_the_hue_of_a_paint(rgb: tuple[int, int, int]) -> None:
    """All channels are scaled by one factor, up to rounding."""
    pixels = coloured(HALL, [rgb] * len(HALL.faces)).reshape(-1, 3)
    factor = pixels.max(axis=-1, keepdims=True) / max(*rgb, 1)
    slack = 0.51 + 0.5 * np.array(rgb) / max(*rgb, 1)
    assert (np.abs(pixels - factor * np.array(rgb)) <= slack + 1e-9).all()


def test_an_edge_is_the_mean_of_its_colours_in_linear_light() -> None:
    """A pixel half black, half white is 188: sRGB's code for half of the light (IEC 61966-2-1)."""
    edges = Edges(
        np.array([0, 0]), np.array([0, 1], dtype=np.int16), np.ones(2, dtype=np.float32),
        np.ones(2, dtype=np.float32), np.array([0.5, 0.5], dtype=np.float32),
    )  # fmt: skip
    one = np.ones((1, 1), dtype=np.float32)
    faces = Face("a", "walls", "n"), Face("a", "walls", "s")
    view = View(faces, np.zeros((1, 1), dtype=np.int16), one, one, edges)
    colours = [(0, 0, 0), (255, 255, 255)]
    assert coloured(view, colours)[0, 0].tolist() == [188, 188, 188]
    assert coloured(view, colours, shaded=False)[0, 0].tolist() == [0, 0, 0]


def test_glass_and_the_open_air_show_sky_hedge_and_ground_from_the_top() -> None:
    view = view_of(DEMO_HOUSE, Camera("kitchen", (8.0, 8.7), 250.0), 96, 72)
    far = np.array([face.surface in {SKY, WINDOW} for face in view.faces])[view.face]
    white = coloured(view, [(255, 255, 255)] * len(view.faces))[..., 0].astype(float)
    rows = [white[row][far[row]] for row in range(72) if far[row].any()]
    assert all(len(set(row.tolist())) == 1 for row in rows)
    sky = [white[row][far[row]][0] for row in range(34) if far[row].any()]
    hedge, ground = white[35][far[35]][0], white[40][far[40]][0]
    assert sky == sorted(sky)
    assert hedge < ground < min(sky)


def test_what_is_brighter_than_the_screen_turns_lighter() -> None:
    one = np.ones((1, 1), dtype=np.float32)
    view = View((Face("a", "walls", "n"),), np.zeros((1, 1), dtype=np.int16), one * 1.25, one)
    bright = coloured(view, [(250, 200, 100)])[0, 0].tolist()
    assert bright[0] == 255
    assert bright[1] > 200 * 255 / 250
    assert bright[2] > 100 * 255 / 250
    assert coloured(view, [(100, 48, 20)])[0, 0].tolist() == [125, 60, 25]


def test_what_is_in_view_is_counted_by_surface_with_steps_as_floor() -> None:
    stairs = view_of(DEMO_HOUSE, Camera("stairs", (5.95, 2.5), 0.0))
    surfaces = {face.surface for face in stairs.faces}
    assert {RISER, TREAD} <= surfaces
    shares = in_view(stairs)
    steps = sum(
        share
        for (_, surface), share in stairs.shares().items()
        if surface in {RISER, TREAD, "floor"}
    )
    assert shares["stairs", "floor"] == pytest.approx(steps)
    assert not {surface for _, surface in shares} & {RISER, TREAD, OPENING, WINDOW, SKY}
    assert [*shares.values()] == sorted(shares.values(), reverse=True)


def test_steps_lead_up_and_the_landing_does_not_see_them() -> None:
    landing = view_of(DEMO_HOUSE, Camera("landing", (4.65, 2.8), 90.0))
    assert not {face.surface for face in landing.faces} & {RISER, TREAD}


def test_a_hole_out_of_the_measures_shows_the_walls_of_the_room_behind_it() -> None:
    house = House(
        rooms={"a": Room("A", size_m=(4.0, 4.0)), "b": Room("B")},
        openings={"o": Opening(("a", "b"), "cased", wall="n", along_m=1.0, width_m=1.0)},
    )
    graph = graph_of(house)
    assert painted_as(graph, Face("a", OPENING, "n")) == ("b", "walls")
    assert painted_as(graph, Face("a", OPENING, "s")) == ("a", "walls")
    assert painted_as(graph, Face("a", WINDOW, "n")) is None
    assert painted_as(graph, Face("a", "accent n", "n")) == ("a", "accent n")


def test_a_colour_is_read_from_its_six_digits() -> None:
    assert rgb_of("#0a80ff") == (10, 128, 255)
