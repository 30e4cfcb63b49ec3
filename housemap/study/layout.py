"""Where rooms lie and who sees whom; kept as long as no measure, opening or sightline changed."""

from collections.abc import Mapping
from dataclasses import dataclass

from housemap.model.house import House, Room
from housemap.plan.placing import Plan, place
from housemap.plan.sightings import Pair, Sighting, sightings
from housemap.study.study import Study


@dataclass(frozen=True, slots=True)
class Layout:
    plan: Plan
    sightings: Mapping[Pair, Sighting]
    neighbours: Mapping[str, tuple[str, ...]]


def layout_of(house: House, before: Study) -> Layout:
    if before.rooms and _same_layout(house, before.house):
        return Layout(before.plan, before.sightings, before.neighbours)
    plan = place(house)
    found = sightings(house, plan)
    return Layout(plan, found, _neighbours(house, found))


def _same_layout(house: House, old: House) -> bool:
    return (
        house.openings is old.openings
        and house.sightlines is old.sightlines
        and house.wall_thickness_m == old.wall_thickness_m
        and (
            house.rooms is old.rooms
            or (
                house.rooms.keys() == old.rooms.keys()
                and all(
                    room is old.rooms[key] or _shape(room) == _shape(old.rooms[key])
                    for key, room in house.rooms.items()
                )
            )
        )
    )


def _shape(room: Room) -> tuple[object, ...]:
    return room.level, room.use, room.size_m, room.outline_m, room.height_m, room.at_m


def _neighbours(house: House, found: Mapping[Pair, Sighting]) -> Mapping[str, tuple[str, ...]]:
    seen: dict[str, set[str]] = {room: set() for room in house.rooms}
    for a, b in found:
        seen[a].add(b)
        seen[b].add(a)
    return {room: tuple(sorted(others)) for room, others in seen.items()}
