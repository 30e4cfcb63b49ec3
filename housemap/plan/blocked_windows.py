"""Windows where none can be: over a door or another window of the wall, or before another room."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from housemap.model.geometry import (
    Box,
    box_of,
    opening_height_m,
    outward,
    overlap_area_m2,
    plus,
    scaled,
    wall_in,
    wall_of,
)
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
    """A window, and what is in its place."""

    room: str
    wall: str
    other: str | None = None
    """The room that lies behind it, or into which a door leads; None for another window."""
    behind: bool = False


class _Hole(NamedTuple):
    wall: str
    start_m: float
    end_m: float
    low_m: float
    high_m: float
    other: str | None = None

    def overlaps(self, other: "_Hole") -> bool:
        along = min(self.end_m, other.end_m) - max(self.start_m, other.start_m)
        up = min(self.high_m, other.high_m) - max(self.low_m, other.low_m)
        return self.wall == other.wall and along > TOUCH_M and up > TOUCH_M


def blocked_windows(house: House, plan: Plan) -> Iterator[Blocked]:
    """In file order; of two windows in one place the second."""
    doors = grouped(_doors(house))
    indoors = {
        key: placed.box_m
        for key, placed in plan.rooms.items()
        if placed.measured and house.rooms[key].use != "outdoor"
    }
    for key, room in house.rooms.items():
        holes = [*doors.get(key, ())]
        for window in room.windows.values():
            along, sill, width = window.along_m, window.sill_m, window.width_m
            hole = _Hole(window.wall, along, along + width, sill, sill + window.height_m)
            over = next(filter(hole.overlaps, holes), None)
            holes.append(hole)
            if behind := _room_behind(house, plan, key, window, indoors):
                yield Blocked(key, window.wall, behind, behind=True)
            elif over is not None:
                yield Blocked(key, window.wall, over.other)


def _doors(house: House) -> Iterator[tuple[str, _Hole]]:
    """The measured openings in the walls of each room."""
    for opening in house.openings.values():
        high, (first, second) = opening_height_m(house, opening) or 0.0, opening.between
        for room, other, along in (
            (first, second, opening.along_m),
            (second, first, opening.to_along_m),
        ):
            wall = wall_in(opening, room)
            if wall and along is not None and opening.width_m:
                yield room, _Hole(wall, along, along + opening.width_m, 0.0, high, other)


def _room_behind(
    house: House, plan: Plan, room: str, window: Window, indoors: Mapping[str, Box]
) -> str | None:
    wall, placed = wall_of(house.rooms[room], window.wall), plan.rooms[room]
    if wall is None or room not in indoors:
        return None
    out = scaled(outward(wall), house.wall_thickness_m + BEHIND_M)
    ends = (wall.at(window.along_m), wall.at(window.along_m + window.width_m))
    near, far = (plus(end, placed.at_m) for end in ends)
    strip = near, far, plus(far, out), plus(near, out)
    box, least = box_of(strip), COVERED * window.width_m * BEHIND_M
    for key, other in indoors.items():
        beside = key != room and meet(box, other) and plan.rooms[key].level == placed.level
        if beside and overlap_area_m2(strip, plan.rooms[key].outline_m) > least:
            return key
    return None
