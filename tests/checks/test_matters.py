"""Findings with one cause are told as one matter, and none is lost."""

from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.checks import CHECKS, matters_of, report_of
from housemap.checks.examples import two_rooms
from housemap.model.edits import put
from housemap.model.house import Opening, Room, SurfacePaints


def test_the_same_two_paints_in_two_views_are_one_matter() -> None:
    house = two_rooms("5R 7/2", "5G 7/2")
    house = put(house, "rooms", "den", Room("Den", paints=SurfacePaints(walls="study")))
    house = put(house, "openings", "den-door", Opening(("den", "hall"), "doorway"))
    [matter] = [m for m in matters_of(report_of(house).findings) if m.check == "undertone"]
    assert len(matter.findings) == 2
    assert "also: Den - Hall" in matter.tell(house) or "also: Hall - Study" in matter.tell(house)


@settings(max_examples=20, deadline=None)
@given(st.permutations([check.caught.house for check in CHECKS]))
def test_every_finding_belongs_to_exactly_one_matter(houses: list[object]) -> None:
    del houses
    for check in CHECKS:
        findings = report_of(check.caught.house).findings
        matters = matters_of(findings)
        assert sorted(map(id, findings)) == sorted(id(f) for m in matters for f in m.findings)
        assert all(f.severity == m.severity for m in matters for f in m.findings[:1])
