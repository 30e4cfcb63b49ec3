"""Which way a wall faces, what colour of daylight comes from there, which wall lies opposite."""

from typing import Literal

from housemap.model.geometry import Wall, azimuth_deg, outward, wall_of, walls
from housemap.model.house import Room, Window

Side = Literal["sun", "shade", "between"]

DAYLIGHT_KELVIN: dict[Side, float] = {"sun": 5500.0, "shade": 7500.0, "between": 6500.0}
"""By the side of the house that a window is on (common practice, no source)."""
_HALF_SIDE_DEG = 45.0


def window_azimuth_deg(room: Room, window: Window, north_deg: float) -> float:
    """The same of the wall that a window is in; ValueError where the room has no such wall."""
    wall = wall_of(room, window.wall)
    if wall is None:
        raise ValueError(window.wall)
    return azimuth_deg(wall, north_deg)


def daylight_kelvin(azimuth: float, latitude_deg: float | None) -> float:
    """The colour temperature of daylight from a bearing; 6500 K where the hemisphere is unknown."""
    if not latitude_deg:
        return DAYLIGHT_KELVIN["between"]
    sun = 180.0 if latitude_deg > 0.0 else 0.0
    off = abs((azimuth - sun + 180.0) % 360.0 - 180.0)
    if off < _HALF_SIDE_DEG:
        return DAYLIGHT_KELVIN["sun"]
    return DAYLIGHT_KELVIN["shade" if off > 180.0 - _HALF_SIDE_DEG else "between"]


_ALONGSIDE = 1e-9


def opposite(room: Room, wall: str) -> str | None:
    """The wall that is looked at with one's back to the middle of this one; None in no room."""
    here = wall_of(room, wall)
    if here is None:
        return None
    ways = ((_way_to(here, each), each.key) for each in walls(room) if each.key != wall)
    met = [(way, key) for way, key in ways if way is not None]
    return min(met, key=lambda each: each[0])[1] if met else None


def _way_to(here: Wall, other: Wall) -> float | None:
    """How far straight ahead another wall is met, in metres; None where it is not."""
    (x, y), (out_x, out_y) = here.at(here.length_m / 2.0), outward(here)
    (x0, y0), (x1, y1) = other.start_m, other.end_m
    across = out_y * (x1 - x0) - out_x * (y1 - y0)
    if abs(across) < _ALONGSIDE:
        return None
    way = ((x0 - x) * (y1 - y0) - (y0 - y) * (x1 - x0)) / across
    along = (out_x * (y0 - y) - out_y * (x0 - x)) / across
    return way if way > _ALONGSIDE and 0.0 <= along <= 1.0 else None
