"""Where two wall colours meet in open plan, and how much darker connecting space may be."""

from dataclasses import replace

import pytest

from housemap.checks import Cause, Finding, Report, report_of
from housemap.checks.examples import measured, two_rooms, with_room
from housemap.choose.remedies import trials
from housemap.model.house import Brief, House, Opening, OpeningKind, RoomBrief


def open_plan(hall: tuple[float, float], study: tuple[float, float], **more: object) -> House:
    """A hall and a study, 4 m wide, joined in open plan: along and width in each."""
    house = two_rooms("5Y 8/1", "5Y 7/1.5")
    for key in house.rooms:
        house = with_room(house, key, measured(house.rooms[key]))
    way = Opening(
        ("hall", "study"), "open", wall="n", along_m=hall[0], to_wall="s", to_along_m=study[0],
        width_m=hall[1],
    )  # fmt: skip
    return replace(house, openings={"way": replace(way, **more)})  # type: ignore[arg-type]  # as named


def stop(report: Report) -> Finding:
    [finding] = [f for f in report.findings if f.check == "stop"]
    return finding


@pytest.mark.parametrize(
    ("hall", "ends"),
    [
        ((0.75, 2.5), "The opening leaves 0.75 m of wall on each side: "),
        ((0.5, 2.5), "The opening leaves 0.50 m and 1.00 m of wall beside it: "),
    ],
)
def test_where_wall_ends_stand_beside_the_opening_the_finding_says_so_and_asks(
    hall: tuple[float, float], ends: str
) -> None:
    report = report_of(open_plan(hall, hall))
    finding = stop(report)
    said = report.describe(finding)
    assert f"{ends}if paint can change at that corner, record it." in said
    assert "without a corner" not in said
    assert finding.severity == "fault"
    remedies = [
        each.change for trial in trials(Cause((finding,)), report) for each in trial.remedies
    ]
    assert remedies[0].label.startswith("Record that there is a corner or trim between ")


@pytest.mark.parametrize("hall", [(0.0, 4.0), (0.0, 2.5), (0.02, 3.97)])
def test_where_no_wall_is_left_on_a_side_there_is_no_corner_to_record(
    hall: tuple[float, float],
) -> None:
    report = report_of(open_plan(hall, hall))
    assert "meet in open plan without a corner or trim" in report.describe(stop(report))
    unmeasured = report_of(two_rooms("5Y 8/1", "5Y 7/1.5", "open"))
    assert "meet in open plan without a corner or trim" in unmeasured.describe(stop(unmeasured))


def test_a_recorded_corner_is_no_finding() -> None:
    house = open_plan((0.75, 2.5), (0.75, 2.5), stop=True)
    assert not [f for f in report_of(house).findings if f.check == "stop"]


@pytest.mark.parametrize(
    ("kind", "like", "severity"),
    [("doorway", ("blue",), "note"), ("doorway", None, "warn"), ("open", ("blue",), "fault")],
)
def test_a_step_to_the_hue_that_the_client_named_for_a_room_is_only_noted(
    kind: OpeningKind, like: tuple[str, ...] | None, severity: str
) -> None:
    house = two_rooms("5Y 8.5/1", "5PB 3/6", kind)
    report = report_of(replace(house, brief=Brief(rooms={"study": RoomBrief(like=like)})))
    [finding] = [f for f in report.findings if f.check == "jar"]
    assert finding.severity == severity
    assert ("the client named the hue" in report.describe(finding)) == (severity == "note")


@pytest.mark.parametrize(("hall", "severity"), [("5Y 7.6/1", "note"), ("5Y 7.2/1", "warn")])
def test_connecting_space_that_is_hardly_darker_is_only_noted(hall: str, severity: str) -> None:
    """Of LRV 51 and 45, beside 54; common practice, no source."""
    house = two_rooms(hall, "5Y 7.75/1")
    backbone = replace(house.rooms["hall"], role="backbone")
    report = report_of(replace(house, rooms={**house.rooms, "hall": backbone}))
    [finding] = [f for f in report.findings if f.kind == "darker"]
    assert finding.severity == severity
    assert ((finding.value or 0.0) < 5.0) == (severity == "note")
