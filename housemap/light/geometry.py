"""What depends on a room's shape alone, computed once for each shape."""

from functools import lru_cache

from housemap.colorimetry.arrays import Floats
from housemap.light.blocks import Blocks, merged
from housemap.light.box import box, corners_of_box
from housemap.light.enclosure import Enclosure, Hole, LampPlace, Plane, Shape
from housemap.light.prism import prism
from housemap.light.skylight import Skylight, skylight
from housemap.model.house import Aim

SHAPES = 64
"""Kept at once; about 1 MB each."""


@lru_cache(maxsize=SHAPES)
def enclosure(shape: Shape) -> Enclosure:
    """The mesh and exchange of a shape: exact for a box, by rays for any other outline."""
    room: Enclosure = box(shape) if corners_of_box(shape.outline_m) else prism(shape)
    room.mesh.exchange_m2.flags.writeable = False
    return room


@lru_cache(maxsize=SHAPES)
def blocks(shape: Shape) -> Blocks:
    """The mesh of a shape, merged into blocks."""
    return merged(enclosure(shape).mesh)


@lru_cache(maxsize=16 * SHAPES)
def lamp_shares(shape: Shape, at_m: LampPlace, aim: Aim) -> Floats:
    """See `Enclosure.lamp_shares`."""
    shares = enclosure(shape).lamp_shares(at_m, aim)
    shares.flags.writeable = False
    return shares


@lru_cache(maxsize=4 * SHAPES)
def working_plane(shape: Shape) -> Plane | None:
    """See `Enclosure.plane`."""
    return enclosure(shape).plane()


@lru_cache(maxsize=8 * SHAPES)
def window_skylight(shape: Shape, window: Hole, sky_angle_deg: float) -> Skylight:
    """See `skylight`."""
    return skylight(enclosure(shape), shape, window, sky_angle_deg, working_plane(shape))
