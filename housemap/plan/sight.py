"""Who sees whom in the measured rooms, kept from edit to edit where nothing in sight changed."""

from collections.abc import Mapping
from dataclasses import dataclass

from housemap.model.house import House
from housemap.plan.house_graph import Way
from housemap.plan.placed import Plan
from housemap.plan.shares import Views, views
from housemap.plan.space import Space, space_of
from housemap.plan.ways import in_order, ways_from


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
