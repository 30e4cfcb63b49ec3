"""Windows and doors where none can be: over another one of the wall, or before another room."""

from collections.abc import Iterable, Iterator, Mapping
from math import inf
from typing import NamedTuple

from housemap.model import geometry
from housemap.model.grouping import grouped
from housemap.model.house import House, Window
from housemap.plan.floor_plan import Plan
from housemap.plan.schematic import meet

TOUCH_M = 0.02
"""Holes that overlap by less are measured side by side (our assumption)."""
BEHIND_M = 0.3
"""A room that begins no further behind a wall than this, and the thickness of walls, is behind it;
no court is so narrow (our assumption)."""
COVERED = 0.1
"""A room behind less of a window than this may be measured a little too long (our assumption)."""


class Blocked(NamedTuple):
    """A window or door, and what is in its place."""

    room: str
    wall: str
    other: str | None = None
    """The room that lies behind it, or into which a door leads; None for another window."""
    behind: bool = False
    door: str | None = None
    """The room into which it leads itself, where it is a door."""


class _Hole(NamedTuple):
    wall: str
    along_m: float | None
    """None where that is not known: then wherever there is most room beside another one."""
    width_m: float
    low_m: float
    high_m: float
    other: str | None = None

    def over(self, others: Iterable["_Hole"], lengths_m: Mapping[str, float]) -> "_Hole | None":
        """The first of others that it overlaps, in walls of these lengths."""
        length = lengths_m.get(self.wall, inf)
        return next((other for other in others if self._overlaps(other, length)), None)

    def _overlaps(self, other: "_Hole", length_m: float) -> bool:
        up = min(self.high_m, other.high_m) - max(self.low_m, other.low_m)
        if self.wall != other.wall or up <= TOUCH_M:
            return False
        one, two = sorted((self, other), key=lambda hole: hole.along_m is None)
        before = 0.0 if one.along_m is None else one.along_m
        end = before + one.width_m
        if two.along_m is None:
            return two.width_m - max(before, length_m - end) > TOUCH_M
        return min(end, two.along_m + two.width_m) - max(before, two.along_m) > TOUCH_M


def blocked_windows(house: House, plan: Plan) -> Iterator[Blocked]:
    """In file order; of two in one place the second, a window rather than a door."""
    doors = grouped(_doors(house))
    indoors = {
        key: placed.box_m
        for key, placed in plan.rooms.items()
        if placed.measured and house.rooms[key].use != "outdoor"
    }
    for key, room in house.rooms.items():
        lengths = {wall.key: wall.length_m for wall in geometry.walls(room)}
        holes = [*doors.get(key, ())]
        for n, door in enumerate(holes):
            if there := door.over(holes[:n], lengths):
                yield Blocked(key, door.wall, there.other, door=door.other)
        for window in room.windows.values():
            size = window.along_m, window.width_m, window.sill_m, window.sill_m + window.height_m
            hole = _Hole(window.wall, *size)
            there = hole.over(holes, lengths)
            holes.append(hole)
            if behind := _room_behind(house, plan, key, window, indoors):
                yield Blocked(key, window.wall, behind, behind=True)
            elif there is not None:
                yield Blocked(key, window.wall, there.other)


def _doors(house: House) -> Iterator[tuple[str, _Hole]]:
    """The openings in the walls of each room whose width is known; not those in its floor."""
    for opening in house.openings.values():
        high, (first, second) = geometry.opening_height_m(house, opening) or 0.0, opening.between
        for room, other, along in (
            (first, second, opening.along_m),
            (second, first, opening.to_along_m),
        ):
            wall = geometry.wall_in(opening, room)
            if wall and opening.width_m and opening.kind != "stairs":
                yield room, _Hole(wall, along, opening.width_m, 0.0, high, other)


def _room_behind(
    house: House, plan: Plan, room: str, window: Window, indoors: Mapping[str, geometry.Box]
) -> str | None:
    wall, placed = geometry.wall_of(house.rooms[room], window.wall), plan.rooms[room]
    if wall is None or room not in indoors:
        return None
    out = geometry.scaled(geometry.outward(wall), house.wall_thickness_m + BEHIND_M)
    ends = (wall.at(window.along_m), wall.at(window.along_m + window.width_m))
    near, far = (geometry.plus(end, placed.at_m) for end in ends)
    strip = near, far, geometry.plus(far, out), geometry.plus(near, out)
    box, least = geometry.box_of(strip), COVERED * window.width_m * BEHIND_M
    for key, other in indoors.items():
        beside = key != room and meet(box, other) and plan.rooms[key].level == placed.level
        if beside and geometry.overlap_area_m2(strip, plan.rooms[key].outline_m) > least:
            return key
    return None
