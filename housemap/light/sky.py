"""What shines on a vertical window: the overcast sky, what stands in its way, and the ground.

Luminance of the sky L = Lz (1 + 2 sin g) / 3 at elevation g (Moon & Spencer 1942; CIE S 011 type
16), which gives 7 pi Lz / 9 on the unobstructed horizontal. Everything here is relative to that
illuminance. An obstruction is long and parallel to the window: it hides what lies below its profile
angle, the elevation projected onto the vertical plane that is square to the window.
"""

import numpy as np

from housemap.colorimetry.arrays import Floats

OUTDOOR_LUX = 10_000.0
"""On the unobstructed horizontal, unless another value is asked for."""
GROUND_REFLECTANCE = 0.2
OBSTRUCTION_REFLECTANCE = 0.2
"""Our assumption, as for the ground: a file does not say."""
_HORIZON = 3.0 / (7.0 * np.pi)
"""Luminance of the sky at the horizon, per lux on the horizontal."""


def luminance(sine: Floats) -> Floats:
    """Of the sky by the sine of its elevation, per lux on the horizontal, in cd/m2."""
    return _HORIZON * (1.0 + 2.0 * sine)


def outside_luminance(sky_angle_deg: float, up: Floats, out: Floats) -> Floats:
    """Of what lies in a direction from a window: sky, obstruction or ground.

    `up` and `out` are the direction's parts upward and away from the wall, of a unit vector.
    """
    lowest = np.tan(np.radians(90.0 - np.clip(sky_angle_deg, 0.0, 90.0)))
    above = np.where(up > lowest * out, luminance(up), obstruction_luminance(sky_angle_deg))
    return np.where(up < 0.0, GROUND_REFLECTANCE / np.pi, above)


def glass_share(sky_angle_deg: float) -> float:
    """Illuminance on a vertical glass over that on the horizontal: 0.396 + 0.1 with no obstruction.

    The sky above the profile angle 90 - `sky_angle_deg`, the obstruction below, and the ground.
    """
    hidden = np.cos(np.radians(np.clip(sky_angle_deg, 0.0, 90.0)))
    from_obstruction = obstruction_luminance(sky_angle_deg) * np.pi / 2.0 * hidden
    return float(_from_sky(hidden) + from_obstruction + GROUND_REFLECTANCE / 2.0)


def obstruction_luminance(sky_angle_deg: float) -> float:
    """It is lit by the sky as the window is; the ground between lies in the shade of both."""
    hidden = np.cos(np.radians(np.clip(sky_angle_deg, 0.0, 90.0)))
    return float(OBSTRUCTION_REFLECTANCE * _from_sky(hidden) / np.pi)


def _from_sky(hidden: float) -> float:
    """On a vertical plane, from the sky above the profile angle of which `hidden` is the sine."""
    even, rising = np.pi / 2.0 * (1.0 - hidden), 4.0 / 3.0 * (1.0 - hidden**2)
    return float(_HORIZON * (even + rising))
