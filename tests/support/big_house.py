"""Houses of any number of rooms, laid out as people build: wings of rooms along a passage.

A wing is four lengths of passage in a row, joined by cased openings, with a room to the north and
one to the south of each. Five wings, behind doors that usually stand shut, make a level; a stair
joins each level to the next. So a room sees about as many others in a house of 2,000 as in one of
60, and what grows with the house is told apart from what grows with the view.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from housemap.model.house import (
    Door,
    House,
    Opening,
    OpeningKind,
    Paint,
    Role,
    Room,
    Srgb,
    SurfacePaints,
    Use,
    Window,
)

WALL_M = 0.1
PASSAGE_M = (3.6, 1.6)
ROOM_M = (3.6, 4.0)
PASSAGES_PER_WING = 4
WINGS_PER_LEVEL = 5
ROOMS_PER_LEVEL = 3 * PASSAGES_PER_WING * WINGS_PER_LEVEL

WHITE = "white"
WALL_COLOURS = (
    "#d6cdbd", "#dcc8bd", "#c0c6b6", "#a9b4ba", "#a3a886", "#c8d3cf", "#e0d9cd", "#b9b4ac",
    "#c4b28f", "#d8d2c4", "#bfb3a2",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Place:
    """Which length of passage, and whether the room is it, north of it or south of it."""

    level: int
    passage: int
    side: str

    @property
    def id(self) -> str:
        return f"l{self.level}-{self.passage:02}{self.side}"


def big_house(rooms: int) -> House:
    """A legal, measured, painted house of so many rooms; the first is the one that is pinned."""
    places = tuple(islice(_places(), rooms))
    ids = {place.id for place in places}
    openings = dict(opening for place in places for opening in _openings(place))
    return House(
        name=f"House of {rooms} rooms",
        paints=_paints(),
        rooms={place.id: _room(index, place) for index, place in enumerate(places)},
        openings={key: each for key, each in openings.items() if ids.issuperset(each.between)},
    )


def _places() -> Iterator[_Place]:
    level = 0
    while True:
        for passage in range(PASSAGES_PER_WING * WINGS_PER_LEVEL):
            yield from (_Place(level, passage, side) for side in ("", "n", "s"))
        level += 1


def _paints() -> dict[str, Paint]:
    walls = {
        f"p{number:02}": Paint(f"Paint {number}", Srgb(colour))
        for number, colour in enumerate(WALL_COLOURS)
    }
    return walls | {WHITE: Paint("White", Srgb("#f1eee6"))}


def _room(index: int, place: _Place) -> Room:
    passage = not place.side
    walls = "p00" if passage else f"p{index * 7 % len(WALL_COLOURS):02}"
    use: Use = "hall" if passage else "bedroom"
    role: Role = "backbone" if passage else "room"
    window = Window(place.side, 1.0, 1.4, 1.2, 0.9)
    return Room(
        name=f"{'Passage' if passage else 'Room'} {index}",
        level=place.level,
        use=use,
        role=role,
        size_m=PASSAGE_M if passage else ROOM_M,
        height_m=2.4,
        at_m=(0.0, 0.0) if index == 0 else None,
        paints=SurfacePaints(walls, WHITE, WHITE, WHITE),
        windows={} if passage else {"garden": window},
    )


def _openings(place: _Place) -> Iterator[tuple[str, Opening]]:
    if place.side:
        yield _opening(place, _Place(place.level, place.passage, ""), _towards_passage(place.side))
    else:
        yield _opening(_Place(place.level, place.passage - 1, ""), place, ("e", "w"))
        if place.passage == 0:
            yield _opening(_Place(place.level - 1, 0, ""), place, None)


def _towards_passage(side: str) -> tuple[str, str]:
    return ("s", "n") if side == "n" else ("n", "s")


def _opening(first: _Place, second: _Place, walls: tuple[str, str] | None) -> tuple[str, Opening]:
    between = (first.id, second.id)
    key = "-".join(between)
    if walls is None:
        return key, Opening(between, "stairs")
    joins_wings = not first.side and second.passage % PASSAGES_PER_WING == 0
    kind: OpeningKind = "doorway" if first.side or joins_wings else "cased"
    door: Door = "shut" if joins_wings else "open"
    along = 1.4 if first.side else 0.4
    return key, Opening(
        between, kind, door, wall=walls[0], along_m=along, to_wall=walls[1], to_along_m=along,
        width_m=0.8,
    )  # fmt: skip
