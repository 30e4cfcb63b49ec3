"""The map in true pixels agrees with the map in cells, and hides no word of it."""

from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.file.reader import read_house
from housemap.model.house import House, Opening, Paint, Room, Side, Srgb, SurfacePaints
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.pixels import Pixels, rgb_of
from housemap.plan.placing import place
from housemap.plan.solids import blocks_in
from housemap.tui.describe import sights_of
from housemap.tui.map.drawing import Drawing, Looking, Scene, View
from housemap.tui.map.picture import Selected
from housemap.tui.map.pixel_map import MapInPixels, filled, stroke
from housemap.tui.render.look import Look
from housemap.tui.render.shades import blocks_of, shades_of
from housemap.workbench.session import Session
from tests.support.plans import random_house
from tests.support.project import DEMO

CELL = 9, 18
DEMO_HOUSE = read_house(DEMO)


def drawn(
    house: House, room: str, size: tuple[int, int], enlarged: float = 1.0
) -> tuple[Selected, Pixels]:
    session = Session.of(house)
    session.select(room)
    level = house.rooms[room].level
    scene = Scene(house, session.plan, level, blocks_of(shades_of(session)), Look())
    view = View(scene, room, Looking(room, tuple(sights_of(session))), size, enlarged)
    drawing = Drawing()
    drawing.draw(view)
    assert drawing.selected
    return drawing.selected, MapInPixels(drawing.selected, view, CELL).pixels()


def check_bodies(selected: Selected, pixels: Pixels) -> None:
    """Cells without a wall, a word or a line show the very colour of their room.

    But for a few in which the leaf of a door swings.
    """
    geometry = selected.picture.geometry
    lined = {(stamp.column, stamp.row) for stamp in selected.lines}
    lined |= {cell for gap in geometry.gaps.values() for cell in gap.cells}
    found = crossed = 0
    for row, sides in enumerate(geometry.walls):
        for column, walls in enumerate(sides):
            number = geometry.grid.at(column, row)
            around = {(column + i, row + j) for i in (-2, -1, 0, 1, 2) for j in (-1, 0, 1)}
            if number < 0 or walls or not around.isdisjoint(lined | selected.picture.written):
                continue
            inks = selected.picture.inks[number]
            is_framed = geometry.rooms[number] == selected.room
            if is_framed or inks.filler.strip() or (column, row) in geometry.accents:
                continue
            cell = pixels[row * CELL[1] : (row + 1) * CELL[1], column * CELL[0] :][:, : CELL[0]]
            middle = cell[CELL[1] // 2, CELL[0] // 2]
            assert inks.body
            crossed += tuple(middle) != (*rgb_of(inks.body), 255)
            found += 1
    assert crossed <= 0.02 * found
    assert found


@pytest.mark.parametrize("room", ["hall", "landing", "garden-bedroom"])
@pytest.mark.parametrize("size", [(80, 24), (130, 46)])
def test_swatches_are_true_and_every_word_is_free(room: str, size: tuple[int, int]) -> None:
    selected, pixels = drawn(DEMO_HOUSE, room, size)
    assert pixels.shape == (size[1] * CELL[1], size[0] * CELL[0], 4)
    if size[0] > 80:
        check_bodies(selected, pixels)
    words = np.zeros((size[1], size[0]), dtype=np.bool_)
    for stamp in selected.words():
        words[stamp.row, stamp.column : stamp.column + stamp.width] = True
    assert words.any()
    free = words.repeat(CELL[1], axis=0).repeat(CELL[0], axis=1)
    assert ((pixels[..., 3] == 0) == free).all()


def test_the_names_of_all_rooms_of_the_level_can_be_read() -> None:
    selected, _ = drawn(DEMO_HOUSE, "hall", (130, 46))
    words = " ".join(stamp.text for stamp in selected.words())
    for room in selected.picture.geometry.rooms:
        assert all(part in words for part in DEMO_HOUSE.rooms[room].name.split())


@settings(max_examples=4, deadline=None)
@given(st.integers(0, 2**32), st.integers(1, 9))
def test_any_plan_is_drawn_as_its_cells_are(seed: int, count: int) -> None:
    house = random_house(Random(seed), count, ells=0.5, loops=0.6)
    selected, pixels = drawn(house, next(iter(house.rooms)), (100, 40))
    ground = rgb_of(Look().greys.ground or "")
    geometry = selected.picture.geometry
    for row in range(geometry.port.rows):
        for column in range(geometry.port.columns):
            beside = [geometry.grid.at(column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1)]
            if max(beside) < 0:
                cell = pixels[row * CELL[1] : (row + 1) * CELL[1], column * CELL[0] :][:, : CELL[0]]
                assert (cell[..., :3] == ground).all()


def test_two_rooms_of_one_colour_are_kept_apart_by_a_hairline() -> None:
    """Hall and kitchen meet at a wall with a cased opening: its gap has no line."""
    selected, pixels = drawn(DEMO_HOUSE, "study", (130, 46))
    picture = selected.picture
    gap = picture.geometry.gaps["hall-kitchen"]
    (column, row), *_ = gap.near
    body = picture.inks[picture.numbers["hall"]].body
    assert body
    middle = len(gap.near) // 2 * CELL[0] + column * CELL[0]
    through = pixels[(row - 1) * CELL[1] : (row + 1) * CELL[1], middle, :3]
    assert (through == rgb_of(body)).all()
    walls = [c for c, sides in enumerate(picture.geometry.walls[row]) if sides and c > column + 12]
    beside = pixels[(row - 1) * CELL[1] : (row + 1) * CELL[1], walls[0] * CELL[0] + 4, :3]
    assert (beside == rgb_of(Look().greys.ground or "")).all(axis=1).sum() in {1, 2, 3}


@pytest.mark.parametrize(
    ("corners", "area"),
    [
        (((1.0, 1.0), (5.0, 1.0), (5.0, 4.0), (1.0, 4.0)), 12),
        (((0.0, 0.0), (10.0, 0.0), (0.0, 10.0)), 45),
        (((-5.0, -5.0), (2.0, -5.0), (2.0, 3.0), (-5.0, 3.0)), 6),
        (((30.0, 30.0), (40.0, 30.0), (40.0, 40.0)), 0),
    ],
)
def test_a_figure_is_filled_where_pixels_have_their_centres_in_it(
    corners: tuple[tuple[float, float], ...], area: int
) -> None:
    _, inside = filled(corners, (12, 12))
    assert inside.sum() == area


def test_a_line_is_as_wide_as_asked_for() -> None:
    place, inside = filled(stroke((2.0, 5.0), (9.0, 5.0), 2.0), (12, 12))
    assert (place[0].start + np.flatnonzero(inside.any(axis=1))).tolist() == [4, 5]
    assert inside.sum() == 14


@pytest.mark.parametrize("hinge", ["left", "right"])
@pytest.mark.parametrize("into", ["hall", "box"])
@pytest.mark.parametrize("enlarged", [1.0, 1.4])
def test_a_leaf_hangs_on_the_map_where_it_hangs_in_the_walk(
    hinge: Side, into: str, enlarged: float
) -> None:
    door = Opening(
        ("hall", "box"), "doorway", wall="n", along_m=2.0, to_wall="s", to_along_m=2.0,
        width_m=0.8, hinge=hinge, into=into,
    )  # fmt: skip
    paints = SurfacePaints("oat", "oat", "oat", "red")
    rooms = {
        "hall": Room("Hall", size_m=(5.0, 2.4), height_m=2.6, at_m=(0.0, 0.0), paints=paints),
        "box": Room("Box", size_m=(5.0, 4.0), height_m=2.6, paints=paints),
    }
    colours = {"oat": Paint("Oat", Srgb("#d8d0c0")), "red": Paint("Red", Srgb("#a01010"))}
    house = House(rooms=rooms, openings={"door": door}, paints=colours)
    selected, pixels = drawn(house, "hall", (100, 40), enlarged)
    plan = place(house)
    elevations = Elevations(house, plan, space_of(house, plan))
    (leaf,) = [block for room in rooms for block in blocks_in(elevations, room)]
    x, y = np.mean(leaf.corners, axis=0).tolist()
    geometry = selected.picture.geometry
    column, row = geometry.frame.at((x, y))
    at_x = int((column - geometry.port.column) * CELL[0])
    at_y = int((row - geometry.port.row) * CELL[1])
    about = pixels[at_y - 6 : at_y + 7, at_x - 9 : at_x + 10, :3].reshape(-1, 3)
    assert (about == (0xA0, 0x10, 0x10)).all(axis=1).any()
