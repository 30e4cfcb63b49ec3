"""Litres, tins and cost of a house, against worked figures."""

from dataclasses import replace

import pytest

from housemap.model.edits import assign, put
from housemap.model.house import House, Room, SurfacePaints, Window
from housemap.schedule import telling, wording
from housemap.schedule.quantities import Quantities, quantities
from housemap.schedule.tins import Purchase
from housemap.study import study_of
from tests.support.houses import grid_house, paint


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


def of(house: House, before: House | None = None) -> Quantities:
    return quantities(study_of(house), study_of(before) if before else None)


def test_the_litres_of_a_worked_room() -> None:
    """41.31 m2 x 2 coats / 12 m2 per litre = 6.885 l, and 10 % = 7.574 l (arithmetic)."""
    found = of(room_5_by_4())
    [line], [need] = found.lines, found.needs
    assert line.litres == pytest.approx(6.885)
    assert need.litres == pytest.approx(7.5735)


def test_cost_is_that_of_the_tins_bought() -> None:
    [need] = of(room_5_by_4(price=20.0)).needs
    assert need.purchase is not None
    assert need.purchase.litres == pytest.approx(10.0)
    assert need.cost == pytest.approx(200.0)


def test_a_coverage_not_stated_is_told_as_assumed() -> None:
    house = room_5_by_4()
    house = put(house, "paints", "oat", replace(house.paints["oat"], coverage=None))
    [need] = of(house).needs
    assert need.coverage_assumed


def test_a_much_lighter_colour_takes_a_third_coat_where_the_old_one_is_known() -> None:
    """Common practice, no source."""
    house = put(room_5_by_4(), "paints", "peat", paint("#3a3630", "Peat"))
    dark = assign(house, "room", "walls", "peat")
    assert [line.coats for line in of(house, dark).lines] == [3]
    assert [line.coats for line in of(dark, house).lines] == [2]
    assert [line.coats for line in of(house).lines] == [2]


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
    assert "489 ft2 per US gallon" in telling.measured_how(House(units="ft"))
    assert wording.volume(3.785411784, "ft") == "1.00 gal"
    assert wording.tins(Purchase({3.785411784: 2}, 7.570823568), "ft") == "2 x 1 gal"
