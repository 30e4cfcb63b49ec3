"""Which coats meet the eye together: walls and trim within a room, and across a seen pair."""

from collections.abc import Iterator

from housemap.model.house import Surface
from housemap.study import Coat, PaintedRoom, SeenPair

Meeting = tuple[Coat, Coat]

_JUDGED: tuple[Surface, ...] = ("walls", "trim")


def walls_and_trim(room: PaintedRoom) -> tuple[Coat, ...]:
    """The wall and trim coats that the room has."""
    return tuple(room.coats[surface] for surface in _JUDGED if surface in room.coats)


def within(room: PaintedRoom) -> Iterator[Meeting]:
    """Wall against trim in one room."""
    coats = walls_and_trim(room)
    if len(coats) == len(_JUDGED):
        yield coats[0], coats[1]


def across(pair: SeenPair) -> Iterator[Meeting]:
    """Walls and trim of one room against those of the other."""
    for first in walls_and_trim(pair.first):
        for second in walls_and_trim(pair.second):
            yield first, second
