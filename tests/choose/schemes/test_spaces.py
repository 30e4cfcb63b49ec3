"""Which rooms share their colour: open plan, and halls, stairs and landings without a door."""

from dataclasses import replace

import pytest

from housemap.choose.schemes.house_rules import spaces
from housemap.model.house import House, Opening, Room, Use


def two(*openings: Opening, use: Use = "living") -> House:
    rooms = {name: Room(name.capitalize(), use=use) for name in ("a", "b")}
    return House(rooms=rooms, openings=dict(zip("xyz", openings, strict=False)))


OPEN, DOOR, CASED = (Opening(("a", "b"), kind) for kind in ("open", "doorway", "cased"))


@pytest.mark.parametrize(
    ("house", "joined"),
    [
        (two(OPEN), True),
        (two(DOOR), False),
        (two(CASED), False),
        (two(replace(OPEN, stop=True)), False),
        (two(OPEN, DOOR), True),
        (two(DOOR, OPEN), True),
        (two(CASED, use="hall"), True),
        (two(DOOR, use="hall"), False),
        (two(CASED, DOOR, use="hall"), True),
    ],
)
def test_rooms_share_their_colour_by_any_of_their_openings(house: House, *, joined: bool) -> None:
    space = spaces(house)
    assert (space["a"] == space["b"]) == joined
