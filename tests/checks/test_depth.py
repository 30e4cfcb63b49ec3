"""Where a wall is too dark: for connecting space, and for the light of a room."""

from dataclasses import replace

import pytest

from housemap.checks import report_of
from housemap.checks.every import check_of
from housemap.checks.examples import two_rooms, with_room
from housemap.model.house import House, Opening, OpeningKind, Use


def severities(
    hall: str, study: str, use: Use = "hall", kind: OpeningKind = "doorway"
) -> list[str]:
    house = two_rooms(hall, study, kind)
    house = with_room(house, "hall", replace(house.rooms["hall"], role="backbone", use=use))
    findings = report_of(house, deep=False).findings
    return [f.severity for f in findings if f.check == "backbone"]


@pytest.mark.parametrize(
    ("hall", "found"), [("5Y 8.3/1", ["note"]), ("5Y 8/1", ["warn"]), ("5Y 7/1", ["warn", "warn"])]
)
def test_a_light_backbone_is_only_noted_as_darker_than_a_room_off_it(
    hall: str, found: list[str]
) -> None:
    """LRV 63, 58 and 43 (ASTM D1535) beside one of 77; 60 to 70 is common practice, no source."""
    assert severities(hall, "5Y 9/1") == found


def test_a_kitchen_links_what_is_open_to_it_and_nothing_behind_a_door() -> None:
    """Common practice, no source; LRV 63 beside one of 77."""
    assert severities("5Y 8.3/1", "5Y 9/1", "kitchen") == []
    assert "note" in severities("5Y 8.3/1", "5Y 9/1", "kitchen", "open")


def dim(house: House) -> list[str]:
    return [f.check for f in report_of(house).findings if f.check == "dim"]


def test_nothing_is_said_of_daylight_in_a_room_that_has_none() -> None:
    caught = check_of("dim").caught.house
    hall = replace(caught.rooms["hall"], windows={})
    assert dim(caught) == ["dim"]
    assert dim(with_room(caught, "hall", hall)) == []
    lit = replace(caught.rooms["hall"], name="Living")
    joined = with_room(with_room(caught, "hall", hall), "living", lit)
    door = {"d": Opening(("hall", "living"), "doorway", wall="n", to_wall="n", width_m=0.8,
                         along_m=0.5, to_along_m=0.5)}  # fmt: skip
    assert "hall" not in {r for f in report_of(replace(joined, openings=door)).findings
                          if f.check == "dim" for r in f.rooms}  # fmt: skip
