"""Lines of boards and tiles on floors: where the name says so, faint, and without flicker."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.model.house import Finish, House, Notation, Room
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.placing import place
from housemap.plan.raster import View
from housemap.plan.view import (
    BOARD_M,
    JOINT_M,
    TILE_M,
    Camera,
    Pattern,
    joint_share,
    look,
    pattern_of,
)


def elevations_of(name: str, size: tuple[float, float] = (3.0, 5.0)) -> Elevations:
    room = Room("Box", size_m=size, height_m=2.6, at_m=(0.0, 0.0), floor="laid")
    house = House(rooms={"box": room}, finishes={"laid": Finish(name, Notation("5YR 5/3"))})
    plan = place(house)
    return Elevations(house, plan, space_of(house, plan))


@pytest.mark.parametrize(
    ("name", "size", "pattern"),
    [
        ("Oak boards, oiled", (3.0, 5.0), Pattern(BOARD_M, 0.0)),
        ("Oak boards, oiled", (5.0, 3.0), Pattern(0.0, BOARD_M)),
        ("Chequer tile, black and stone", (3.0, 5.0), Pattern(TILE_M, TILE_M)),
        ("Wool carpet, undyed", (3.0, 5.0), None),
    ],
)
def test_a_floor_has_the_lines_that_its_name_says(
    name: str, size: tuple[float, float], pattern: Pattern | None
) -> None:
    assert pattern_of(elevations_of(name, size), "box") == pattern


@given(st.floats(0.0, 20.0), st.floats(0.001, 3.0), st.sampled_from([BOARD_M, TILE_M]))
def test_the_share_of_joints_is_what_many_points_of_the_stretch_say(
    place_m: float, wide_m: float, step_m: float
) -> None:
    points = place_m + wide_m * ((np.arange(4000) + 0.5) / 4000 - 0.5)
    counted = np.mean(points % step_m < JOINT_M)
    one = np.array([place_m], dtype=np.float32), np.array([wide_m], dtype=np.float32)
    assert joint_share(*one, step_m)[0] == pytest.approx(counted, abs=0.01)


def test_lines_only_darken_the_floor_a_little_and_leave_every_face() -> None:
    camera = Camera("box", (1.5, 0.6), 0.0)

    def seen(name: str) -> View:
        view = look(elevations_of(name), camera, 90, 60, smooth=True)
        assert view is not None
        return view

    plain, lined = seen("Wool carpet"), seen("Oak boards")
    assert (plain.face == lined.face).all()
    is_floor = np.array([face.surface == "floor" for face in plain.faces])[plain.face]
    assert (plain.shade[~is_floor] == lined.shade[~is_floor]).all()
    ratio = lined.shade[is_floor] / plain.shade[is_floor]
    assert ratio.max() <= 1.0
    assert 0.8 < ratio.min() < 0.99
    assert ratio.mean() > 0.97


def test_a_picture_without_lines_is_as_it_was() -> None:
    camera = Camera("box", (1.5, 0.6), 0.0)
    elevations = elevations_of("Oak boards")
    view = look(elevations, camera, 30, 20)
    house = replace(elevations.house, finishes={"laid": Finish("Carpet", Notation("5YR 5/3"))})
    other = look(Elevations(house, elevations.plan, elevations.space), camera, 30, 20)
    assert view
    assert other
    assert (view.shade == other.shade).all()
