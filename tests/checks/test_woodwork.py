"""White woodwork is read as white: the light that a coloured wall throws on it makes no clash."""

from dataclasses import replace

import pytest

from housemap.checks import Finding, report_of
from housemap.checks.examples import two_rooms
from housemap.file.reader import read_house
from housemap.model.edits import assign, put
from housemap.model.house import Lab, Notation, Paint
from tests.support.project import DEMO

HOUSE = read_house(DEMO)
PALE_BLUES = ("5PB 7/3", "5PB 6/4", "5B 6/4", "2.5PB 5/6")


WHITES = {"ferry-chalk", "kiln-milk"}


def clashes(paint: str, blue: str = "5B 6/4") -> list[Finding]:
    """The clashes of the study with the paint on its walls."""
    house = put(HOUSE, "paints", "blue", Paint("Blue", Notation(blue)))
    report = report_of(assign(house, "study", "walls", paint))
    return [f for f in report.findings if f.check == "undertone" and "study" in f.rooms]


def test_the_lighter_blue_of_the_demo_is_no_clash_with_the_white_trim_of_the_study() -> None:
    assert not clashes("rain-gutter")


@pytest.mark.parametrize(("trim", "found"), [("N 9.2/", False), ("N 8.9/", True)])
def test_white_trim_is_never_undecided_beside_a_darker_wall(trim: str, *, found: bool) -> None:
    """LRV 69 beside LRV 81 and 75, by the ASTM D1535 formula for Y: common practice."""
    report = report_of(two_rooms("N 8.6/", "N 8.6/", trim=trim), deep=False)
    assert ("trim" in {each.check for each in report.findings}) == found


@pytest.mark.parametrize(
    ("wall", "trim", "checks"),
    [
        (12.8, 42.8, {"trim": False, "edge": False}),
        (12.9, 42.8, {"trim": False, "edge": True}),
        (27.8, 42.8, {"trim": False}),
        (27.9, 42.8, {"trim": True}),
    ],
)
def test_printed_figures_just_as_far_apart_as_is_asked_for_are_far_enough(
    wall: float, trim: float, checks: dict[str, bool]
) -> None:
    """30 LRV points by BS 8300-2:2018, Annex B; in floating point 42.8 less 12.8 falls short."""
    house = replace(two_rooms("5Y 7/1", "5Y 7/1", trim="N 7/"), low_vision=True)
    for key, lrv in {"hall": wall, "study": wall, "trim": trim}.items():
        grey = Lab((116.0 * (lrv / 100.0) ** (1 / 3) - 16.0, 0.0, 0.0))
        house = put(house, "paints", key, Paint(key, grey, lrv=lrv))
    found = {each.check for each in report_of(house, deep=False).findings}
    assert {check: check in found for check in checks} == checks


@pytest.mark.parametrize("blue", PALE_BLUES)
def test_white_trim_fights_with_no_blue_wall(blue: str) -> None:
    """Its own undertone is hardly there: all that the light adds is the blue of the walls."""
    assert not [f for f in clashes("blue", blue) if WHITES & {*f.paints}]


@pytest.mark.parametrize("blue", PALE_BLUES)
def test_one_white_in_two_rooms_is_no_clash_with_itself(blue: str) -> None:
    house = put(HOUSE, "paints", "blue", Paint("Blue", Notation(blue)))
    report = report_of(assign(house, "study", "walls", "blue"))
    same = [f for f in report.findings if len(f.places) == 2 and len({*f.paints}) == 1]
    assert not [f for f in same if not any(place.finish for place in f.places)]
