"""What shines on a vertical window: the overcast sky, what stands in its way, and the ground.

Luminance of the sky L = Lz (1 + 2 sin g) / 3 at elevation g (Moon & Spencer 1942; CIE S 011 type
16), which gives 7 pi Lz / 9 on the unobstructed horizontal. Everything here is relative to that
illuminance. An obstruction is long and parallel to the window: it hides what lies below its profile
angle, the elevation projected onto the vertical plane that is square to the window.
"""

from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats

OUTDOOR_LUX = 10_000.0
"""On the unobstructed horizontal, unless another value is asked for."""
REFLECTANCE = 0.2
"""Of the ground and of what stands before a window, where a file does not say (our assumption)."""
_HORIZON = 3.0 / (7.0 * np.pi)
"""Luminance of the sky at the horizon, per lux on the horizontal."""


def luminance(sine: Floats) -> Floats:
    """Of the sky by the sine of its elevation, per lux on the horizontal, in cd/m2."""
    return _HORIZON * (1.0 + 2.0 * sine)


class Outside(NamedTuple):
    sky_angle_deg: float
    reflectance: float = REFLECTANCE
    """Of what hides the rest of the sky."""
    ground: float = REFLECTANCE


def profile_tangent(sky_angle_deg: float) -> float:
    """Of the profile angle that is hidden where so many degrees of sky are visible."""
    return float(np.tan(np.radians(90.0 - np.clip(sky_angle_deg, 0.0, 90.0))))


def outside_luminance(outside: Outside, up: Floats, out: Floats) -> Floats:
    """Of what lies in a direction from a window: sky, obstruction or ground.

    `up` and `out` are the direction's parts upward and away from the wall, of a unit vector.
    """
    lowest = profile_tangent(outside.sky_angle_deg)
    above = np.where(up > lowest * out, luminance(up), obstruction_luminance(outside))
    return np.where(up < 0.0, outside.ground / np.pi, above)


def band_luminance(outside: Outside, up: Floats, out: Floats, away: Floats, band: float) -> Floats:
    """The mean over a level band of the glass as places see it, whose middle lies `up` above them.

    `out` from them along the wall's normal, and `away` in all; metres. Sky, obstruction and ground
    begin at level lines of the glass, which may lie within the band.
    """
    lowest = profile_tangent(outside.sky_angle_deg)
    over = np.clip((up - lowest * out) / band + 0.5, 0.0, 1.0)
    under = np.clip(0.5 - up / band, 0.0, 1.0)
    hidden = obstruction_luminance(outside) * np.maximum(1.0 - over - under, 0.0)
    above = luminance(np.maximum(up / away, 0.0))
    return np.asarray(over * above + hidden + under * outside.ground / np.pi)


def glass_share(outside: Outside) -> float:
    """Illuminance on a vertical glass over that on the horizontal: 0.396 + 0.1 with no obstruction.

    The sky above the profile angle of the obstruction, the obstruction below, and the ground.
    """
    hidden = _hidden(outside)
    from_obstruction = obstruction_luminance(outside) * np.pi / 2.0 * hidden
    return float(_from_sky(hidden) + from_obstruction + outside.ground / 2.0)


def obstruction_luminance(outside: Outside) -> float:
    """It is lit by the sky as the window is; the ground between lies in the shade of both."""
    return float(outside.reflectance * _from_sky(_hidden(outside)) / np.pi)


def _hidden(outside: Outside) -> float:
    """The sine of the profile angle that an obstruction hides."""
    return float(np.cos(np.radians(np.clip(outside.sky_angle_deg, 0.0, 90.0))))


def _from_sky(hidden: float) -> float:
    """On a vertical plane, from the sky above the profile angle of which `hidden` is the sine."""
    even, rising = np.pi / 2.0 * (1.0 - hidden), 4.0 / 3.0 * (1.0 - hidden**2)
    return float(_HORIZON * (even + rising))
