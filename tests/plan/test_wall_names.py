"""A wall is called by its side, its length and what is in it."""

from dataclasses import replace

import pytest

from housemap.model.geometry import walls
from housemap.model.house import House, Opening, Room, Window
from housemap.plan.floor_plan import plan_side, short_wall_name, wall_letters, wall_name

HALL = Room("Hall", size_m=(1.8, 5.25), windows={"front": Window("s", 0.3, 1.2, 1.1, 0.9)})
LIVING = Room("Living room", size_m=(4, 5))
NOOK = Room("Nook", outline_m=((0, 0), (4, 0), (4, 3), (2, 3), (2, 2), (0, 2)))
HOUSE = House(
    rooms={"hall": HALL, "living": LIVING, "nook": NOOK, "attic": Room("Attic")},
    openings={
        "a": Opening(("hall", "living"), "doorway", wall="w", to_wall="e"),
        "b": Opening(("hall", "nook"), "open", wall="w", to_wall="1"),
    },
)


def test_a_wall_tells_its_side_length_and_what_is_in_it() -> None:
    assert wall_name(HOUSE, "hall", "w") == "west wall, 5.2 m, door to Living room, opening to Nook"
    assert wall_name(HOUSE, "living", "e") == "east wall, 5.0 m, door to Hall"
    assert wall_name(HOUSE, "hall", "s") == "south wall, 1.8 m, window"
    assert wall_name(HOUSE, "hall", "n") == "north wall, 1.8 m"


def test_lengths_are_in_the_units_of_the_house() -> None:
    assert wall_name(replace(HOUSE, units="ft"), "hall", "n") == "north wall, 5'11\""


def test_of_two_walls_on_a_side_the_length_tells_which() -> None:
    norths = [short_wall_name(HOUSE, "nook", wall.key) for wall in walls(NOOK)]
    assert [name for name in norths if name.startswith("north")] == ["north wall, 2.0 m"] * 2
    assert short_wall_name(HOUSE, "hall", "n") == "north wall"


def test_an_unmeasured_room_has_the_four_sides() -> None:
    assert wall_name(HOUSE, "attic", "n") == "north wall"


@pytest.mark.parametrize(
    ("north_deg", "name", "letters"),
    [(0.0, "north wall", "N"), (100.0, "west wall", "W"), (-45.0, "north-east wall", "NE")],
)
def test_a_wall_is_called_by_the_compass_not_by_the_paper(
    north_deg: float, name: str, letters: str
) -> None:
    house = replace(HOUSE, north_deg=north_deg)
    assert short_wall_name(house, "hall", "n") == name == short_wall_name(house, "attic", "n")
    assert wall_letters(house, "hall")["n"] == letters


def test_walls_that_face_one_way_are_numbered() -> None:
    marks = wall_letters(HOUSE, "nook")
    assert marks == {"0": "S", "1": "E", "2": "N1", "3": "W1", "4": "N2", "5": "W2"}
    assert set(wall_letters(HOUSE, "hall").values()) == {"N", "E", "S", "W"}


def test_as_it_is_typed_a_wall_goes_by_the_sides_of_the_map() -> None:
    assert plan_side(HALL, "s", 0.0) == "south wall"
    assert plan_side(HALL, "s", 90.0) == "east wall (down on the map)"
