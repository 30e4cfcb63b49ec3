"""Paints of one hue that part by the lamps alone: the lamps are named, not the undertones."""

from dataclasses import replace

from housemap.checks import Finding, Report, report_of
from housemap.checks.examples import lit_room, with_room
from housemap.checks.finding import SEVERITY_COST
from housemap.choose.remedies import trials
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
    assert "Kitchen's 5000 K lamp sets colours apart that do not fight by themselves" in said
    assert finding.severity == "warn"
    assert finding.cost <= 1.5 * SEVERITY_COST["warn"], "half of up to three times as much"
    assert not fights(report_of(joined("2.5Y 8.5/1", "2.5Y 7/1.5", 2700.0)))


def three_rooms(hall: str, kitchen: str) -> House:
    """A hall and a den under lamps of 2700 K, a kitchen of 5000 K in open plan with the hall."""
    house = joined(hall, kitchen, 5000.0)
    den = replace(house.rooms["hall"], name="Den")
    ways = {**house.openings, "den": Opening(("kitchen", "den"), "cased")}
    return replace(house, rooms={**house.rooms, "den": den}, openings=ways)


def test_all_that_one_rooms_lamps_make_is_one_finding_with_the_lamps_as_first_remedy() -> None:
    report = report_of(three_rooms("2.5Y 8.5/1", "2.5Y 7/1.5"))
    [cause] = [c for c in report.causes if c.first.lamps_of]
    assert len(cause.findings) > 1
    assert {finding.lamps_of for finding in cause.findings} == {"kitchen"}
    assert cause.describe(report.house).startswith(
        "Kitchen's 5000 K lamp sets colours apart that do not fight by themselves: "
    )
    remedies = [each for trial in trials(cause, report) for each in trial.remedies]
    assert remedies[0].change.label.startswith("Lamps of 2700 K in Kitchen, as in ")
    assert not any(c.first.lamps_of for c in remedies[0].report.causes)
    as_paints = report_of(three_rooms("5R 8/1.5", "5G 8/1.5"))
    assert all(not f.lamps_of for f in fights(as_paints))


def test_a_room_without_a_lamp_is_not_said_to_lean_by_its_lamplight() -> None:
    house = joined("2.5Y 8.5/1", "2.5Y 7/1.5", 2700.0)
    unlit = replace(house.rooms["hall"], lamps={})
    house = replace(house, rooms={**house.rooms, "hall": unlit})
    for finding in report_of(house).findings:
        if finding.light == "evening" and finding.rooms[0] == "hall" and finding.check == "fixed":
            assert " by the lamps next door" in report_of(house).describe(finding)


def test_paints_that_fight_by_themselves_still_do_and_it_is_serious() -> None:
    report = report_of(joined("5R 8/1.5", "5G 8/1.5", 5000.0))
    [finding] = fights(report)
    assert " fight" in report.describe(finding)
    assert "lamps differ" not in report.describe(finding)
    assert finding.severity == "fault"
