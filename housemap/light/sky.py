"""The CIE standard overcast sky, and what of it reaches a vertical window.

Luminance L = Lz (1 + 2 sin g) / 3 at elevation g (Moon & Spencer 1942; CIE S 011 type 16), which
gives 7 pi Lz / 9 on the unobstructed horizontal. Everything here is relative to that illuminance.
"""

import numpy as np

from housemap.colorimetry.arrays import Floats

OUTDOOR_LUX = 10_000.0
"""On the unobstructed horizontal, unless another value is asked for."""
GROUND_REFLECTANCE = 0.2


def luminance(elevation_rad: Floats) -> Floats:
    """Of the sky, per lux on the horizontal, in cd/m2."""
    return 3.0 * (1.0 + 2.0 * np.sin(elevation_rad)) / (7.0 * np.pi)


def ground_luminance() -> float:
    """Of an unobstructed Lambertian ground, per lux on the horizontal."""
    return GROUND_REFLECTANCE / np.pi


def glass_share(sky_angle_deg: float) -> float:
    """Illuminance on a vertical glass over that on the horizontal: sky and ground.

    The sky shines from above elevation 90 - `sky_angle_deg`; what stands below that gives nothing,
    the ground gives half its exitance. 0.396 + 0.1 where nothing is in the way.
    """
    low = np.radians(90.0 - np.clip(sky_angle_deg, 0.0, 90.0))
    even = np.pi / 4.0 - low / 2.0 - np.sin(2.0 * low) / 4.0
    rising = 2.0 / 3.0 * np.cos(low) ** 3
    from_sky = 2.0 * (even + rising) * 3.0 / (7.0 * np.pi)
    return float(from_sky + GROUND_REFLECTANCE / 2.0)
