"""Every check passes its clean example, catches its caught one, obeys [limits], and offers help."""

from dataclasses import replace

import pytest

from housemap.checks import CHECKS, Check, Finding, report_of
from housemap.checks.examples import one_room, two_rooms
from housemap.model.house import House, Room, Sample, SurfacePaints
from housemap.model.severity import SEVERITIES

every_check = pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)


def findings_of(house: House) -> tuple[Finding, ...]:
    """What is wrong, and what is left to do."""
    report = report_of(house)
    return (*report.findings, *report.to_do)


def found(check_id: str, house: House) -> list[str]:
    return [f.severity for f in findings_of(house) if f.check == check_id]


@every_check
def test_the_clean_example_is_passed(check: Check) -> None:
    assert found(check.id, check.clean.house) == []


@every_check
def test_the_caught_example_is_caught(check: Check) -> None:
    assert found(check.id, check.caught.house) != []


@every_check
def test_a_finding_is_told_in_one_sentence_with_the_names_in_it(check: Check) -> None:
    house = check.caught.house
    for finding in findings_of(house):
        if finding.check == check.id:
            text = check.describe(finding, house)
            assert text
            assert "\n" not in text
            assert all(house.rooms[room].name in text for room in finding.rooms)


@every_check
def test_a_finding_says_which_limit_it_broke(check: Check) -> None:
    for finding in findings_of(check.caught.house):
        if finding.check == check.id and check.limits:
            assert finding.kind in check.defaults
            assert finding.limit == check.defaults[finding.kind]
            assert finding.value is not None


@every_check
def test_every_limit_names_its_source(check: Check) -> None:
    assert all(limit.source and limit.unit for limit in check.limits)


@pytest.mark.parametrize(
    ("check_id", "limits"),
    [
        ("jar", {"open": 200.0}),
        ("near-miss", {"most": 0.01}),
        ("undertone", {"hue": 179.0}),
        ("fixed", {"distance": 100.0}),
        ("backbone", {"lrv": 5.0, "darker": 90.0}),
        ("trim", {"most": 4.0}),
        ("edge", {"lrv": 1.0}),
        ("lone", {"chroma": 100.0}),
        ("label", {"lrv": 50.0}),
    ],
)
def test_limits_in_the_house_file_are_obeyed(check_id: str, limits: dict[str, float]) -> None:
    check = next(c for c in CHECKS if c.id == check_id)
    house = replace(check.caught.house, limits={check_id: limits})
    if check_id == "lone":  # a role needs no chroma
        house = replace(house, rooms={k: replace(r, role=None) for k, r in house.rooms.items()})
    assert found(check_id, house) == []


def test_a_jarring_step_in_open_plan_is_a_fault_and_through_a_doorway_a_warning() -> None:
    assert found("jar", two_rooms("5Y 9/1", "5PB 3/6", "open")) == ["fault"]
    assert found("jar", two_rooms("5Y 9/1", "5PB 3/6", "doorway")) == ["warn"]


def test_a_shut_door_is_not_seen_through() -> None:
    house = two_rooms("5Y 9/1", "5PB 3/6", "doorway")
    shut = {"door": replace(house.openings["door"], door="shut")}
    assert found("jar", replace(house, openings=shut)) == []


def test_one_paint_under_two_ids_is_noted_as_one_that_would_do() -> None:
    assert found("near-miss", two_rooms("5Y 8/1", "5Y 8/1")) == ["note"]


def test_undertones_in_open_plan_are_a_fault() -> None:
    assert found("undertone", two_rooms("5R 7/2", "5G 7/2", "open")) == ["fault"]


def test_undertones_matter_less_the_larger_the_lightness_step() -> None:
    """Direction from Gordon & Shapley 2006, Spatial Vision 19:133."""
    equal = report_of(two_rooms("5R 7/2", "5G 7/2")).findings
    stepped = report_of(two_rooms("5R 8.5/2", "5G 5/2")).findings
    strength = {f.parts["strength"] for f in equal if f.check == "undertone"}
    assert strength
    assert not [f for f in stepped if f.check == "undertone" and f.parts["strength"] in strength]
    assert all(f.parts["strength"] < max(strength) for f in stepped if f.check == "undertone")


def test_trim_of_lrv_84_is_clearly_set_off_from_a_wall_of_lrv_48() -> None:
    """Common practice, no source."""
    house = two_rooms("N 7.35/", "N 7.35/", trim="N 9.34/")
    study = report_of(house).study
    assert study.paint("hall").lrv == pytest.approx(48, abs=1)
    assert study.paint("trim").lrv == pytest.approx(84, abs=1)
    assert found("trim", house) == []


def test_trim_clearly_darker_than_the_wall_is_sound() -> None:
    """Common practice, no source."""
    assert found("trim", two_rooms("5Y 8.5/1", "5Y 8.5/1", trim="N 3/")) == []


@pytest.mark.parametrize("value", [8.22, 8.5, 8.68])  # ASTM D1535: LRV 61, 66, 69
def test_a_backbone_of_lrv_60_to_70_keeps_the_light(value: float) -> None:
    """Common practice, no source."""
    hall = Room("Hall", role="backbone", paints=SurfacePaints(walls="oat"))
    house = one_room(hall, oat=f"5Y {value}/1")
    assert 60 <= report_of(house).study.paint("oat").lrv <= 70.5
    assert found("backbone", house) == []


def test_a_light_neutral_between_beige_and_grey_joins_warmer_and_cooler_rooms() -> None:
    """Common practice, no source."""
    for beyond in ("10YR 7.5/2", "5GY 7.5/1", "N 7.5/"):
        findings = report_of(two_rooms("2.5Y 8.3/1", beyond)).findings
        assert not [f for f in findings if f.check in {"jar", "undertone"}]


def test_findings_are_told_grave_first() -> None:
    house = replace(two_rooms("5Y 8/1", "5PB 3/6", "open", trim="5Y 7.9/1"), low_vision=True)
    ranks = [SEVERITIES.index(f.severity) for f in report_of(house).findings]
    assert ranks == sorted(ranks, reverse=True)


def test_a_rejected_paint_may_give_way_to_one_that_was_kept_in_the_room() -> None:
    """And the check that asks for samples leaves the rejected one alone."""
    check = next(c for c in CHECKS if c.id == "rejected")
    house = check.caught.house
    fern = replace(house.paints["oat"], name="Fern")
    house = replace(
        house,
        paints={**house.paints, "fern": fern},
        samples={**house.samples, "fern-1": Sample("fern", "hall", verdict="keep")},
    )
    report = report_of(house)
    [finding] = [f for f in report.findings if f.check == "rejected"]
    [change] = check.changes(finding, report.study)
    assert found("untried", house) == []
    assert found("rejected", change.edit(house)) == []
    assert "green by noon" in check.describe(finding, house)
