"""A paint that is on no surface raises nothing but a note of what would be graver."""

from dataclasses import replace

import pytest

from housemap.checks import report_of
from housemap.checks.every import check_of
from housemap.choose.rank import candidates
from housemap.model.edits import assign, paint_on, put
from housemap.model.house import House, Notation, Paint, Part
from tests.support.houses import small_house

BRIGHT = Paint("Marigold", Notation("2.5Y 8/16"))
WRONG = Paint("Wrong", Notation("5Y 8/1"), lrv=70.0)


def found(house: House) -> list[tuple[str, str]]:
    findings = report_of(house, deep=False).findings
    return [(f.check, f.severity) for f in findings if f.check in {"gamut", "label"}]


def with_paint(paint: Paint) -> House:
    house = small_house()
    return replace(house, paints={**house.paints, "new": paint})


def test_a_paint_beyond_the_screen_is_noted_only_where_it_is_used() -> None:
    assert found(with_paint(BRIGHT)) == []
    assert found(assign(with_paint(BRIGHT), "study", "walls", "new")) == [("gamut", "note")]


def test_a_wrong_lrv_on_the_card_names_the_rooms_and_what_to_do() -> None:
    house = assign(with_paint(WRONG), "study", "walls", "new")
    rail = {"rail": Part("panelling", paint="new")}
    panelled = put(house, "rooms", "hall", replace(house.rooms["hall"], parts=rail))
    for each, where in ((house, "Study"), (panelled, "Hall and Study")):
        report = report_of(each)
        [finding] = [f for f in report.findings if f.check == "label"]
        assert report.describe(finding).endswith(f"It is in {where}.")
    assert "Measure it, or ask the maker" in check_of("label").advice


def test_a_wrong_lrv_on_the_card_of_an_unused_paint_is_a_note() -> None:
    assert found(with_paint(WRONG)) == [("label", "note")]
    assert found(assign(with_paint(WRONG), "study", "walls", "new")) == [("label", "warn")]


@pytest.mark.parametrize("paint", [BRIGHT, WRONG])
def test_a_report_after_an_edit_is_that_from_scratch(paint: Paint) -> None:
    unused = with_paint(paint)
    used = assign(unused, "study", "walls", "new")
    for before, after in ((unused, used), (used, unused)):
        report = report_of(before, deep=False)
        assert report.findings is not None
        assert report.after(after).findings == report_of(after, deep=False).findings


@pytest.mark.parametrize("now", ["oat", "new"])
@pytest.mark.parametrize("bright", [BRIGHT, WRONG, replace(BRIGHT, lrv=20.0)])
def test_a_ranking_counts_what_a_paint_brings_in_and_takes_away(now: str, bright: Paint) -> None:
    house = assign(with_paint(bright), "study", "walls", now)
    report = report_of(house, deep=False)
    for one in candidates(report, "study", "walls"):
        after = report_of(paint_on(house, "study", "walls", one.paint), deep=False)
        assert one.findings_after == len(after.findings), one.paint


def test_the_examples_are_of_paints_that_are_used() -> None:
    for check in map(check_of, ("label", "gamut")):
        house = check.caught.house
        assert set(house.paints) == {room.paints.walls for room in house.rooms.values()}
