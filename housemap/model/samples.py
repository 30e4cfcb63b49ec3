"""What the samples of a paint in a room come to."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from housemap.model.geometry import floor_area_m2
from housemap.model.house import House, Room, Sample
from housemap.model.wishes import rooms_to_paint

Tried = Literal["kept", "rejected", "unsure", "put up", "untried"]
"""Put up: a tester is on the wall and nobody has judged it yet."""

_OF_VERDICT: dict[str | None, Tried] = {
    "keep": "kept",
    "reject": "rejected",
    "unsure": "unsure",
    None: "put up",
}


def come_to(samples: Iterable[Sample]) -> Tried:
    """Of samples of one paint in one room: the newest decision; without one, the newest word.

    Samples without a date are taken for older than those that have one; of the same day, the one
    that comes later in the file is the newer.
    """
    ordered = sorted(samples, key=lambda sample: sample.when or dt.date.min)
    verdicts = [sample.verdict for sample in ordered]
    decided = [verdict for verdict in verdicts if verdict not in {None, "unsure"}]
    judged = decided or [verdict for verdict in verdicts if verdict] or verdicts
    return _OF_VERDICT[judged[-1]] if judged else "untried"


def approved_paints(house: House) -> frozenset[str]:
    """The paints of which a sample was approved in some room."""
    return frozenset(paint for (paint, _), tried in all_tried(house).items() if tried == "kept")


def open_samples(house: House) -> tuple[tuple[str, str], ...]:
    """Every paint of a room to be painted of which no sample was approved where it is, with a room.

    That is a room with a sample of it, else one with the paint on its walls, the largest first; one
    that rejected it is left out.
    """
    places: dict[str, dict[str, bool]] = {}
    to_paint = [key for key in house.rooms if key in rooms_to_paint(house)]
    for room in sorted(to_paint, key=lambda key: -(floor_area_m2(house.rooms[key]) or 0.0)):
        walls = house.rooms[room].paints.walls
        for paint in _paints_in(house.rooms[room]):
            places.setdefault(paint, {})[room] = paint == walls
    tried = all_tried(house)
    found: list[tuple[str, str]] = []
    for paint, rooms in places.items():
        verdicts = {room: tried.get((paint, room)) for room in rooms}
        left = [room for room in rooms if verdicts[room] != "rejected"]
        if left and "kept" not in verdicts.values():
            found.append((paint, max(left, key=lambda r: (verdicts[r] is not None, rooms[r]))))
    order = [*house.paints]
    return tuple(sorted(found, key=lambda place: order.index(place[0])))


def _paints_in(room: Room) -> Iterator[str]:
    yield from (paint for _, paint in room.paints.chosen())
    yield from (accent.paint for accent in room.accents.values())
    yield from (part.paint for part in room.parts.values() if part.paint)


def samples_of(house: House, paint: str, room: str) -> tuple[Sample, ...]:
    """In the order of the file."""
    place = (paint, room)
    return tuple(s for s in house.samples.values() if (s.paint, s.room) == place)


def tried_in(house: House, paint: str, room: str) -> Tried:
    return come_to(samples_of(house, paint, room))


def all_tried(house: House) -> Mapping[tuple[str, str], Tried]:
    """By paint and room: what was tried at all."""
    found: dict[tuple[str, str], list[Sample]] = {}
    for sample in house.samples.values():
        found.setdefault((sample.paint, sample.room), []).append(sample)
    return {place: come_to(samples) for place, samples in found.items()}
