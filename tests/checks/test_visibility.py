"""A finding between two rooms is as grave as it is seen, and says how much that is."""

import pytest

from housemap.checks import Report, report_of
from housemap.checks.check import share_text
from housemap.checks.counting import FULL_BEST, LEAST, SLIVER, visibility
from housemap.checks.finding import Finding
from housemap.file.reader import read_house
from housemap.model.edits import assign, put
from housemap.model.house import House, Notation, Paint
from tests.support.project import DEMO

HOUSE = read_house(DEMO)
JOINED, AFAR, SLIVERED = ("hall", "study"), ("living", "stairs"), ("garden-bedroom", "nursery")


def fighting(first: str, second: str) -> House:
    """Two rooms in near-neutrals whose undertones fight."""
    house = put(HOUSE, "paints", "rosy", Paint("Rosy", Notation("5R 7/2")))
    house = put(house, "paints", "leafy", Paint("Leafy", Notation("5G 7/2")))
    return assign(assign(house, first, "walls", "rosy"), second, "walls", "leafy")


def between(report: Report, rooms: tuple[str, str]) -> Finding:
    return next(
        f
        for f in report.findings
        if f.check == "undertone" and {*f.rooms} == {*rooms} and {*f.surfaces} == {"walls"}
    )


def test_what_one_walks_through_counts_in_full() -> None:
    finding = between(report_of(fighting(*JOINED)), JOINED)
    assert finding.share is None
    assert finding.severity == "warn"


def test_a_sliver_is_a_note_and_says_how_much_is_seen_and_from_where() -> None:
    house = fighting(*SLIVERED)
    report = report_of(house)
    finding = between(report, SLIVERED)
    assert finding.share is not None
    assert finding.share < SLIVER
    assert finding.severity == "note"
    assert finding.eye in SLIVERED
    said = next(c for c in report.causes if finding in c.findings).describe(house)
    [other] = {*SLIVERED} - {finding.eye}
    eye, seen = (house.rooms[room].name for room in (finding.eye, other))
    share = share_text(finding.share)
    assert f"From {eye}, {seen} fills up to {share} of the view's width." in said


@pytest.mark.parametrize("rooms", [AFAR, SLIVERED])
def test_it_costs_its_share_of_what_it_would_in_full(rooms: tuple[str, str]) -> None:
    report = report_of(fighting(*rooms))
    pair = report.study.pairs[rooms[0], rooms[1]]
    seen = visibility(report.study, pair)
    assert LEAST <= seen.weight < 1.0
    assert seen.share is not None
    assert seen.weight >= min(seen.share / FULL_BEST, 1.0)


def test_without_sight_every_finding_counts_in_full() -> None:
    finding = between(report_of(fighting(*SLIVERED), deep=False), SLIVERED)
    assert finding.share is None


@pytest.mark.parametrize(
    ("of_circle", "said"), [(0.04, "24 %"), (0.5, "100 %"), (0.001, "less than 1 %")]
)
def test_a_share_is_said_of_what_one_looks_at(of_circle: float, said: str) -> None:
    assert share_text(of_circle) == said
