"""From a neutral to a house: what is suggested has the shape of a scheme and no warning.

All ten neutrals in five houses: `python -m tests.benchmarks.neutrals`.
"""

from dataclasses import replace

import pytest

from housemap.checks import Report, report_of
from housemap.choose.chips import all_chips
from housemap.choose.schemes.house_rules import broken_wishes
from housemap.deck.notation_deck import notation_deck
from housemap.model.edits import assign, put
from housemap.model.house import Notation, Paint
from tests.benchmarks.neutrals import EIGHT, above_a_note, bare, suggestion, with_roles
from tests.support.houses import grid_house, small_house


@pytest.mark.parametrize("neutral", ["10yr-7-1", "5b-7-5-1", "n-7"])
def test_a_house_around_a_neutral_is_calm_and_in_its_tiers(neutral: str) -> None:
    chips = all_chips(notation_deck())
    house = with_roles(grid_house(6, columns=3), EIGHT)
    report = report_of(bare(house), deep=False)
    best = suggestion(report, chips, chips.swatch(neutral))
    after = report.after(best.house)
    assert not above_a_note(after)
    assert not broken_wishes(after.study)
    assert neutral in {room.paints.walls for room in best.house.rooms.values()}
    for key, room in best.house.rooms.items():
        assert room.paints.walls is not None
        lrv = after.study.paint(room.paints.walls).lrv
        low, high = {"backbone": (55, 75), "room": (40, 55), "accent": (5, 45)}.get(
            room.role or "", (40, 75)
        )
        assert low <= lrv <= high or room.paints.walls == neutral, key
    assert best.trim is not None
    trim = after.study.paint(best.trim)
    assert trim.lrv >= 80
    assert trim.colour.notation.chroma <= 1.5


def small_house_around(neutral: str) -> Report:
    own = {"neutral": Paint(neutral, Notation(neutral))}
    return report_of(replace(bare(small_house()), paints=own))


def test_a_warning_that_only_the_light_of_the_new_paints_brings_is_mended() -> None:
    """The kitchen has no window: what the hall sends it decides whether the two fight."""
    report = small_house_around("10YR 7/1")
    best = suggestion(report, all_chips(notation_deck()), report.study.paint("neutral"))
    assert not above_a_note(report.after(best.house))
    assert best.house.paints[best.walls["kitchen"]].name == "10YR 7/1"
    house = put(best.house, "paints", "blue", Paint("Blue Grey", Notation("5PB 7/1.5")))
    after = report.after(assign(house, "study", "walls", "blue"))
    assert any("Blue Grey" in line and " fight: " in line for line in best.missed(after)), "said"


def test_a_warning_is_left_where_the_deck_has_no_further_paint() -> None:
    report = small_house_around("5B 7.5/1")
    few = all_chips({text: Paint(text, Notation(text)) for text in ("5B 7/1", "5B 8.5/1", "N 9/")})
    best = suggestion(report, few, report.study.paint("neutral"))
    assert above_a_note(report.after(best.house))["fixed"]


def test_a_neutral_that_fights_with_every_floor_is_used_all_the_same_and_that_is_said() -> None:
    """Every room of the small house has or sees its oak floor; a bluish grey fights with it."""
    chips = all_chips(notation_deck())
    report = small_house_around("5B 7.5/1")
    best = suggestion(report, chips, report.study.paint("neutral"))
    after = report.after(best.house)
    assert [*above_a_note(after)] == ["fixed"]
    [said] = [line for line in best.missed(after) if "fights" in line]
    assert said.startswith("5B 7.5/1 fights with Oak boards in 3 rooms; it is in Kitchen")
    nearest = chips.swatches[[s.name for s in chips.swatches].index(said.split(": ")[1][:-1])]
    for room in report.house.rooms:
        bare_but_one = assign(put(report.house, "paints", "x", nearest.entity), room, "walls", "x")
        assert not above_a_note(report.after(bare_but_one))["fixed"]
