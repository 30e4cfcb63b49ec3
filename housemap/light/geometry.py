"""What depends on a room's shape alone, computed once for each shape.

Shapes that differ only in how their windows and openings are called are one.
"""

from dataclasses import replace
from functools import lru_cache

from housemap.colorimetry.arrays import Floats
from housemap.light.box import box, corners_of_box
from housemap.light.enclosure import Enclosure, Hole, LampPlace, Plane, Shape
from housemap.light.modes import Modes, modes_of
from housemap.light.prism import prism
from housemap.light.skylight import Skylight, skylight
from housemap.model.house import Aim

SHAPES = 64
"""Kept at once; about 1 MB each."""


def enclosure(shape: Shape) -> Enclosure:
    """The mesh and exchange of a shape: exact for a box, by rays for any other outline."""
    return _enclosure(shape.nameless()).called(shape.surfaces)


def modes(shape: Shape) -> Modes:
    """How light lies in a shape."""
    return _modes(shape.nameless())


def lamp_shares(shape: Shape, at_m: LampPlace, aim: Aim) -> Floats:
    """See `Enclosure.lamp_shares`."""
    return _lamp_shares(shape.nameless(), at_m, aim)


def working_plane(shape: Shape) -> Plane | None:
    """See `Enclosure.plane`."""
    return _working_plane(shape.nameless())


def window_skylight(shape: Shape, window: Hole, sky_angle_deg: float) -> Skylight:
    """See `skylight`."""
    return _window_skylight(shape.nameless(), replace(window, name=""), sky_angle_deg)


def forget() -> None:
    """Compute all shapes anew from here on."""
    for kept in (_enclosure, _modes, _lamp_shares, _working_plane, _window_skylight):
        kept.cache_clear()


@lru_cache(maxsize=SHAPES)
def _enclosure(shape: Shape) -> Enclosure:
    room: Enclosure = box(shape) if corners_of_box(shape.outline_m) else prism(shape)
    room.mesh.exchange_m2.flags.writeable = False
    return room


@lru_cache(maxsize=SHAPES)
def _modes(shape: Shape) -> Modes:
    return modes_of(_enclosure(shape).mesh)


@lru_cache(maxsize=16 * SHAPES)
def _lamp_shares(shape: Shape, at_m: LampPlace, aim: Aim) -> Floats:
    shares = _enclosure(shape).lamp_shares(at_m, aim)
    shares.flags.writeable = False
    return shares


@lru_cache(maxsize=4 * SHAPES)
def _working_plane(shape: Shape) -> Plane | None:
    return _enclosure(shape).plane()


@lru_cache(maxsize=8 * SHAPES)
def _window_skylight(shape: Shape, window: Hole, sky_angle_deg: float) -> Skylight:
    return skylight(_enclosure(shape), shape, window, sky_angle_deg, _working_plane(shape))
