"""What shines in a room, and where it falls first."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import geometry, sky, sources
from housemap.light.enclosure import Hole, LampPlace, Mesh, Shape
from housemap.light.facing import azimuth_deg, daylight_kelvin
from housemap.light.inputs import RoomInputs
from housemap.light.outline import inside, inside_points, wall_distance_m
from housemap.light.sources import Spectrum
from housemap.model.house import Lamp, Point, Room, Window
from housemap.model.shape import floor_outline_m, wall_of

LAMP_HEIGHT = 0.8
"""Of the room's height, where a lamp without a place hangs unless it shines down."""
AT_WALL_M = 0.001


@dataclass(frozen=True, slots=True, eq=False)
class Beam:
    """Light of one spectrum: the lumens that it brings into the room and where they fall first."""

    spectrum: Spectrum
    lumens: float
    first_lux: Floats
    """On each patch, (N,)."""


def daylight(
    inputs: RoomInputs, mesh: Mesh, windows: Mapping[Hole, Window], outdoor_lux: float
) -> tuple[Beam, ...]:
    """Through each window, an even Lambertian emitter in its wall; one beam a spectrum."""
    return _merged(
        _through(inputs, mesh, hole, window, outdoor_lux) for hole, window in windows.items()
    )


def lamplight(room: Room, shape: Shape, mesh: Mesh) -> tuple[Beam, ...]:
    """From each lamp, a small source; one beam a spectrum."""
    return _merged(_from(room, shape, mesh, lamp) for lamp in room.lamps.values())


def _through(
    inputs: RoomInputs, mesh: Mesh, hole: Hole, window: Window, outdoor_lux: float
) -> Beam:
    lit = mesh.surface == mesh.surfaces.index(hole.name)
    exitance = outdoor_lux * sky.glass_share(window.sky_angle_deg) * window.transmittance
    first_lux = exitance * mesh.exchange_m2[:, lit].sum(1) / mesh.area_m2
    kelvin = window.kelvin or facing_kelvin(inputs, window)
    return Beam(sources.daylight(kelvin), float(exitance * mesh.area_m2[lit].sum()), first_lux)


def facing_kelvin(inputs: RoomInputs, window: Window) -> float:
    wall = wall_of(inputs.room, window.wall)
    assert wall is not None
    return daylight_kelvin(azimuth_deg(wall, inputs.north_deg), inputs.latitude_deg)


def _from(room: Room, shape: Shape, mesh: Mesh, lamp: Lamp) -> Beam:
    shares = geometry.lamp_shares(shape, lamp_place_m(room, lamp), lamp.aim)
    spectrum = sources.lamp(lamp.kelvin, lamp.spectrum)
    return Beam(spectrum, lamp.lumens, lamp.lumens * shares / mesh.area_m2)


def lamp_place_m(room: Room, lamp: Lamp) -> LampPlace:
    """Where a lamp stands: as given, else in the middle, on the ceiling if it shines down.

    The middle is that of the room's box, or where that lies outside, the point of the floor that
    is farthest from the walls. A lamp said to stand outside the room stands there too.
    """
    outline, height = floor_outline_m(room), room.height_m
    assert outline is not None
    assert height is not None
    if lamp.at_m is not None and stands_inside(outline, lamp.at_m[:2]):
        return (*lamp.at_m[:2], min(max(lamp.at_m[2], 0.0), height))
    return (*_middle(outline), height if lamp.aim == "down" else LAMP_HEIGHT * height)


def stands_inside(outline_m: tuple[Point, ...], place_m: Point) -> bool:
    """Whether a place lies inside an outline or on its edge."""
    point = np.array([place_m])
    at_wall = wall_distance_m(outline_m, point)[0] <= AT_WALL_M
    return bool(inside(outline_m, point)[0] or at_wall)


def _middle(outline_m: tuple[Point, ...]) -> Point:
    x, y = (max(values) / 2.0 for values in zip(*outline_m, strict=True))
    if stands_inside(outline_m, (x, y)):
        return x, y
    points = inside_points(outline_m, 0.0)
    deepest = points[wall_distance_m(outline_m, points).argmax()]
    return float(deepest[0]), float(deepest[1])


def _merged(beams: Iterable[Beam]) -> tuple[Beam, ...]:
    """One beam for each spectrum, so that each is computed once; none that brings no light."""
    lit = sorted((beam for beam in beams if beam.lumens > 0.0), key=lambda beam: beam.spectrum)
    groups = (list(group) for _, group in groupby(lit, lambda beam: beam.spectrum))
    return tuple(_sum(group) for group in groups)


def _sum(beams: list[Beam]) -> Beam:
    lumens, first_lux = sum(b.lumens for b in beams), np.sum([b.first_lux for b in beams], axis=0)
    return Beam(beams[0].spectrum, lumens, first_lux)
