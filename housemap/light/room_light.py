"""The way in: the light of rooms, the colours of their surfaces as seen in it, and its facts."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from housemap.light.as_seen import Seen, eye_in, seen
from housemap.light.daylight import DaylightFactor, MedianDaylight
from housemap.light.inputs import RoomInputs
from housemap.light.mesh import CEILING, FLOOR
from housemap.light.scene import LightName, Scene, why_not
from housemap.light.surface_light import PLAIN_WALLS, WALLS, Lit, PlaneLight, xy
from housemap.model.house import Room


class RoomLight(NamedTuple):
    """Light in a room; None or empty where the notes say that it cannot be computed."""

    inputs: RoomInputs
    outdoor_lux: float
    lights: Mapping[LightName, Lit]
    daylight: DaylightFactor | None
    """None without windows."""
    plane: PlaneLight | None
    """None where no daylight comes, and in a room too low for a working plane."""
    mean_reflectance: float | None
    notes: tuple[str, ...]

    @property
    def median_daylight(self) -> MedianDaylight | None:
        """None where no daylight is computed; 0 % where none comes in."""
        if self.mean_reflectance is None or (self.plane is None and "day" in self.lights):
            return None
        percent = self.plane.median if self.plane else 0.0
        return MedianDaylight(np.array([percent]), np.zeros(0))

    def walls_seen(self, name: LightName) -> Seen | None:
        """The walls as somebody in the room sees them; None without that light, or a paint."""
        light, colour = self.lights.get(name), self.inputs.colours.walls
        if light is None or colour is None:
            return None
        sent = light.reflected_xyz100(PLAIN_WALLS, colour.reflectance)
        return seen(eye_in(light), sent[np.newaxis])[0]

    @property
    def plane_percent(self) -> float | None:
        """Mean daylight factor over the working plane; None where no daylight comes."""
        return self.plane.mean if self.plane else None


def unlit(inputs: RoomInputs, outdoor_lux: float, scene: Scene | None = None) -> RoomLight:
    """A room in which no light is computed, or in which none shines."""
    if scene is None:
        notes = tuple(filter(None, [why_not(inputs.room)]))
        return RoomLight(inputs, outdoor_lux, {}, None, None, None, notes)
    return room_light(inputs, outdoor_lux, scene, {}, None)


def room_light(
    inputs: RoomInputs, outdoor_lux: float, scene: Scene, lights: Mapping[LightName, Lit],
    plane: PlaneLight | None,
) -> RoomLight:  # fmt: skip
    factor = scene.daylight_factor()
    daylight, mean = factor if scene.panes else None, factor.mean_reflectance
    return RoomLight(inputs, outdoor_lux, lights, daylight, plane, mean, scene.notes)


def why_unlit(room: Room, known: RoomLight, light: LightName) -> str:
    """Such as "no lamp" or "not measured"; empty where the room has the light."""
    if light in known.lights:
        return ""
    if reason := why_not(room):
        first, _, rest = reason.partition(":")[0].partition(" ")
        return f"{first.lower()} {rest}".strip()
    if light == "evening":
        return "no light from its lamps" if room.lamps else "no lamp"
    if not room.windows:
        return "no window"
    return "no window in its walls" if known.daylight is None else "no light by its windows"


Facts = dict[str, object]


def light_facts(room: RoomLight) -> Facts:
    """mean_reflectance, daylight_factor, daylight_plane (percent) and light, by the file format.

    A room without windows has neither of the two, though some light may come from other rooms.
    Lux are area means; chromaticities are of the 10 degree observer.
    """
    return {
        "mean_reflectance": room.mean_reflectance,
        "daylight_factor": room.daylight.percent if room.daylight else None,
        "daylight_plane": room.plane_percent if room.daylight else None,
        "light": {name: _light_part(room, name, light) for name, light in room.lights.items()},
    }


def _light_part(room: RoomLight, name: LightName, light: Lit) -> Facts:
    surfaces = (FLOOR, CEILING, WALLS)
    walls = room.walls_seen(name)
    return {
        "source_xy": list(xy(light.source)),
        "direct": {surface: light.direct_lux(surface) for surface in surfaces},
        "total": {surface: light.total_lux(surface) for surface in surfaces},
        "wall_light_xy": list(xy(light.total(WALLS))),
        "wall_seen": walls and {"JMh": list(walls.jmh), "ucs": list(walls.ucs), "srgb": walls.srgb},
    }
