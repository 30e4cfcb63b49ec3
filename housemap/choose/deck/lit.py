"""Chips as an eye in a room would see them on a surface there."""

import numpy as np

from housemap.colorimetry import gamut, spaces
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.light.as_seen import eye_in
from housemap.light.surface_light import Lit, lit_as


def screen_xyz(light: Lit, surface: str, reflectance: Floats) -> Floats:
    """XYZ100 that looks on a D65 screen as reflectances (n, 41) look on a surface: (n, 3)."""
    return eye_in(light).on_screen(light.reflected_xyz100(lit_as(surface), reflectance))


def shown_under(light: Lit, surface: str, reflectance: Floats) -> list[str]:
    """The screen's "#rrggbb" for reflectances (n, 41) on a surface of a room, all in one batch."""
    return spaces.srgb_to_hex(gamut.to_srgb(screen_xyz(light, surface, reflectance)))


def apart_under(light: Lit, surface: str, reflectance: Floats) -> Floats:
    """CIEDE2000 of each reflectance (n, 41) from each as they look on a surface: (n, n)."""
    lab100 = spaces.xyz_to_lab(screen_xyz(light, surface, reflectance), spaces.SRGB_WHITE)
    return ciede2000(lab100[:, np.newaxis], lab100)
