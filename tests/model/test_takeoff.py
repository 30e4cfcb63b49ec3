"""Areas against the codes and worked figures that they are measured by."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from housemap.file.reader import read_house
from housemap.model.edits import put
from housemap.model.house import Accent, House, Opening, Part, Room, Window
from housemap.model.samples import samples_to_see
from housemap.model.takeoff import areas_of_rooms, deducted_m2
from tests.support.houses import grid_house
from tests.support.project import DEMO


def surface_areas_m2(house: House, room: str) -> Mapping[str, float] | None:
    areas = areas_of_rooms(house)[room]
    return areas.to_paint_m2 if areas else None


@pytest.mark.parametrize(("opening", "total"), [(0.4, 0.0), (1.89, 1.89), (4.0, 8.0)])
def test_holes_are_deducted_as_the_code_says(opening: float, total: float) -> None:
    """IS 1200 Part 13:1994, clause 3: none, one face, both faces; here of two rooms."""
    assert 2 * deducted_m2(opening) == pytest.approx(total)


@pytest.mark.parametrize(
    ("room", "walls"),
    [
        ("cloakroom", 2 * (1.2 + 2.2) * 2.55 - 0.7 * 2.0 / 2),
        ("dressing-room", 2 * (2.3 + 2.0) * 2.4 - 0.8 * 1.1 - 0.8 * 2.1 / 2),
        # the opening to the dining room is above 3 m2, so it is deducted whole on both sides
        ("living", 2 * (3.9 + 5.3) * 2.55 - 2.2 * 1.45 - 0.9 * 1.2 - 0.8 * 2.0 / 2 - 2.5 * 2.3),
        # the front door has one face indoors
        ("hall", 2 * (2.3 + 5.3) * 2.55 - 0.35 * 1.9 - 0.9 * 2.1
         - (0.9 * 2.1 + 0.8 * 2.0 + 0.9 * 2.4 + 0.8 * 2.0) / 2),
    ],
)  # fmt: skip
def test_the_walls_of_the_demo_are_as_a_painter_reckons_them(room: str, walls: float) -> None:
    """By hand: round times height; windows whole, of a doorway between two rooms half in each."""
    house = read_house(DEMO)
    wide = replace(house.openings["living-dining"], width_m=2.5, height_m=2.3)
    areas = areas_of_rooms(put(house, "openings", "living-dining", wide))[room]
    assert areas is not None
    assert areas.to_paint_m2["walls"] == pytest.approx(walls)


def test_a_finding_names_the_area_that_the_papers_have() -> None:
    """A wall that is tiled in part: what is tiled needs no sample."""
    house = replace(read_house(DEMO), limits={})
    areas = areas_of_rooms(house)
    named = {(each.room, each.surface): each.area_m2 for each in samples_to_see(house)}
    large = {place: area for place, area in named.items() if area is not None}
    assert ("bathroom", "walls") in large
    for (room, surface), area in large.items():
        of_room = areas[room]
        assert of_room is not None
        assert area == pytest.approx(of_room.to_paint_m2[surface])


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


def with_parts(*parts: Part) -> Mapping[str, float]:
    """4 x 5 x 2.5 m with one door and one window: 45 m2 gross, 18 m round."""
    rooms = {
        "a": Room("A", size_m=(4, 5), height_m=2.5, accents={"n": Accent("oat")},
                  windows={"w": Window("s", 1.0, 1.0, 1.2, 0.9)},
                  parts={str(n): part for n, part in enumerate(parts)}),
        "b": Room("B", size_m=(4, 5), height_m=2.5),
    }  # fmt: skip
    door = Opening(("a", "b"), "doorway", width_m=0.8, height_m=2.0)
    areas = surface_areas_m2(House(rooms=rooms, openings={"d": door}), "a")
    assert areas is not None
    return areas


def test_a_tiled_or_papered_piece_is_taken_off_its_own_wall() -> None:
    plain = with_parts()
    assert with_parts(Part("tile", area_m2=2.0))["walls"] == pytest.approx(plain["walls"] - 2.0)
    on_accent = with_parts(Part("paper", wall="n", area_m2=2.0))
    assert on_accent["walls"] == pytest.approx(plain["walls"])
    assert on_accent["accent n"] == pytest.approx(plain["accent n"] - 2.0)


def test_a_wall_papered_whole_leaves_nothing_of_it_to_paint() -> None:
    areas = with_parts(Part("paper", wall="n"))
    assert areas["accent n"] == 0.0
    assert areas["part 0"] == pytest.approx(4.0 * 2.5)


def test_panelling_counts_1_3_times_what_it_takes_of_the_wall() -> None:
    """IS 1200 Part 15:1987, Table 1: panelled or framed."""
    plain, areas = with_parts(), with_parts(Part("panelling", area_m2=3.0))
    assert areas["part 0"] == pytest.approx(3.9)
    assert areas["walls"] == pytest.approx(plain["walls"] - 3.0)


def test_a_panelled_door_takes_the_place_of_a_flush_one() -> None:
    """IS 1200 Part 15:1987, Table 1: 1.3 against 1.2, each side."""
    areas = with_parts(Part("panelled-door", paint="oat"))
    assert areas["doors"] == 0.0
    assert areas["part 0"] == pytest.approx(1.3 * 0.8 * 2.0)


def test_skirting_as_a_part_of_its_own_leaves_the_trim_with_casings() -> None:
    """18 m round less the door, by a girth of 0.12 m; common practice, no source."""
    areas = with_parts(Part("skirting", paint="oat"))
    assert areas["part 0"] == pytest.approx((18.0 - 0.8) * 0.12)
    assert areas["trim"] == pytest.approx(with_parts()["trim"] - areas["part 0"])


@pytest.mark.parametrize(
    ("part", "area"),
    [
        (Part("window", paint="oat"), 0.8 * 1.2),  # glazed timber 0.8: IS 1200 Part 15, Table 1
        (Part("radiator", length_m=1.5, count=2), 2 * 2 * 1.5 * 0.6),  # common practice
        (Part("tile", length_m=3.0), 3.0),  # to rail height, 1 m: common practice
        (Part("other", area_m2=0.7), 0.7),
    ],
)
def test_other_parts_have_areas_of_their_own(part: Part, area: float) -> None:
    assert with_parts(part)["part 0"] == pytest.approx(area)


def test_a_part_without_a_measure_is_not_measured_rather_than_nothing() -> None:
    assert "part 0" not in with_parts(Part("other"))
