"""Colours as they are seen in a room, and how a D65 screen shows them.

The eye adapts to the light as it comes into the room, to the degree that CIECAM16 gives for the
luminance there; of the tint that bounces add it discounts most (`surface_light.as_discounted`), the
rest is seen (our assumption, in line with Harleman 2007 and Billger 1999). CIE 248:2022 for the
colour, two-step CAT16 (Zhai & Luo 2018) for the screen.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import appearance, gamut, munsell, spaces
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.undertone import Undertone, undertones
from housemap.light.mesh import FLOOR
from housemap.light.orientation import opposite
from housemap.light.surface_light import DARK_LUX, LUX, Lit, as_discounted, white100_of
from housemap.model.geometry import walls
from housemap.model.house import Room

Triple = tuple[float, float, float]


class Eye(NamedTuple):
    """An eye adapted to a room: its white (Y 100) and the luminance that it is adapted to."""

    white100: Triple
    adapting_cd_m2: float | Floats
    """One, or one for each colour that it looks at."""

    @property
    def conditions(self) -> appearance.Conditions:
        return appearance.Conditions(self.white100, self.adapting_cd_m2)

    def on_screen(self, xyz100: Floats) -> Floats:
        """XYZ100 (D65, 2 degrees) that looks on the screen as `xyz100` looks to the eye."""
        degrees = self.conditions.adaptation, gamut.screen_conditions().adaptation
        white = np.array(self.white100)
        return appearance.adapt_two_step(xyz100, white, spaces.SRGB_WHITE, degrees)


class Seen(NamedTuple):
    """A colour as seen: CIECAM16 J, M, h (degrees), CAM16-UCS J', a', b', and the screen's."""

    jmh: Triple
    ucs: Triple
    srgb: str


def eye_in(room: Lit) -> Eye:
    return Eye(eye_white(room.source), room.adapting_cd_m2)


def eye_white(source: Floats) -> Triple:
    """The white that the eye adapts to: the light as it comes in, with Y 100."""
    x, y, z = white100_of(source).tolist()
    return x, y, z


def seen(eye: Eye, xyz100: Floats) -> list[Seen]:
    """What an eye sees of colours, XYZ100 (n, 3).

    Through an opening, the eye is that of the room where one stands, and the colours are those of
    the room looked into (`Lit.reflected_xyz100`): hue and chroma are judged by one's own light,
    lightness by the light over there (lightness constancy; our assumption).
    """
    screen = eye.on_screen(xyz100)
    jmh = appearance.jmh(xyz100, eye.conditions)
    each = jmh.tolist(), appearance.ucs(jmh).tolist(), spaces.srgb_to_hex(gamut.to_srgb(screen))
    return [
        Seen((j, m, h), (u, a, b), hex_) for (j, m, h), (u, a, b), hex_ in zip(*each, strict=True)
    ]


WHITE_Y100 = 50.0
"""Of the surface that shows a tint: light enough to name, dark enough to be shown in most tints."""


class Tint(NamedTuple):
    """One part of the light on a surface, and what it makes of a white."""

    lux: float
    ucs: tuple[float, float, float]
    """CAM16-UCS J', a', b' of the white."""
    srgb_hex: str
    undertone: Undertone


class WallTints(NamedTuple):
    """Of the light on one wall; None where no light comes that way."""

    whole: Tint
    """After all bounces."""
    floor: Tint | None
    across: str | None
    """The wall opposite."""
    opposite: Tint | None


class Tints(NamedTuple):
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
    shining = [i for i, part in enumerate(parts) if part[LUX] > DARK_LUX]
    seen_in = _tints_seen(eye_in(light), np.array([parts[i] for i in shining]))
    tints = dict(zip(shining, seen_in, strict=True))
    made = {
        key: WallTints(tints[3 * n + 1], tints.get(3 * n + 2), across[n], tints.get(3 * n + 3))
        for n, key in enumerate(keys)
    }
    return Tints(tints[0], made)


def _tints_seen(eye: Eye, lights: Floats) -> Iterator[Tint]:
    """Of lights (n, 4), the first that which comes in: what each makes of a white."""
    white = as_discounted(lights[:, :3], lights[:, :3], lights[0]) * (WHITE_Y100 / 100.0)
    screen = eye.on_screen(white)
    ucs = appearance.ucs(appearance.jmh(white, eye.conditions))
    leans = undertones(munsell.from_screen(screen), ucs)
    hexes = spaces.srgb_to_hex(gamut.to_srgb(screen))
    for light, (j, a, b), srgb_hex, lean in zip(lights, ucs.tolist(), hexes, leans, strict=True):
        yield Tint(float(light[LUX]), (j, a, b), srgb_hex, lean)
