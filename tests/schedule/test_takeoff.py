"""Areas against the codes and worked figures that they are measured by."""

from dataclasses import replace

import pytest

from housemap.model.house import House, Opening, Room, Window
from housemap.schedule.takeoff import deducted_m2, surface_areas_m2
from tests.support.houses import grid_house


@pytest.mark.parametrize(("opening", "total"), [(0.4, 0.0), (1.89, 1.89), (4.0, 8.0)])
def test_holes_are_deducted_as_the_code_says(opening: float, total: float) -> None:
    """IS 1200 Part 13:1994, clause 3: none, one face, both faces."""
    assert deducted_m2(opening) == pytest.approx(total)


def test_the_walls_of_a_worked_room() -> None:
    """5 x 4 x 2.5 m with openings of 1.89 and 1.80 m2: 45.00 - 3.69 = 41.31 m2 (arithmetic)."""
    windows = {
        "one": Window("n", 0.5, 0.9, 2.1, 0.1),
        "two": Window("s", 0.5, 1.2, 1.5, 0.9),
    }
    house = House(rooms={"room": Room("R", size_m=(5, 4), height_m=2.5, windows=windows)})
    areas = surface_areas_m2(house, "room")
    assert areas is not None
    assert areas["walls"] == pytest.approx(41.31)
    assert areas["ceiling"] == pytest.approx(20.0)


def test_a_flush_door_is_1_2_times_its_area_on_each_side() -> None:
    """IS 1200 Part 15:1987, Table 1: 0.9 x 2.1 m, both sides, 4.536 m2."""
    house = House(
        rooms={key: Room(key, size_m=(3, 3), height_m=2.4) for key in ("a", "b")},
        openings={"d": Opening(("a", "b"), "doorway", width_m=0.9, height_m=2.1)},
    )
    sides = [surface_areas_m2(house, key) for key in ("a", "b")]
    assert sum(areas["doors"] for areas in sides if areas) == pytest.approx(4.536)


def test_a_doorway_between_two_rooms_takes_one_face_off_both_together() -> None:
    house = grid_house(2)
    areas = [surface_areas_m2(house, key) for key in house.rooms]
    walls = sum(one["walls"] for one in areas if one)
    windows = 2 * 1.0 * 1.2
    assert walls == pytest.approx(2 * 2 * (4 + 3) * 2.4 - windows - 0.8 * 2.0)


def test_a_room_without_measures_has_no_area_rather_than_none_to_paint() -> None:
    house = grid_house(1)
    unmeasured = replace(house, rooms={"r0000": replace(house.rooms["r0000"], size_m=None)})
    assert surface_areas_m2(unmeasured, "r0000") is None
