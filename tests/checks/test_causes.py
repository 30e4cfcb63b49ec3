"""Findings with one cause are one, and none is lost; what is left to do, or accepted, is apart."""

from dataclasses import replace

import pytest

from housemap.checks import CHECKS, Check, Report, causes_of, report_of
from housemap.checks.examples import two_rooms
from housemap.file.reader import read_house
from housemap.model.edits import assign, put
from housemap.model.house import Accepted, House, Opening, Room, Sample, SurfacePaints
from housemap.model.severity import SEVERITIES
from tests.support.project import DEMO

FIGHTING = two_rooms("5R 7/2", "5G 7/2")


def found(report: Report, check: str) -> list[str]:
    return [finding.check for finding in report.findings if finding.check == check]


def test_the_same_two_paints_in_two_views_are_one_cause() -> None:
    house = put(FIGHTING, "rooms", "den", Room("Den", paints=SurfacePaints(walls="study")))
    house = put(house, "openings", "den-door", Opening(("den", "hall"), "doorway"))
    [cause] = [c for c in causes_of(report_of(house).findings) if c.check == "undertone"]
    assert len(cause.findings) == 2
    said = cause.describe(house)
    assert said.startswith(("Study and Hall fight: ", "Hall and Study fight: "))
    assert all(room in said for room in ("Den", "Hall", "Study"))


def test_walls_and_woodwork_of_the_same_two_paints_are_one_cause() -> None:
    house = assign(assign(FIGHTING, "hall", "trim", "study"), "study", "trim", "study")
    causes = [c for c in report_of(house).causes if c.check == "undertone"]
    assert len(causes) == 1
    assert "fight: walls and woodwork in " in causes[0].describe(house)


def test_of_what_the_headline_says_nothing_is_said_again() -> None:
    """The finish that is kept is named there, and that a colour shifts by lamplight."""
    report = report_of(read_house(DEMO))
    said = [cause.describe(report.house) for cause in report.causes]
    shift = "Pond Glass shifts between day and lamplight: walls in Shower room and Bathroom."
    assert shift in said
    assert not any("what you keep" in each or "worst" in each for each in said)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_every_finding_belongs_to_exactly_one_cause(check: Check) -> None:
    report = report_of(check.caught.house)
    causes = report.causes
    listed = sorted(id(f) for cause in causes for f in cause.findings)
    assert sorted(map(id, report.findings)) == listed
    assert all(cause.severity == cause.findings[0].severity for cause in causes)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_the_gravest_cause_comes_first_and_says_its_paints(check: Check) -> None:
    report = report_of(check.caught.house)
    ranks = [SEVERITIES.index(cause.severity) for cause in report.causes]
    assert ranks == sorted(ranks, reverse=True)
    for cause in report.causes:
        assert cause.headline(report.house)
        assert "{" not in cause.headline(report.house)


def test_a_rejection_is_the_first_that_is_not_serious_and_a_wrong_card_the_last() -> None:
    house = replace(FIGHTING, samples={"s": Sample("hall", "hall", verdict="reject")})
    house = put(house, "paints", "study", replace(house.paints["study"], lrv=80.0))
    house = put(house, "openings", "way", Opening(("hall", "study"), "open"))
    report = report_of(house)
    order = [(cause.severity, cause.check) for cause in report.causes if cause.severity != "note"]
    assert order[0][0] == "fault"
    looked_at = [check for severity, check in order if severity == "warn"]
    assert (looked_at[0], looked_at[-1]) == ("rejected", "label")
    dearest = max(report.causes, key=lambda cause: cause.cost * (cause.severity == "warn"))
    assert dearest.check == "label"


def test_unpainted_rooms_and_missing_samples_are_work_that_is_left() -> None:
    for check_id in ("bare", "untried"):
        check = next(c for c in CHECKS if c.id == check_id)
        report = report_of(check.caught.house)
        assert check_id in [finding.check for finding in report.to_do]
        assert not found(report, check_id)


def test_an_accepted_finding_is_apart_and_returns_when_the_paint_there_changes() -> None:
    entry = Accepted(
        "undertone", ("hall", "study"), ("walls",), ("hall", "study"), why="on purpose"
    )
    house = put(FIGHTING, "accepted", "undertone-hall-study", entry)
    report = report_of(house)
    assert not found(report, "undertone")
    [(finding, known)] = report.accepted
    assert (finding.check, known.why) == ("undertone", "on purpose")
    other = put(house, "paints", "moss", replace(house.paints["study"], name="Moss"))
    assert found(report.after(assign(other, "study", "walls", "moss")), "undertone")


def test_accepting_one_place_leaves_the_same_finding_elsewhere() -> None:
    house = put(FIGHTING, "rooms", "den", Room("Den", paints=SurfacePaints(walls="study")))
    house = put(house, "openings", "den-door", Opening(("den", "hall"), "doorway"))
    entry = Accepted("undertone", ("hall", "study"), paints=("hall", "study"))
    house = put(house, "accepted", "a", entry)
    assert len(found(report_of(house), "undertone")) == 1


def test_accepting_is_known_to_a_report_after_an_edit() -> None:
    before = report_of(FIGHTING)
    assert found(before, "undertone")
    house: House = put(FIGHTING, "accepted", "a", Accepted("undertone", ("hall", "study")))
    assert not found(before.after(house), "undertone")
