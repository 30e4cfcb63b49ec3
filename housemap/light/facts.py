"""The light part of a room's facts, as plain data."""

from housemap.light.enclosure import CEILING, FLOOR
from housemap.light.lit import WALLS, Lit, xy
from housemap.light.room import RoomLight
from housemap.light.scene import LightName
from housemap.light.seen import Seen

Facts = dict[str, object]


def light_facts(room: RoomLight) -> Facts:
    """mean_reflectance, daylight_factor, daylight_plane (percent) and light, by the file format.

    Lux are area means; chromaticities are of the 10 degree observer.
    """
    return {
        "mean_reflectance": room.mean_reflectance,
        "daylight_factor": room.daylight.percent if room.daylight else None,
        "daylight_plane": room.plane_percent,
        "light": {name: _light(room, name, light) for name, light in room.lights.items()},
    }


def _light(room: RoomLight, name: LightName, light: Lit) -> Facts:
    surfaces = (FLOOR, CEILING, WALLS)
    walls = room.seen.get(name, {}).get("walls")
    return {
        "source_xy": list(xy(light.source)),
        "direct": {surface: light.direct_lux(surface) for surface in surfaces},
        "total": {surface: light.total_lux(surface) for surface in surfaces},
        "wall_light_xy": list(xy(light.total(WALLS))),
        "wall_seen": _seen(walls) if walls else None,
    }


def _seen(colour: Seen) -> Facts:
    return {"JMh": list(colour.jmh), "ucs": list(colour.ucs), "srgb": colour.srgb}
