"""Paints of one hue that part by the lamps alone: the lamps are named, not the undertones."""

from dataclasses import replace

from housemap.checks import Finding, Report, report_of
from housemap.checks.examples import lit_room, with_room
from housemap.model.house import House, Notation, Opening, Paint, SurfacePaints

OPEN = Opening(("hall", "kitchen"), "open", wall="n", along_m=0.5, to_wall="s", to_along_m=0.5,
               width_m=3.0, stop=True)  # fmt: skip


def joined(hall: str, kitchen: str, kelvin: float) -> House:
    """Two rooms in open plan, the hall under a lamp of 2700 K, the kitchen under another."""
    house, other = lit_room(hall, 2700.0), lit_room("N 5/", kelvin).rooms["hall"]
    paints = {**house.paints, "kitchen": Paint("Kitchen", Notation(kitchen))}
    own = SurfacePaints("kitchen", "white", "white", "white")
    house = with_room(house, "kitchen", replace(other, name="Kitchen", paints=own))
    return replace(house, paints=paints, openings={"way": OPEN})


def fights(report: Report) -> list[Finding]:
    return [f for f in report.findings if f.check == "undertone" and f.surfaces == ("walls",)]


def test_paints_of_one_hue_under_unlike_lamps_do_not_fight_the_lamps_differ() -> None:
    report = report_of(joined("2.5Y 8.5/1", "2.5Y 7/1.5", 5000.0))
    [finding] = fights(report)
    said = report.describe(finding)
    assert "fight by lamplight" not in said
    assert "the lamps differ (Hall 2700 K, Kitchen 5000 K)" in said
    assert finding.severity == "warn"
    assert not fights(report_of(joined("2.5Y 8.5/1", "2.5Y 7/1.5", 2700.0)))


def test_so_does_the_headline_of_several_such_findings() -> None:
    house = joined("2.5Y 8.5/1", "2.5Y 7/1.5", 5000.0)
    den = replace(house.rooms["kitchen"], name="Den")
    ways = {**house.openings, "den": Opening(("hall", "den"), "cased")}
    house = replace(house, rooms={**house.rooms, "den": den}, openings=ways)
    [cause] = [c for c in report_of(house).causes if c.check == "undertone"]
    assert len(cause.findings) > 1
    assert "only because the lamps differ: Hall, " in cause.describe(house)
    as_paints = joined("5R 8/1.5", "5G 8/1.5", 5000.0)
    ways = {**house.openings, "den": Opening(("hall", "den"), "cased")}
    house = replace(as_paints, rooms={**as_paints.rooms, "den": den}, openings=ways)
    [cause] = [c for c in report_of(house).causes if c.check == "undertone"]
    assert " fight: " in cause.describe(house)


def test_paints_that_fight_by_themselves_still_do_and_it_is_serious() -> None:
    report = report_of(joined("5R 8/1.5", "5G 8/1.5", 5000.0))
    [finding] = fights(report)
    assert " fight" in report.describe(finding)
    assert "lamps differ" not in report.describe(finding)
    assert finding.severity == "fault"
