"""Findings with one cause are told as one matter, and none is lost."""

import pytest

from housemap.checks import CHECKS, Check, matters_of, report_of
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


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_every_finding_belongs_to_exactly_one_matter(check: Check) -> None:
    findings = report_of(check.caught.house).findings
    matters = matters_of(findings)
    assert sorted(map(id, findings)) == sorted(id(f) for m in matters for f in m.findings)
    assert all(m.severity == m.findings[0].severity for m in matters)
