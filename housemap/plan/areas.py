"""Areas of a measured room: floor, walls gross and net, ceiling, and its volume."""

from collections.abc import Iterable
from dataclasses import dataclass

from housemap.model.geometry import floor_area_m2, opening_height_m, perimeter_m
from housemap.model.house import House, Opening, Window

DEDUCTED_ABOVE_M2 = 0.5
"""A hole up to this size is not deducted from its wall (IS 1200 Part 13:1994, clause 3)."""


@dataclass(frozen=True, slots=True)
class RoomAreas:
    """Areas in square metres, volume in cubic metres."""

    floor_m2: float
    wall_m2: float
    """Perimeter times height."""
    wall_net_m2: float
    """Less the windows and openings above DEDUCTED_ABOVE_M2."""
    volume_m3: float


def room_areas(house: House, room_id: str, openings: Iterable[Opening]) -> RoomAreas | None:
    """The areas of a room; None unless its size (or outline) and height are known."""
    room = house.rooms[room_id]
    floor, around = floor_area_m2(room), perimeter_m(room)
    if floor is None or around is None or room.height_m is None:
        return None
    wall = around * room.height_m
    holes = [window_area_m2(window) for window in room.windows.values()]
    holes += [opening_area_m2(house, opening) for opening in openings]
    net = wall - sum(hole for hole in holes if hole > DEDUCTED_ABOVE_M2)
    return RoomAreas(floor, wall, max(net, 0.0), floor * room.height_m)


def window_area_m2(window: Window) -> float:
    return window.width_m * window.height_m


def opening_area_m2(house: House, opening: Opening) -> float:
    """Width times height; 0 where either is unknown."""
    return (opening.width_m or 0.0) * (opening_height_m(house, opening) or 0.0)
