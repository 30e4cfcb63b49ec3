"""Moving about in the measured rooms: a step in any direction, and through an opening."""

from dataclasses import dataclass

from housemap.model.house import House, Point
from housemap.model.polygon import edges
from housemap.plan.placed import Plan
from housemap.plan.space import PartKey, Passage, Space, part_at
from housemap.plan.vectors import Segment, cross, direction, middle, minus, plus, scaled, unit

CLEAR_M = 0.3
"""One stops this far before a wall, measured along the step."""
BEYOND_M = 0.5
"""Through an opening one steps this far into the next room."""

_PARALLEL = 1e-9


@dataclass(frozen=True, slots=True)
class Place:
    """Where one stands."""

    room: str
    at_m: Point


def step(space: Space, place: Place, toward_deg: float, length_m: float) -> Place:
    """One step along a bearing, through any opening on the way, up to CLEAR_M before a wall.

    A step that would end in the depth of a wall ends behind it.
    """
    key = part_at(space, place.room, place.at_m)
    if key is None:
        return place
    heading = direction(toward_deg)
    entered, visited = 0.0, {key}
    while True:
        end = _way_to_edge(space, key, place.at_m, heading)
        passage = _passage(space, key, place.at_m, heading)
        if passage is None or passage.to in visited:
            walked = min(length_m, max(end - CLEAR_M, (entered + end) / 2 if entered else 0.0))
            break
        if length_m <= end:
            walked = length_m
            break
        far = (passage.rights[-1], passage.lefts[-1])
        entered = max(end, _way_to(place.at_m, heading, far))
        length_m = max(length_m, entered + CLEAR_M) if entered > end else length_m
        key = passage.to
        visited.add(key)
    return Place(key[0], plus(place.at_m, scaled(heading, walked)))


def through(house: House, plan: Plan, space: Space, opening: str, room: str) -> Place | None:
    """A step from `room` through an opening (a shut door is opened); None without measures."""
    placed = plan.openings.get(opening)
    if placed is None or not placed.measured:
        return None
    a, b = house.openings[opening].between
    target, far = (b, placed.far_m) if room == a else (a, placed.near_m)
    run = unit(minus(far[1], far[0]))
    for inward in ((-run[1], run[0]), (run[1], -run[0])):
        doorstep = plus(middle(*far), scaled(inward, 0.01))
        key = part_at(space, target, doorstep)
        if key:
            reach = _way_to_edge(space, key, doorstep, inward)
            return Place(target, plus(doorstep, scaled(inward, min(BEYOND_M, reach / 2))))
    return None


def _passage(space: Space, key: PartKey, at: Point, heading: Point) -> Passage | None:
    """The passage that a ray takes out of a part; None where it meets a wall."""
    for passage in space.part(key).passages:
        if all(cross(minus(right, at), heading) > 0 for right in passage.rights) and all(
            cross(heading, minus(left, at)) > 0 for left in passage.lefts
        ):
            return passage
    return None


def _way_to_edge(space: Space, key: PartKey, at: Point, heading: Point) -> float:
    """How far it is to where a ray leaves a part."""
    return min(
        max(_way_to(at, heading, edge), 0.0)
        for edge in edges(space.part(key).points)
        if cross(minus(edge[1], edge[0]), heading) < -_PARALLEL
    )


def _way_to(at: Point, heading: Point, line: Segment) -> float:
    run = minus(line[1], line[0])
    return cross(minus(line[0], at), run) / cross(heading, run)
