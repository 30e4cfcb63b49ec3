"""Measured rooms joined by measured openings: each such group placed on its own and adjusted."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot

from housemap.model.house import House, Point
from housemap.model.shape import is_measured
from housemap.plan.joints import aligned, sides, tie
from housemap.plan.network import (
    CLOSED_M,
    Tie,
    adjusted,
    likely_blunder,
    walk,
    worst_misclosure_m,
)
from housemap.plan.placed import Closing
from housemap.plan.vectors import dot, minus, plus, scaled

TOLD_M = 0.01
"""A loop that closes within a centimetre is not told as a closing."""
CLOSINGS = 8
"""At most so many openings of a group are named."""
EASED_M = 0.5
"""Between two pinned rooms the wall may differ so much from the house's wall thickness."""

ORIGIN: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Group:
    """Rooms whose places follow from each other; pinned groups all lie in one plan."""

    level: int
    origins: Mapping[str, Point]
    pinned: bool
    closing_error_m: float
    closings: tuple[Closing, ...]


def groups(house: House) -> list[Group]:
    """Every group of measured or pinned rooms, in file order of its first room."""
    ties = _ties(house)
    pins = {key: room.at_m for key, room in house.rooms.items() if room.at_m is not None}
    by_room: dict[str, list[Tie]] = defaultdict(list)
    for each in ties:
        by_room[each.a].append(each)
        by_room[each.b].append(each)
    found: list[Group] = []
    seen: set[str] = set()
    for key, room in house.rooms.items():
        if key not in seen and (is_measured(room) or key in pins):
            members = _reached(key, by_room)
            seen.update(members)
            found.append(_group(room.level, members, by_room, pins))
    return found


def unaligned(house: House) -> tuple[str, ...]:
    """Openings measured on both sides whose walls do not face each other."""
    found = []
    for key, opening in house.openings.items():
        first, second = sides(house, opening)
        if first and second and aligned(first, second) is None:
            found.append(key)
    return tuple(found)


def _ties(house: House) -> list[Tie]:
    rooms = house.rooms
    found = [
        tie(house, key)
        for key, opening in house.openings.items()
        if rooms[opening.between[0]].level == rooms[opening.between[1]].level
    ]
    return [each for each in found if each is not None]


def _reached(start: str, by_room: Mapping[str, Sequence[Tie]]) -> list[str]:
    """Every room that ties lead to from `start`, nearest first."""
    found = {start: None}
    queue = [start]
    for here in queue:
        for each in by_room.get(here, ()):
            for there in (each.a, each.b):
                if there not in found:
                    found[there] = None
                    queue.append(there)
    return list(found)


def _group(
    level: int,
    members: Sequence[str],
    by_room: Mapping[str, Sequence[Tie]],
    pins: Mapping[str, Point],
) -> Group:
    fixed = {key: pins[key] for key in members if key in pins}
    held = fixed or {members[0]: ORIGIN}
    once = {each.opening: each for key in members for each in by_room.get(key, ())}
    ties = [_eased(each, fixed) for each in once.values()]
    walked = walk(members, ties, held)
    error = worst_misclosure_m(ties, walked)
    if error <= CLOSED_M:
        return Group(level, walked, bool(fixed), 0.0, ())
    closings = tuple(_closings(members, ties, held)) if error > TOLD_M else ()
    return Group(level, adjusted(ties, walked, held), bool(fixed), error, closings)


def _eased(each: Tie, pins: Mapping[str, Point]) -> Tie:
    """Between two pinned rooms the wall is as thick as the pins leave it (up to EASED_M)."""
    if not (each.a in pins and each.b in pins):
        return each
    pinned = minus(pins[each.b], pins[each.a])
    across = (each.along[1], -each.along[0])
    gap = dot(minus(pinned, each.offset_m), across)
    if not 0 < abs(gap) <= EASED_M:
        return each
    return replace(each, offset_m=plus(each.offset_m, scaled(across, gap)))


def _closings(
    members: Sequence[str], ties: Sequence[Tie], held: Mapping[str, Point]
) -> Iterator[Closing]:
    """Names an opening, leaves it out and looks again, until the rest closes."""
    for _ in range(CLOSINGS):
        walked = walk(members, ties, held)
        if worst_misclosure_m(ties, walked) <= TOLD_M:
            return
        blunder = likely_blunder(ties, adjusted(ties, walked, held), held)
        if blunder is None:
            return
        yield Closing(hypot(*blunder.off_m), blunder.tie.opening, blunder.off_m)
        ties = [each for each in ties if each is not blunder.tie]
