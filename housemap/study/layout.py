"""Where rooms lie and the graph; kept as long as no measure, opening or sightline changed."""

from dataclasses import dataclass

from housemap.model.house import House, Room
from housemap.plan.free_space import space_of
from housemap.plan.house_graph import HouseGraph, graph_of
from housemap.plan.placing import Plan, place
from housemap.plan.sightings import sightings, ways
from housemap.study.study import Study


@dataclass(frozen=True, slots=True)
class Layout:
    plan: Plan
    graph: HouseGraph


def layout_of(house: House, before: Study) -> Layout:
    if before.rooms and _same_layout(house, before.house):
        return Layout(before.plan, before.graph)
    graph = graph_of(house)
    plan = place(house, graph)
    return Layout(plan, graph.with_sightings(sightings(graph, plan, ways(space_of(house, plan)))))


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
