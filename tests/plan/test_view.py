"""The first-person view against a ray caster of its own, pixel by pixel (tests.support.pixels)."""

from dataclasses import replace
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from housemap.file.reader import read_house
from housemap.model.house import Accent, House, Opening, Room, Window
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.house_graph import EYE_M
from housemap.plan.placing import Plan, place
from housemap.plan.raster import View
from housemap.plan.view import STOOPED, Camera, look, look_about
from housemap.plan.visibility import standing_points
from tests.support.pixels import SolidHouse
from tests.support.plans import random_house
from tests.support.project import DEMO

WIDTH, HEIGHT = 40, 24
BOX = Room("Box", size_m=(4.0, 4.0), height_m=2.6)


def seen(house: House, plan: Plan, camera: Camera, size: tuple[int, int] = (WIDTH, HEIGHT)) -> View:
    view = look(Elevations(house, plan, space_of(house, plan)), camera, *size)
    assert view is not None
    return view


def shown(view: View) -> list[list[tuple[str, str]]]:
    labels = [(face.room, face.surface) for face in view.faces]
    return [[labels[pixel] for pixel in row] for row in view.face.tolist()]


def differing(house: House, camera: Camera) -> int:
    plan = place(house)
    mine = shown(seen(house, plan, camera))
    level = house.rooms[camera.room].level
    theirs = SolidHouse(house, plan, level).picture(camera, WIDTH, HEIGHT)
    return sum(a != b for x, y in zip(mine, theirs, strict=True) for a, b in zip(x, y, strict=True))


def alone(**changes: object) -> House:
    return House(rooms={"box": replace(BOX, **changes)})  # type: ignore[arg-type]  # any field


@pytest.mark.parametrize("bearing", range(10, 370, 40))
@pytest.mark.parametrize("room", ["hall", "living", "kitchen", "landing", "garden-bedroom"])
def test_every_pixel_of_the_demo_house_is_the_ray_casters(room: str, bearing: float) -> None:
    house = read_house(DEMO)
    plan = place(house)
    points = standing_points(space_of(house, plan).rooms[room])
    x, y = points[len(points) // 3]
    camera = Camera(room, (float(x) + 0.013, float(y) + 0.007), bearing)
    assert differing(house, camera) <= WIDTH * HEIGHT // 500


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 2**32), st.integers(1, 10))
def test_every_pixel_of_any_plan_is_the_ray_casters(seed: int, count: int) -> None:
    random = Random(seed)
    house = random_house(random, count, ells=0.5, loops=0.6)
    plan = place(house)
    room = random.choice(sorted(house.rooms))
    x, y = random.choice(standing_points(space_of(house, plan).rooms[room]).tolist())
    camera = Camera(room, (x + random.uniform(-0.1, 0.1), y + random.uniform(-0.1, 0.1)),
                    random.uniform(0, 360))  # fmt: skip
    assert differing(house, camera) <= WIDTH * HEIGHT // 500


ODD = House(
    wall_thickness_m=0.3,
    rooms={
        "great": Room(
            "Great", outline_m=((0, 0), (6, 0), (7.5, 3), (6, 6), (3, 6), (3, 4), (0, 4)),
            height_m=3.4, at_m=(0.0, 0.0),
            windows={
                "big": Window("0", 1.0, 3.6, 2.9, 0.1), "slant": Window("1", 0.8, 1.6, 1.4, 0.9),
            },
        ),
        "loft": Room(
            "Loft", level=1, size_m=(4.0, 4.0), height_m=1.9, at_m=(0.0, 0.0),
            windows={"low": Window("s", 1.0, 0.6, 0.6, 1.1)},
        ),
        "garden": Room("Garden", use="outdoor", size_m=(2.7, 3.0), height_m=2.4),
    },
    openings={
        "up": Opening(("great", "loft"), "stairs", wall="3", along_m=0.4, to_wall="n",
                      to_along_m=1.0, width_m=0.9, height_m=1.9),
        "out": Opening(("great", "garden"), "glazed", wall="5", along_m=0.3, to_wall="s",
                       to_along_m=0.2, width_m=2.3, height_m=2.1),
    },
)  # fmt: skip
"""Slanted walls, thick ones, a low room, stairs out of a room that is more than stairs."""


@settings(max_examples=5, deadline=None)
@given(st.sampled_from(sorted(ODD.rooms)), st.integers(0, 2**32))
def test_every_pixel_of_an_odd_house_is_the_ray_casters(room: str, seed: int) -> None:
    random = Random(seed)
    space = space_of(ODD, place(ODD))
    x, y = random.choice(standing_points(space.rooms[room]).tolist())
    eye_m = min(EYE_M, STOOPED * (ODD.rooms[room].height_m or 0.0))
    camera = Camera(room, (x + 0.0131, y + 0.0071), random.uniform(0, 360), eye_m=eye_m)
    assert differing(ODD, camera) <= WIDTH * HEIGHT // 500
    check_smooth(ODD, camera)


def covers(view: View) -> NDArray[np.float64]:
    """The part of each pixel that each face covers."""
    found = np.zeros((view.face.size, len(view.faces)))
    found[np.arange(view.face.size), view.face.ravel()] = 1.0
    assert view.edges
    found[view.edges.pixel] = 0.0
    np.add.at(found, (view.edges.pixel, view.edges.face), view.edges.cover)
    return found


FINER = 32
"""A plain picture so many times as fine is the brute force that a smooth one is compared with."""


def check_smooth(house: House, camera: Camera) -> None:
    plan = place(house)
    elevations = Elevations(house, plan, space_of(house, plan))
    smooth = look(elevations, camera, WIDTH, HEIGHT, smooth=True)
    plain = look(elevations, camera, WIDTH, HEIGHT)
    fine = look(elevations, camera, WIDTH * FINER, HEIGHT * FINER)
    assert smooth
    assert plain
    assert fine
    assert np.mean(np.array(shown(smooth)) != np.array(shown(plain))) <= 1 / 500
    number = {face: i for i, face in enumerate(smooth.faces)}
    count = len(smooth.faces)
    faces = np.array([number.get(face, count) for face in fine.faces])[fine.face]
    blocks = faces.reshape(HEIGHT, FINER, WIDTH, FINER).transpose(0, 2, 1, 3).reshape(-1, FINER**2)
    brute = np.stack([(blocks == i).mean(axis=1) for i in range(count)], axis=-1)
    covered = covers(smooth)
    assert covered.sum(axis=1) == pytest.approx(1.0, abs=1e-5)
    off = np.abs(covered - brute).max(axis=1)
    assert off.mean() <= 0.01
    assert smooth.edges
    assert off[smooth.edges.pixel].sum() <= 0.02 * len(smooth.edges.pixel)


@pytest.mark.parametrize(
    ("room", "bearing"),
    [("hall", 20.0), ("hall", 203.0), ("stairs", 20.0), ("kitchen", 203.0), ("landing", 20.0),
     ("cloakroom", 203.0), ("terrace", 20.0)],
)  # fmt: skip
def test_a_smooth_picture_covers_pixels_as_a_much_finer_one(room: str, bearing: float) -> None:
    house = read_house(DEMO)
    points = standing_points(space_of(house, place(house)).rooms[room])
    x, y = points[len(points) // 2]
    check_smooth(house, Camera(room, (float(x) + 0.013, float(y) + 0.007), bearing))


@settings(max_examples=4, deadline=None)
@given(st.integers(0, 2**32), st.integers(1, 8))
def test_a_smooth_picture_of_any_plan_covers_pixels_as_a_finer_one(seed: int, count: int) -> None:
    random = Random(seed)
    house = random_house(random, count, ells=0.5, loops=0.6)
    plan = place(house)
    room = random.choice(sorted(house.rooms))
    x, y = random.choice(standing_points(space_of(house, plan).rooms[room]).tolist())
    check_smooth(house, Camera(room, (x, y), random.uniform(0, 360)))


def test_a_wall_two_metres_off_is_seen_at_the_angle_worked_by_hand() -> None:
    """Eye at 1.6 m, wall at 2 m, 2.6 m high: its top is at atan(1 / 2) over the horizon."""
    house = alone()
    view = seen(house, place(house), Camera("box", (2.0, 2.0), 0.0, field_deg=90.0), (200, 200))
    column = [face.surface for face in (view.faces[i] for i in view.face[:, 100])]
    # The focal length is 100 pixels: the wall's top is 50 rows over the middle, its foot 80 below.
    assert column.index("walls") == 50
    assert column.index("trim") == 175
    assert column.index("floor") == 180
    assert view.depth_m[100, 100] == pytest.approx(2.0)


def test_the_floor_in_view_is_as_far_as_its_row_says() -> None:
    house = alone()
    view = seen(house, place(house), Camera("box", (2.0, 2.0), 0.0, field_deg=90.0), (200, 200))
    assert view.depth_m[199, 100] == pytest.approx(1.6 * 100 / 99.5)


def test_an_accent_wall_is_told_from_the_others() -> None:
    house = alone(accents={"n": Accent("moss")})
    north = seen(house, place(house), Camera("box", (2.0, 2.0), 0.0)).shares()
    south = seen(house, place(house), Camera("box", (2.0, 2.0), 180.0)).shares()
    assert ("box", "accent n") in north
    assert ("box", "accent n") not in south


def test_a_window_lies_in_its_wall_with_a_frame_round_it() -> None:
    house = alone(windows={"w": Window("e", 1.4, 1.2, 1.1, 0.9)})
    east = seen(house, place(house), Camera("box", (2.0, 2.0), 90.0), (160, 96))
    middle = [east.faces[i].surface for i in east.face[48]]
    assert middle.index("window") < 80 < len(middle) - middle[::-1].index("window")
    assert middle[middle.index("window") - 1] == "trim"


def test_a_window_up_to_the_ceiling_is_seen() -> None:
    """Though 0.01 m + 2.59 m are a little less than 2.6 m in binary numbers."""
    assert 0.01 + 2.59 < 2.6
    house = alone(windows={"w": Window("e", 1.4, 1.2, 2.59, 0.01)})
    shares = seen(house, place(house), Camera("box", (2.0, 2.0), 90.0)).shares()
    assert shares["box", "window"] > 0.1


@pytest.mark.parametrize("height_m", [0.3, 1.2, 1.6])
def test_in_a_room_lower_than_ones_eyes_one_stoops(height_m: float) -> None:
    house = alone(height_m=height_m)
    view = seen(house, place(house), Camera("box", (2.0, 2.0), 90.0))
    assert view.shade.max() <= 1.0
    assert view.depth_m.min() > 0.0
    assert {surface for _, surface in view.shares()} >= {"ceiling", "walls", "floor"}


def test_shares_of_the_view_are_counted_and_sum_to_one() -> None:
    house = read_house(DEMO)
    view = seen(house, place(house), Camera("hall", (4.7, 1.0), 0.0))
    shares = view.shares()
    assert sum(shares.values()) == pytest.approx(1.0)
    labels = [label for row in shown(view) for label in row]
    for label, share in shares.items():
        assert share == pytest.approx(labels.count(label) / len(labels))


def test_shade_reads_the_space_and_stays_near_one() -> None:
    house = read_house(DEMO)
    view = seen(house, place(house), Camera("hall", (4.7, 1.0), 0.0))
    assert view.shade.min() > 0.7
    assert view.shade.max() <= 1.0
    assert len(np.unique(np.round(view.shade, 2))) > 3


@pytest.mark.parametrize("room", ["living", "hall"])
def test_pictures_taken_at_once_are_those_taken_one_by_one(room: str) -> None:
    house = read_house(DEMO)
    plan = place(house)
    elevations = Elevations(house, plan, space_of(house, plan))
    at = standing_points(elevations.space.rooms[room])[0]
    camera, turns = Camera(room, (float(at[0]), float(at[1])), 10.0), (0.0, 90.0, 215.0)
    together = look_about(elevations, camera, turns, WIDTH, HEIGHT)
    assert together is not None
    for turn, part in zip(turns, together.parts(len(turns)), strict=True):
        alone = look(elevations, camera._replace(toward_deg=10.0 + turn), WIDTH, HEIGHT)
        assert alone is not None
        assert shown(part) == shown(alone)
        assert np.array_equal(part.shade, alone.shade)
        assert np.array_equal(part.depth_m, alone.depth_m)


def test_there_is_no_view_from_outside_the_room() -> None:
    house = alone()
    plan = place(house)
    elevations = Elevations(house, plan, space_of(house, plan))
    assert look(elevations, Camera("box", (9.0, 9.0), 0.0), WIDTH, HEIGHT) is None
    assert look(elevations, Camera("attic", (1.0, 1.0), 0.0), WIDTH, HEIGHT) is None
