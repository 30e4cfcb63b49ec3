"""A candidate tells what a paint does on a surface, on one wall alone, or taken off."""

import pytest

from housemap.checks import report_of
from housemap.checks.examples import two_rooms
from housemap.choose.rank import bared, candidates, in_place, rank
from housemap.errors import EditError
from housemap.model.edits import paint_on

HOUSE = two_rooms("5Y 8.5/1", "5PB 3/6", "open", trim="N 9.3/")
REPORT = report_of(HOUSE)


def test_the_candidates_are_every_paint_of_the_house_cheapest_first() -> None:
    ranked = rank(REPORT, "study", "walls")
    assert {one.paint for one in ranked} == set(HOUSE.paints)
    assert [one.cost for one in ranked] == sorted(one.cost for one in ranked)


def test_a_candidate_costs_what_the_room_does_with_its_paint() -> None:
    one = next(c for c in candidates(REPORT, "study", "walls") if c.paint == "hall")
    after = report_of(paint_on(HOUSE, "study", "walls", "hall"))
    assert one.parts == pytest.approx(dict(in_place(after, "study").parts))
    assert one.findings_after == len(after.findings)


def test_no_paint_is_a_candidate_too() -> None:
    one = bared(REPORT, "study", "walls")
    after = report_of(paint_on(HOUSE, "study", "walls", None))
    assert one.paint is None
    assert one.harmony is None
    assert (one.parts, one.findings_after) == (
        in_place(after, "study").parts, len(after.findings)
    )  # fmt: skip


def test_a_candidate_for_one_wall_leaves_the_others_alone() -> None:
    one = next(c for c in candidates(REPORT, "study", "accent n") if c.paint == "hall")
    after = report_of(paint_on(HOUSE, "study", "accent n", "hall"))
    assert one.parts == pytest.approx(dict(in_place(after, "study").parts))
    assert after.house.rooms["study"].paints == HOUSE.rooms["study"].paints


def test_taking_the_paint_off_an_accent_wall_leaves_it_like_the_others() -> None:
    painted = paint_on(HOUSE, "study", "accent n", "hall")
    assert paint_on(painted, "study", "accent n", None) == HOUSE
    assert paint_on(HOUSE, "study", "accent n", None) == HOUSE


def test_a_room_that_is_not_there_is_told() -> None:
    with pytest.raises(EditError, match="attic"):
        rank(REPORT, "attic", "walls")
    with pytest.raises(EditError, match="no wall"):
        rank(REPORT, "hall", "accent q")
