"""Every paint with the room in which it is to be tried, or has been: what the log is kept by."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from housemap.checks import Place
from housemap.model.house import House, Sample
from housemap.model.verdicts import Tried, come_to, samples_of
from housemap.schedule.samples import hours, where


@dataclass(frozen=True, slots=True)
class Trial:
    """A paint in a room."""

    paint: str
    room: str
    surface: str
    """That it is on: walls ceiling trim doors, or "accent" and the wall's key; else walls."""
    samples: tuple[Sample, ...]
    """In the order of the file."""
    walls: tuple[tuple[str, str], ...]
    """Where a tester should be, and why."""
    hours: tuple[str, ...]
    """When to look."""

    @property
    def key(self) -> tuple[str, str]:
        return self.paint, self.room

    @property
    def tried(self) -> Tried:
        return come_to(self.samples)


def trials_of_house(
    house: House, untried: Iterable[Place], most_seen: Mapping[str, str]
) -> tuple[Trial, ...]:
    """What is to be tried, as the check `untried` found it, then all else of the log."""
    places = {(place.paint, place.room): place.surface for place in untried}
    for sample in house.samples.values():
        key = sample.paint, sample.room
        places.setdefault(key, _surface(house, *key))
    open_first = sorted(places, key=lambda key: come_to(samples_of(house, *key)) in _SETTLED)
    return tuple(_trial(house, *key, places[key], most_seen) for key in open_first)


_SETTLED = frozenset({"kept", "rejected"})


def trials_of_room(house: House, room: str, most_seen: Mapping[str, str]) -> tuple[Trial, ...]:
    """Every paint on a surface of the room, then those that were tried and are on none."""
    places: dict[str, str] = {}
    for surface, paint in _painted(house, room):
        places.setdefault(paint, surface)
    for sample in house.samples.values():
        if sample.room == room:
            places.setdefault(sample.paint, "walls")
    return tuple(_trial(house, paint, room, on, most_seen) for paint, on in places.items())


def _painted(house: House, room: str) -> Iterator[tuple[str, str]]:
    held = house.rooms[room]
    yield from ((surface, paint) for surface, paint in held.paints.chosen())
    yield from ((f"accent {wall}", each.paint) for wall, each in held.accents.items())


def _surface(house: House, paint: str, room: str) -> str:
    return next((on for on, each in _painted(house, room) if each == paint), "walls")


def _trial(
    house: House, paint: str, room: str, surface: str, most_seen: Mapping[str, str]
) -> Trial:
    walls = tuple(where(house.rooms[room], surface, most_seen.get(room)))
    found = samples_of(house, paint, room)
    return Trial(paint, room, surface, found, walls, tuple(hours(house, room)))
