"""Decks with their colours, of our own making."""

import math
import random
from typing import Any

import numpy as np
from skimage import color as skimage_color_module

from housemap.choose.chips import Chips, all_chips
from housemap.colorimetry.arrays import Floats
from housemap.model.house import ColourSource, Lab, Paint

skimage_color: Any = skimage_color_module


def paints_of(**colours: ColourSource) -> dict[str, Paint]:
    return {name: Paint(name.title(), colour) for name, colour in colours.items()}


def chips_of(**colours: ColourSource) -> Chips:
    return all_chips(paints_of(**colours))


def random_paints(count: int, seed: int = 1) -> dict[str, Paint]:
    """Colours that surfaces have, most of them nearly neutral, with codes and LRVs."""
    chance = random.Random(seed)
    made = {}
    for i in range(count):
        light = chance.uniform(22.0, 95.0)
        chroma = chance.random() ** 2 * min(45.0, (100.0 - light) * 1.1)
        hue = chance.uniform(0.0, math.tau)
        a, b = round(chroma * math.cos(hue), 2), round(chroma * math.sin(hue), 2)
        colour = Lab((round(light, 2), a, b))
        made[f"a-{i}"] = Paint(f"Paint {i}", colour, code=f"A-{i}", deck="fan")
    return made


def reference_de00(first: Floats, second: Floats) -> Floats:
    """CIEDE2000 of CIELAB colours, (..., 3) each, by scikit-image."""
    return np.asarray(skimage_color.deltaE_ciede2000(*np.broadcast_arrays(first, second)))
