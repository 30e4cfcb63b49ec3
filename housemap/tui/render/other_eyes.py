"""Screen colours as other eyes see them: without one kind of cone, or by lightness alone."""

from functools import lru_cache

import numpy as np

from housemap.colorimetry.spaces import hex_to_srgb, srgb_to_hex
from housemap.colorimetry.vision import as_greys, with_deficiency
from housemap.plan.pixels import Rgb, rgb_of
from housemap.tui.render.cells import Hex
from housemap.tui.render.look import Eyes


@lru_cache(maxsize=16_384)
def seen_with(eyes: Eyes, colour: Hex) -> Hex:
    if eyes == "":
        return colour
    srgb1 = np.array([hex_to_srgb(colour)])
    seen = as_greys(srgb1) if eyes == "greys" else with_deficiency(srgb1, eyes)
    return srgb_to_hex(seen)[0]


def rgb_seen_with(eyes: Eyes, colour: Rgb) -> Rgb:
    """The same for a colour of 8-bit red, green and blue."""
    return rgb_of(seen_with(eyes, f"#{bytes(colour).hex()}"))
