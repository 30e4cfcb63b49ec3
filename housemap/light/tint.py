"""What bounces add in colour: a white under a part of the light, as the room's eye sees it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from housemap.colorimetry import appearance, gamut, munsell, spaces
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.undertone import Undertone, undertones
from housemap.light.enclosure import FLOOR
from housemap.light.lit import DARK_LUX, LUX, Lit, xy
from housemap.light.opposite import opposite
from housemap.light.seen import Eye, eye_in
from housemap.model.house import Point, Room
from housemap.model.shape import walls

WHITE_Y100 = 50.0
"""Of the surface that shows a tint: light enough to name, dark enough to be shown in most tints."""


@dataclass(frozen=True, slots=True)
class Tint:
    """One part of the light on a surface, and what it makes of a white."""

    lux: float
    xy: Point
    """10 degree observer."""
    ucs: tuple[float, float, float]
    """CAM16-UCS J', a', b' of the white."""
    srgb_hex: str
    undertone: Undertone


@dataclass(frozen=True, slots=True)
class WallTints:
    """Of the light on one wall; None where no light comes that way."""

    whole: Tint
    """After all bounces."""
    floor: Tint | None
    across: str | None
    """The wall opposite."""
    opposite: Tint | None


@dataclass(frozen=True, slots=True)
class Tints:
    """Of a room under one light."""

    source: Tint
    """Of the light as it comes in; its lux are lumens."""
    walls: Mapping[str, WallTints]
    """Of the walls that light falls on."""


def tints_of(room: Room, light: Lit) -> Tints:
    """The tints on every wall of a room under one of its lights, in one batch."""
    keys = [wall.key for wall in walls(room) if light.total_lux(wall.key) > DARK_LUX]
    across = [opposite(room, key) for key in keys]
    parts = [light.source]
    for key, other in zip(keys, across, strict=True):
        parts += [light.total(key), light.from_surface(key, FLOOR)]
        parts += [light.from_surface(key, other) if other else np.zeros(4)]
    source, *each = _tints(eye_in(light), parts)
    assert source is not None
    return Tints(source, dict(zip(keys, _by_wall(across, each), strict=True)))


def _by_wall(across: Sequence[str | None], each: Sequence[Tint | None]) -> Iterator[WallTints]:
    for i, other in enumerate(across):
        whole, floor, facing = each[3 * i : 3 * i + 3]
        assert whole is not None
        yield WallTints(whole, floor, other, facing)


def _tints(eye: Eye, parts: Sequence[Floats]) -> list[Tint | None]:
    shining = [float(part[LUX]) > DARK_LUX for part in parts]
    lights = np.array([part for part, shines in zip(parts, shining, strict=True) if shines])
    made = iter(_seen(eye, lights) if len(lights) else ())
    return [next(made) if shines else None for shines in shining]


def _seen(eye: Eye, lights: Floats) -> Iterator[Tint]:
    white = lights[:, :3] * (WHITE_Y100 / lights[:, 1:2])
    screen = eye.on_screen(white)
    ucs = appearance.ucs(appearance.jmh(white, eye.conditions))
    leans = undertones(munsell.from_screen(screen), ucs)
    hexes = spaces.srgb_to_hex(gamut.to_srgb(screen))
    for light, (j, a, b), srgb_hex, lean in zip(lights, ucs.tolist(), hexes, leans, strict=True):
        yield Tint(float(light[LUX]), xy(light), (j, a, b), srgb_hex, lean)
