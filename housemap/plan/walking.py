"""How far it is on foot from room to room, through the openings; pure Python."""

from collections.abc import Mapping
from dataclasses import dataclass
from heapq import heappop, heappush
from math import dist

from housemap.model.house import House, Point
from housemap.plan.placed import Plan
from housemap.plan.vectors import middle

PASSAGE_M = 4.0
"""From one room to the next where measures do not tell (our assumption)."""
STAIRS_M = 6.0
"""A flight from level to level (our assumption)."""

Steps = Mapping[str, list[tuple[str, str, float]]]
"""From each room: an opening, the room behind it, and how far it is from middle to middle."""


@dataclass(frozen=True, slots=True)
class Leg:
    """The shortest way between two rooms: the openings in order, and its length."""

    through: tuple[str, ...]
    length_m: float


def steps_of(house: House, plan: Plan, stands: Mapping[str, Point]) -> Steps:
    """Every opening both ways, shut doors and stairs too."""
    steps: dict[str, list[tuple[str, str, float]]] = {room: [] for room in house.rooms}
    for key, opening in house.openings.items():
        a, b = opening.between
        length = _length_m(plan, key, stands[a], stands[b])
        if plan.rooms[a].level != plan.rooms[b].level:
            length = STAIRS_M
        steps[a].append((key, b, length))
        steps[b].append((key, a, length))
    return steps


def legs_from(steps: Steps, start: str) -> dict[str, Leg]:
    """The shortest way from a room to every room that it is joined to (Dijkstra 1959)."""
    found: dict[str, Leg] = {}
    queue: list[tuple[float, tuple[str, ...], str]] = [(0.0, (), start)]
    while queue:
        length, through, here = heappop(queue)
        if here in found:
            continue
        found[here] = Leg(through, length)
        for opening, there, further in steps[here]:
            if there not in found:
                heappush(queue, (length + further, (*through, opening), there))
    return found


def _length_m(plan: Plan, opening: str, start: Point, end: Point) -> float:
    placed = plan.openings.get(opening)
    if placed is None or not placed.measured:
        return PASSAGE_M
    near, far = middle(*placed.near_m), middle(*placed.far_m)
    return min(
        dist(start, near) + dist(near, far) + dist(far, end),
        dist(start, far) + dist(far, near) + dist(near, end),
    )
