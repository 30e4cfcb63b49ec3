"""What a house has that the client did not ask for; nothing where nothing was asked."""

from dataclasses import replace

import pytest

from housemap.checks import Finding, Report, report_of
from housemap.checks.examples import two_rooms
from housemap.model.edits import accept, assign
from housemap.model.house import (
    Accent,
    Accepted,
    Brief,
    House,
    Notation,
    Paint,
    RoomBrief,
    State,
)
from tests.support.houses import small_house

YELLOW, GREY = "5Y 8/12", "5Y 8/1"
"""A vivid and a greyish yellow (ISCC-NBS, NBS SP 440)."""


def painted(hall: str, study: str, brief: Brief) -> House:
    return replace(two_rooms(hall, study), brief=brief)


def found(house: House) -> tuple[Finding, ...]:
    return of_brief(report_of(house, deep=False))


def of_brief(report: Report) -> tuple[Finding, ...]:
    return tuple(f for f in report.findings if f.check == "brief")


def told(house: House) -> list[str]:
    report = report_of(house, deep=False)
    return [report.describe(finding) for finding in of_brief(report)]


@pytest.mark.parametrize(
    ("hall", "brief", "text"),
    [
        (YELLOW, Brief("greyish"), "vivid; the client wants greyish at most."),
        (YELLOW, Brief(avoid=("yellow",)), "yellow; the client wants no yellow."),
        (YELLOW, Brief("greyish", avoid=("yellow",)),
         "vivid, yellow; the client wants greyish at most, no yellow."),
        ("N 8/", Brief(lrv=(40, 50)), "LRV 58; the client wants LRV 40 to 50."),
        ("N 8/", Brief(lrv=(60, 80)), "LRV 58; the client wants LRV 60 to 80."),
        (YELLOW, Brief(rooms={"hall": RoomBrief("moderate")}),
         "vivid; the client wants moderate at most."),
    ],
)  # fmt: skip
def test_one_finding_a_room_says_what_is_there_and_what_was_asked_for(
    hall: str, brief: Brief, text: str
) -> None:
    """LRV of a D1535 value of 8: 58 (ASTM D1535)."""
    told_of_hall = [t for t in told(painted(hall, "N 7/", brief)) if t.startswith("Hall")]
    assert told_of_hall == [f"Hall walls: {text}"]


@pytest.mark.parametrize(
    "brief",
    [
        Brief(),
        Brief(notes="calm"),
        Brief(like=("blue",)),
        Brief(accent_strength="neutral"),
        Brief("vivid", avoid=("pink",), lrv=(40, 90), colours=2),
        Brief("greyish", rooms={"hall": RoomBrief("vivid")}),
        Brief("greyish", rooms={"hall": RoomBrief(keep=True)}),
    ],
)
def test_nothing_is_found_that_was_not_asked_for(brief: Brief) -> None:
    assert told(painted(YELLOW, "N 8/", brief)) == []


def test_it_is_worth_a_second_look() -> None:
    [finding] = found(painted(YELLOW, GREY, Brief("greyish")))
    assert finding.severity == "warn"
    [cause] = [c for c in report_of(painted(YELLOW, GREY, Brief("greyish"))).causes
               if c.check == "brief"]  # fmt: skip
    assert cause.headline(two_rooms(YELLOW, GREY)) == "Not what the client asked for"


def test_one_wall_and_an_accent_room_go_by_the_strength_for_accents() -> None:
    house = painted(GREY, GREY, Brief("greyish", accent_strength="moderate"))
    hall = replace(house.rooms["hall"], accents={"n": Accent("bright")})
    bright = Paint("Bright", Notation(YELLOW))
    house = replace(house, rooms={**house.rooms, "hall": hall},
                    paints={**house.paints, "bright": bright})  # fmt: skip
    assert told(house) == ["Hall north wall: vivid; the client wants moderate at most."]
    accent = replace(painted(YELLOW, GREY, Brief("greyish", accent_strength="vivid")))
    hall = replace(accent.rooms["hall"], role="accent")
    assert told(replace(accent, rooms={**accent.rooms, "hall": hall})) == []


def test_a_kept_room_is_reported_where_its_paint_is_not_the_one_noted_there() -> None:
    house = painted(GREY, GREY, Brief(rooms={"hall": RoomBrief(keep=True)}))
    hall = replace(house.rooms["hall"], states={"walls": State(paint="hall")})
    noted = replace(house, rooms={**house.rooms, "hall": hall})
    assert told(noted) == []
    after = assign(noted, "hall", "walls", "study")
    assert told(after) == ["Hall walls: new paint; the client keeps the room as it is."]
    assert told(replace(after, brief=Brief())) == []
    assert told(assign(house, "hall", "walls", "study")) == [], "nobody noted what was there"


def test_a_report_follows_when_a_room_is_to_be_kept() -> None:
    house = small_house()
    kept = replace(house, brief=Brief(rooms={"kitchen": RoomBrief(keep=True)}))
    before, after = report_of(house), report_of(house).after(kept)
    assert {("untried", "kitchen")} == _to_do(before) - _to_do(after)
    assert after.to_do == report_of(kept).to_do


def _to_do(report: Report) -> set[tuple[str, str]]:
    return {(each.check, each.rooms[0]) for each in report.to_do}


def test_a_terrace_is_no_room_of_the_brief() -> None:
    house = painted(YELLOW, GREY, Brief("greyish"))
    hall = replace(house.rooms["hall"], use="outdoor")
    assert told(replace(house, rooms={**house.rooms, "hall": hall})) == []


def test_more_wall_colours_than_asked_for_are_one_finding_of_the_house() -> None:
    house = painted(GREY, "N 8/", Brief(colours=1))
    [finding] = found(house)
    assert (finding.rooms, finding.value, finding.limit) == ((), 2, 1)
    assert told(house) == ["The house has 2 wall colours; the client wants up to 1."]


def test_it_can_be_accepted_in_a_room() -> None:
    house = painted(YELLOW, GREY, Brief("greyish"))
    assert told(accept(house, [Accepted("brief", ("hall",), ("walls",), ("hall",))])) == []


def test_a_report_after_an_edit_is_that_from_scratch() -> None:
    house = painted(YELLOW, GREY, Brief("greyish", colours=1))
    before = report_of(house)
    for after in (
        assign(house, "hall", "walls", "study"),
        replace(house, brief=Brief("neutral")),
        replace(house, brief=Brief(rooms={"study": RoomBrief(lrv=(0, 10))})),
        replace(house, rooms={k: r for k, r in house.rooms.items() if k != "study"}, openings={}),
    ):
        assert of_brief(before.after(after)) == of_brief(report_of(after))
