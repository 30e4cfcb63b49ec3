"""The way in: the light of rooms, and the colours of their surfaces as seen in it."""

from collections.abc import Hashable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import sky
from housemap.light.daylight import DaylightFactor
from housemap.light.enclosure import CEILING, FLOOR
from housemap.light.inputs import RoomColours, RoomInputs, SurfaceColour
from housemap.light.lit import PLAIN_WALLS, WALLS, Lit, lit
from housemap.light.plane import plane_percent
from housemap.light.scene import LightName, Scene, scene_of
from housemap.light.seen import Seen, eye_in, seen
from housemap.light.shape import why_not


@dataclass(frozen=True, slots=True, eq=False)
class RoomLight:
    """Light in a room; None or empty where the notes say that it cannot be computed."""

    lights: Mapping[LightName, Lit]
    seen: Mapping[LightName, Mapping[str, Seen]]
    """Of walls, ceiling, floor, trim, doors and each accent wall that has a colour."""
    daylight: DaylightFactor | None
    """None without windows."""
    plane_percent: float | None
    """Mean daylight factor over the working plane."""
    mean_reflectance: float | None
    notes: tuple[str, ...]


def light_of(
    rooms: Sequence[RoomInputs], outdoor_lux: float = sky.OUTDOOR_LUX
) -> tuple[RoomLight, ...]:
    """The light of each room, by day and in the evening.

    `outdoor_lux` is the overcast sky's illuminance on the unobstructed horizontal. Raises
    ColourError for a lamp whose spectrum is no CIE illuminant.
    """
    known: dict[Hashable, _Solved] = {}
    unseen = [_light(inputs, outdoor_lux, known) for inputs in rooms]
    surfaces = [_on_surfaces(inputs.colours) for inputs in rooms]
    seen_in = _seen([room.lights for room in unseen], surfaces)
    return tuple(replace(room, seen=each) for room, each in zip(unseen, seen_in, strict=True))


@dataclass(frozen=True, slots=True, eq=False)
class _Solved:
    """What takes long, and is the same in rooms that are alike."""

    lights: Mapping[LightName, Lit]
    plane_percent: float | None


def _light(
    inputs: RoomInputs, outdoor_lux: float, known: MutableMapping[Hashable, _Solved]
) -> RoomLight:
    """All but the colours as seen, which are found for all rooms at once."""
    reason = why_not(inputs.room)
    if reason:
        return RoomLight({}, {}, None, None, None, (reason,))
    scene = scene_of(inputs, outdoor_lux)
    factor = scene.daylight_factor()
    solved = _solved(scene, known)
    return RoomLight(
        lights=solved.lights,
        seen={},
        daylight=factor if scene.windows else None,
        plane_percent=solved.plane_percent,
        mean_reflectance=factor.mean_reflectance,
        notes=scene.notes,
    )


def _solved(scene: Scene, known: MutableMapping[Hashable, _Solved]) -> _Solved:
    """Solve each scene once; rooms alike have other names for the same surfaces."""
    key = scene.alike()
    if key not in known:
        known[key] = _Solved(lit(scene), plane_percent(scene) if scene.windows else None)
    found = known[key]
    named = {name: light.called(scene.mesh.surfaces) for name, light in found.lights.items()}
    return replace(found, lights=named)


Painted = dict[str, tuple[str, SurfaceColour]]
"""Surface as named outside -> the surface whose light falls on it, and its colour."""


def _on_surfaces(colours: RoomColours) -> Painted:
    named = {
        "walls": (PLAIN_WALLS, colours.walls),
        "ceiling": (CEILING, colours.ceiling),
        "floor": (FLOOR, colours.floor),
        "trim": (WALLS, colours.trim),
        "doors": (WALLS, colours.doors),
    }
    named |= {wall: (wall, colour) for wall, colour in colours.accents.items()}
    return {name: (lit_as, colour) for name, (lit_as, colour) in named.items() if colour}


def _seen(
    lights: Sequence[Mapping[LightName, Lit]], surfaces: Sequence[Painted]
) -> list[dict[LightName, dict[str, Seen]]]:
    """Every colour of every room under every light, in one batch."""
    keys = [(i, name) for i, light in enumerate(lights) if surfaces[i] for name in light]
    views = [
        (eye_in(lights[i][name]), _reflected(lights[i][name], surfaces[i])) for i, name in keys
    ]
    found: list[dict[LightName, dict[str, Seen]]] = [{} for _ in lights]
    for (i, name), colours in zip(keys, seen(views), strict=True):
        found[i][name] = dict(zip(surfaces[i], colours, strict=True))
    return found


def _reflected(room: Lit, painted: Painted) -> Floats:
    return np.array([room.reflected_xyz100(on, c.reflectance) for on, c in painted.values()])
