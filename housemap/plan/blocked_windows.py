"""Windows where none can be: over a door or another window of the wall, or before another room."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from housemap.model.geometry import (
    Box,
    Polygon,
    Wall,
    box_of,
    opening_height_m,
    outward,
    overlap_area_m2,
    plus,
    scaled,
    wall_in,
    wall_of,
)
from housemap.model.house import House, Point, Window
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
    window: str
    other: str | None = None
    """The room that lies behind it, or into which the door leads; None for another window."""
    behind: bool = False


class _Hole(NamedTuple):
    start_m: float
    end_m: float
    low_m: float
    high_m: float
    other: str | None = None

    def overlaps(self, other: "_Hole") -> bool:
        along = min(self.end_m, other.end_m) - max(self.start_m, other.start_m)
        up = min(self.high_m, other.high_m) - max(self.low_m, other.low_m)
        return along > TOUCH_M and up > TOUCH_M


def blocked_windows(house: House, plan: Plan) -> Iterator[Blocked]:
    """In file order; of two windows in one place the second."""
    doors, indoors = _doors(house), _indoors(house, plan)
    for key, room in house.rooms.items():
        before: list[tuple[str, _Hole]] = []
        for name, window in room.windows.items():
            hole = _hole_of(window)
            holes = (*doors.get(key, ()), *before)
            same_wall = (each for wall, each in holes if wall == window.wall)
            over = next(filter(hole.overlaps, same_wall), None)
            before.append((window.wall, hole))
            if over is not None:
                yield Blocked(key, name, over.other)
            elif behind := _room_behind(house, plan, key, window, indoors):
                yield Blocked(key, name, behind, behind=True)


def _hole_of(window: Window) -> _Hole:
    along, sill = window.along_m, window.sill_m
    return _Hole(along, along + window.width_m, sill, sill + window.height_m)


def _doors(house: House) -> dict[str, list[tuple[str, _Hole]]]:
    """The measured openings in the walls of each room, with the key of the wall."""
    found: dict[str, list[tuple[str, _Hole]]] = {}
    for opening in house.openings.values():
        high = opening_height_m(house, opening)
        for room, other, along in zip(
            opening.between,
            reversed(opening.between),
            (opening.along_m, opening.to_along_m),
            strict=True,
        ):
            wall = wall_in(opening, room)
            if wall and along is not None and opening.width_m and high:
                hole = _Hole(along, along + opening.width_m, 0.0, high, other)
                found.setdefault(room, []).append((wall, hole))
    return found


def _indoors(house: House, plan: Plan) -> Mapping[str, Box]:
    return {
        key: placed.box_m
        for key, placed in plan.rooms.items()
        if placed.measured and house.rooms[key].use != "outdoor"
    }


def _room_behind(
    house: House, plan: Plan, room: str, window: Window, indoors: Mapping[str, Box]
) -> str | None:
    wall, placed = wall_of(house.rooms[room], window.wall), plan.rooms[room]
    if wall is None or room not in indoors:
        return None
    strip = _behind(wall, window, placed.at_m, house.wall_thickness_m + BEHIND_M)
    box, least = box_of(strip), COVERED * window.width_m * BEHIND_M
    near = (key for key, other in indoors.items() if key != room and meet(box, other))
    level = (key for key in near if plan.rooms[key].level == placed.level)
    found = (key for key in level if overlap_area_m2(strip, plan.rooms[key].outline_m) > least)
    return next(found, None)


def _behind(wall: Wall, window: Window, at_m: Point, deep_m: float) -> Polygon:
    """The strip behind a window, in the plan."""
    ends = (wall.at(window.along_m), wall.at(window.along_m + window.width_m))
    near, far = (plus(end, at_m) for end in ends)
    out = scaled(outward(wall), deep_m)
    return near, far, plus(far, out), plus(near, out)
