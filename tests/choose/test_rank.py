"""A candidate tells what a paint does on a surface, on one wall alone, or taken off."""

from housemap.checks import report_of
from housemap.checks.examples import two_rooms
from housemap.choose.rank import candidate, rank
from housemap.model.edits import assign, paint_on

HOUSE = two_rooms("5Y 8.5/1", "5PB 3/6", "open", trim="N 9.3/")


def test_the_candidates_are_every_paint_of_the_house_cheapest_first() -> None:
    ranked = rank(report_of(HOUSE), "study", "walls")
    assert {one.paint for one in ranked} == set(HOUSE.paints)
    assert [one.cost for one in ranked] == sorted(one.cost for one in ranked)


def test_a_candidate_carries_the_report_of_the_house_with_its_paint() -> None:
    one = candidate(report_of(HOUSE), "study", "walls", "hall")
    assert one.report.house == assign(HOUSE, "study", "walls", "hall")
    assert one.findings_after == len(report_of(one.report.house).findings)


def test_no_paint_is_a_candidate_too() -> None:
    one = candidate(report_of(HOUSE), "study", "walls", None)
    assert one.report.house.rooms["study"].paints.walls is None
    assert one.harmony is None


def test_a_candidate_for_one_wall_leaves_the_others_alone() -> None:
    one = candidate(report_of(HOUSE), "study", "accent n", "hall")
    room = one.report.house.rooms["study"]
    assert room.accents["n"].paint == "hall"
    assert room.paints == HOUSE.rooms["study"].paints


def test_taking_the_paint_off_an_accent_wall_leaves_it_like_the_others() -> None:
    painted = paint_on(HOUSE, "study", "accent n", "hall")
    assert paint_on(painted, "study", "accent n", None) == HOUSE
    assert paint_on(HOUSE, "study", "accent n", None) == HOUSE
