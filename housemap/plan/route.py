"""The route: every room of the house once, from the entrance, and where one stands in each."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from housemap.model.house import House, Point
from housemap.plan.placed import Plan
from housemap.plan.shares import Stand, bearing_deg
from housemap.plan.sight import Sight
from housemap.plan.space import Space
from housemap.plan.stands import centroid, middle_of, standing_points
from housemap.plan.tour import EXACT, length_m, tour
from housemap.plan.vectors import middle
from housemap.plan.walking import Leg, legs_from, steps_of


@dataclass(frozen=True, slots=True)
class Stop:
    """A room on the route, where one stands in it and looks."""

    room: str
    at_m: Point
    """In plan coordinates; schematic where the room has no measures."""
    toward_deg: float
    """The way one comes in; clockwise from plan-north."""
    through: tuple[str, ...]
    """The openings from the stop before; none where no opening leads here."""


@dataclass(frozen=True, slots=True)
class Route:
    """Every room once."""

    stops: tuple[Stop, ...]
    length_m: float
    """On foot, from stop to stop; what no opening joins counts nothing."""
    shortest: bool
    """Whether no other order is shorter; else it is a good one."""


def entrance(house: House) -> str | None:
    """The room in which the route begins; None for a house without rooms.

    Outdoors where it opens into a hall, else anywhere outdoors that opens into the house, else
    a hall, else the first room; of several the lowest level's first.
    """
    if not house.rooms:
        return None
    inward = [
        pair for each in house.openings.values() for pair in (each.between, each.between[::-1])
    ]
    rooms = house.rooms

    def rank(key: str) -> tuple[int, int]:
        behind = {rooms[b].use for a, b in inward if a == key}
        outdoors = rooms[key].use == "outdoor"
        if outdoors and behind - {"outdoor"}:
            return (0 if "hall" in behind else 1), abs(rooms[key].level)
        return (2 if rooms[key].use == "hall" else 3), abs(rooms[key].level)

    return min(rooms, key=rank)


def route_of(house: House, plan: Plan, space: Space) -> Route:
    """The route of a placed house; parts that no opening joins follow one after the other."""
    stands = {key: stand_in(plan, space, key) for key in house.rooms}
    steps = steps_of(house, plan, stands)
    stops: list[Stop] = []
    total, shortest = 0.0, True
    first = entrance(house)
    while first:
        reached = legs_from(steps, first)
        part = [first, *(room for room in house.rooms if room in reached and room != first)]
        legs = {room: legs_from(steps, room) for room in part}
        order = tour(legs, part)
        total += length_m(legs, order)
        shortest &= len(part) <= EXACT
        stops += _stops(plan, stands, legs, order)
        walked = {stop.room for stop in stops}
        first = next((room for room in house.rooms if room not in walked), None)
    return Route(tuple(stops), total, shortest)


def stand_in(plan: Plan, space: Space, room: str) -> Point:
    """The standing point nearest the middle of a room; of a schematic block its middle."""
    if room not in space.rooms:
        return centroid(plan.rooms[room].outline_m)
    points = standing_points(space.rooms[room])
    to_middle = np.linalg.norm(points - np.array(middle_of(space.rooms[room])), axis=-1)
    x, y = points[np.argmin(np.round(to_middle, 9))]
    return float(x), float(y)


def best_stand(sight: Sight, room: str, other: str) -> Stand | None:
    """Where in a room one sees most of another one; None where it is not seen by measures."""
    return sight.rooms[room].views.best.get(other) if room in sight.rooms else None


def _stops(
    plan: Plan,
    stands: Mapping[str, Point],
    legs: Mapping[str, Mapping[str, Leg]],
    order: Sequence[str],
) -> Iterator[Stop]:
    """Each room with the way from the one before; the first looks on to the second."""
    for i, room in enumerate(order):
        through = legs[order[i - 1]][room].through if i else ()
        at = stands[room]
        toward = 0.0
        if through:
            toward = _bearing_deg(_middle_of(plan, through[-1]), at)
        elif len(order) > 1:
            toward = _bearing_deg(at, _middle_of(plan, legs[room][order[1]].through[0]))
        yield Stop(room, at, toward, through)


def _middle_of(plan: Plan, opening: str) -> Point | None:
    placed = plan.openings.get(opening)
    return middle(middle(*placed.near_m), middle(*placed.far_m)) if placed else None


def _bearing_deg(start: Point | None, end: Point | None) -> float:
    """From one point to another; plan-north where one is not known."""
    return bearing_deg(end[0] - start[0], end[1] - start[1]) if start and end else 0.0
