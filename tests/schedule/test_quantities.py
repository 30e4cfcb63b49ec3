"""Litres, tins and cost of a house, against worked figures."""

import datetime as dt
from dataclasses import replace

import pytest

from housemap.checks import report_of
from housemap.errors import InputError
from housemap.model.edits import assign, put
from housemap.model.house import Brief, House, Lab, Room, RoomBrief, State, SurfacePaints, Window
from housemap.schedule import sections, wording
from housemap.schedule.blocks import Text
from housemap.schedule.document import Schedule, schedule_of
from housemap.schedule.existing import Before, existing_coats
from housemap.schedule.purchase import Purchase
from housemap.schedule.quantities import Quantities, quantities
from housemap.schedule.reasons import rooms_in_doubt
from housemap.study import study_of
from tests.support.houses import grid_house, paint, small_house

DAY = dt.date(2026, 5, 2)


def room_5_by_4(price: float | None = None) -> House:
    windows = {
        "one": Window("n", 0.5, 0.9, 2.1, 0.1),
        "two": Window("s", 0.5, 1.2, 1.5, 0.9),
    }
    room = Room(
        "R", size_m=(5, 4), height_m=2.5, windows=windows, paints=SurfacePaints(walls="oat")
    )
    return House(
        rooms={"room": room}, paints={"oat": paint(coverage=12.0, tins=(2.5, 5.0), price=price)}
    )


def how(schedule: Schedule) -> str:
    return " ".join(sections.measuring_rules(schedule))


def of(house: House, before: House | None = None) -> Quantities:
    found = Before(before, "found.toml") if before else None
    return quantities(study_of(house), existing_coats(house, found))


def test_a_kept_room_is_listed_without_coats_litres_or_labour() -> None:
    house = replace(small_house(), brief=Brief(rooms={"kitchen": RoomBrief(keep=True)}))
    states = {"walls": State("oat", condition="worn"), "ceiling": State(ground="paper")}
    kitchen_now = replace(house.rooms["kitchen"], states=states)
    house = replace(house, rooms={**house.rooms, "kitchen": kitchen_now})
    schedule = schedule_of(report_of(house), DAY)
    amounts = schedule.quantities
    assert {line.room for line in amounts.lines} == {"hall", "study"}
    assert not any(room == "kitchen" for room, _ in amounts.unchosen)
    assert not any(each.room == "kitchen" for each in amounts.left)
    rooms = sections.rooms(schedule, walls=True).parts
    [kitchen] = [each for each in rooms if each.title == "Kitchen"]
    [text] = kitchen.blocks
    assert text == Text(
        "Kept as it is, not painted. Known of it: walls: painted, Oat Ladle, LRV 63, worn; ceiling:"
        " papered, sound; trim, doors: not noted on site (as planned: Chalk Lump, LRV 87)."
    )
    matters = [matter for matter in schedule.matters if "kitchen" in matter.rooms]
    assert matters
    assert "kitchen" not in rooms_in_doubt(schedule)
    assert not any(tester.room == "kitchen" for tester in schedule.testers)


def test_the_litres_of_a_worked_room() -> None:
    """41.31 m2 x 2 coats / 12 m2 per litre = 6.885 l, and 10 % = 7.574 l (arithmetic)."""
    found = of(room_5_by_4())
    [line], [need] = found.lines, found.needs
    assert line.litres == pytest.approx(6.885)
    assert need.litres == pytest.approx(7.5735)


def test_cost_is_that_of_the_tins_bought() -> None:
    [need] = of(room_5_by_4(price=20.0)).needs
    assert need.purchase is not None
    assert need.purchase.litres == pytest.approx(7.5)
    assert need.cost == pytest.approx(150.0)


def test_a_coverage_not_stated_is_told_as_assumed() -> None:
    house = room_5_by_4()
    house = put(house, "paints", "oat", replace(house.paints["oat"], coverage=None))
    [need] = of(house).needs
    assert need.litres == pytest.approx(41.31 * 2 / 12 * 1.1)
    rules = sections.measuring_rules(schedule_of(report_of(house, deep=False), DAY))
    assert any("12 m2 per litre" in rule and "(an assumption)" in rule for rule in rules)


def test_a_much_lighter_colour_takes_a_third_coat_where_the_old_one_is_known() -> None:
    """Common practice, no source."""
    house = put(room_5_by_4(), "paints", "peat", paint("#3a3630", "Peat"))
    dark = assign(house, "room", "walls", "peat")
    assert [line.coats for line in of(house, dark).lines] == [3]
    assert [line.coats for line in of(dark, house).lines] == [2]
    assert [line.coats for line in of(house).lines] == [2]


def test_the_schedule_says_what_its_coats_go_by() -> None:
    house = put(room_5_by_4(), "paints", "peat", paint("#3a3630", "Peat"))
    report = report_of(house, deep=False)
    dark = Before(assign(house, "room", "walls", "peat"), "as-found.toml")
    for before, coats, words in (
        (None, 2, "as the colours there now are not given"),
        (dark, 3, "(from as-found.toml)"),
    ):
        schedule = schedule_of(report, DAY, before)
        assert [line.coats for line in schedule.quantities.lines] == [coats]
        assert words in how(schedule)


def test_doors_are_said_to_count_as_flush_where_any_are_painted() -> None:
    """IS 1200 Part 15:1987, Table 1: 1.2 a side; panelled 1.3, which is 8 % more."""
    doored = schedule_of(report_of(small_house(), deep=False), DAY)
    assert any(line.surface == "doors" for line in doored.quantities.lines)
    assert "1.2 times its area on each side" in how(doored)
    assert "8 % more" in how(doored)
    bare = schedule_of(report_of(room_5_by_4(), deep=False), DAY)
    assert "A door counts" not in how(bare)


def test_a_fault_of_the_house_before_is_told_as_its_own() -> None:
    house = room_5_by_4()
    impossible = replace(house.paints["oat"], colour=Lab((50.0, 120.0, -120.0)))
    found = put(house, "paints", "oat", impossible)
    with pytest.raises(InputError) as caught:
        schedule_of(report_of(house, deep=False), DAY, Before(found, "found.toml"))
    assert {problem.file for problem in caught.value.problems} == {"found.toml"}


def test_unmeasured_rooms_are_listed_and_never_count_as_nothing() -> None:
    house = grid_house(2)
    house = put(house, "rooms", "attic", Room("Attic", paints=SurfacePaints(walls="p00")))
    found = of(house)
    assert found.unmeasured == ("attic",)
    assert [line.area_m2 for line in found.lines if line.room == "attic"] == [None]


@pytest.mark.parametrize(
    ("area_m2", "feet"), [(12.0, "129 ft2"), (41.31, "445 ft2"), (0.5, "5 ft2")]
)
def test_areas_in_square_feet(area_m2: float, feet: str) -> None:
    """1 ft = 0.3048 m exactly (NIST SP 811)."""
    assert wording.area(area_m2, "ft") == feet


def test_a_house_in_feet_is_told_in_us_gallons() -> None:
    """12 m2 per litre is 488.95 ft2 per US gallon (3.785411784 l exactly, NIST SP 811)."""
    schedule = schedule_of(report_of(replace(room_5_by_4(), units="ft"), deep=False), DAY)
    assert "489 ft2 per US gallon" in how(schedule)
    assert wording.volume(3.785411784, "ft") == "1.00 gal"
    assert wording.tins(Purchase({3.785411784: 2}, 7.570823568), "ft") == "2 x 1 gal"
