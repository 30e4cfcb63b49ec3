"""Who sees whom in the measured rooms, kept from edit to edit; and as a list of rows."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from housemap.model.house import House
from housemap.plan.floor_plan import Plan
from housemap.plan.free_space import Space, space_of
from housemap.plan.house_graph import HouseGraph, Sighting, Way, sorted_pair
from housemap.plan.sightings import in_order, ways_from
from housemap.plan.vectors import middle
from housemap.plan.visibility import Stand, Views, bearing_deg, standing_points, views


@dataclass(frozen=True, slots=True)
class RoomSight:
    """What is seen from one room."""

    ways: Mapping[str, tuple[Way, ...]]
    """The openings on the way to each room seen, every way, the shortest first."""
    views: Views


@dataclass(frozen=True, slots=True)
class Sight:
    """What is seen from each room that has measures."""

    space: Space
    rooms: Mapping[str, RoomSight]

    def pairs(self) -> dict[tuple[str, str], tuple[Way, ...]]:
        """Every pair that sees each other, by sorted pair, with the ways from first to second."""
        return {
            (room, other): several
            for room in sorted(self.rooms)
            for other, several in self.rooms[room].ways.items()
            if room < other
        }

    def shares(self) -> dict[tuple[str, str], float]:
        """Of the full circle, by sorted pair: from the room that sees more of the other."""
        found: dict[tuple[str, str], float] = {}
        for room, seen in self.rooms.items():
            for other, share in seen.views.shares.items():
                pair = sorted_pair(room, other)
                found[pair] = max(found.get(pair, 0.0), share)
        return found


def sight_of(house: House, plan: Plan, previous: Sight | None = None) -> Sight:
    """The sight of a placed house; equal to one from scratch whatever `previous` was.

    A room's sight is made anew only if the room, one that it sees, or a door of these changed.
    """
    space = space_of(house, plan)
    if previous is None:
        return Sight(space, {room: _from_room(space, room) for room in space.rooms})
    if space == previous.space and list(space.rooms) == list(previous.rooms):
        return previous
    same = {room for room, built in space.rooms.items() if previous.space.rooms.get(room) == built}
    rooms: dict[str, RoomSight] = {}
    for room in space.rooms:
        before = previous.rooms[room] if room in same else None
        kept = before if before and before.ways.keys() <= same else None
        rooms[room] = kept or _from_room(space, room)
    return Sight(space, rooms)


def _from_room(space: Space, room: str) -> RoomSight:
    found = ways_from(space, room)
    return RoomSight({other: in_order(found[other]) for other in sorted(found)}, views(space, room))


@dataclass(frozen=True, slots=True)
class SightRow:
    """One room seen from another."""

    from_room: str
    to_room: str
    through: tuple[tuple[str, ...], ...]
    """The rooms in between, every way, the shortest first; an empty way is a shared opening."""
    share: float | None
    """Mean over the standing points of the part of the full circle; None where not known."""
    best: Stand | None
    """Where one sees most of it; None where measures are missing."""


def sight_rows(graph: HouseGraph, sight: Sight) -> tuple[SightRow, ...]:
    """Both directions of every pair found by measures or declared, or likely without measures.

    Rooms with measures that only stairs join are left out: no line at eye height joins them.
    """
    declared = {sorted_pair(*line.between) for line in graph.sightlines.values()}
    rows: list[SightRow] = []
    for pair, sighting in graph.sightings.items():
        a, b = pair
        if a in sight.rooms and b in sight.rooms[a].ways:
            rows += [_measured(graph, sight, a, b), _measured(graph, sight, b, a)]
        elif pair in declared or a not in sight.rooms or b not in sight.rooms:
            rows += [_unmeasured(graph, sighting, a, b), _unmeasured(graph, sighting, b, a)]
    return tuple(sorted(rows, key=lambda row: (row.from_room, row.to_room)))


def _measured(graph: HouseGraph, sight: Sight, a: str, b: str) -> SightRow:
    seen = sight.rooms[a]
    through = dict.fromkeys(graph.rooms_along(a, way)[:-1] for way in seen.ways[b])
    best = seen.views.best.get(b) or _nearest_stand(sight.space, a, seen.ways[b][0])
    return SightRow(a, b, tuple(through), seen.views.shares.get(b, 0.0), best)


def _unmeasured(graph: HouseGraph, sighting: Sighting, a: str, b: str) -> SightRow:
    way = sighting.through if sighting.rooms == (a, b) else sighting.through[::-1]
    through = (graph.rooms_along(a, way)[:-1],) if way else ()
    return SightRow(a, b, through, sighting.share, None)


def _nearest_stand(space: Space, room: str, way: Way) -> Stand:
    """The standing point nearest to the first opening, where no point sees through them all."""
    mouth = next(
        passage
        for part in space.rooms[room].parts
        for passage in part.passages
        if passage.opening == way[0]
    )
    target = np.array(middle(mouth.lefts[0], mouth.rights[0]))
    points = standing_points(space.rooms[room])
    x, y = points[np.argmin(np.linalg.norm(points - target, axis=-1))]
    toward = bearing_deg(float(target[0] - x), float(target[1] - y))
    return Stand((float(x), float(y)), toward, 0.0)
