"""Pictures of the walk worked out another way: rays through the solid house, then paints."""

import numpy as np
from numpy.typing import NDArray

from housemap.model.house import Light
from housemap.plan.pixels import BARE, OUTSIDE, Rgb
from housemap.plan.view import Camera
from housemap.study import Study
from tests.support.pixels import Shown, SolidHouse

UNKNOWN: Rgb = (-1, -1, -1)
"""A hole that leads out of the measures: any colour will do."""


def rays_in_colour(
    study: Study, camera: Camera, size: tuple[int, int], light: Light = "reference"
) -> NDArray[np.int64]:
    """The colour of every pixel without shading, shape (height, width, 3)."""
    level = study.house.rooms[camera.room].level
    shown = SolidHouse(study.house, study.plan, level).picture(camera, *size)
    return np.array([[_rgb(study, camera.room, light, each) for each in row] for row in shown])


def _rgb(study: Study, eye: str, light: Light, shown: Shown) -> Rgb:
    room, surface = shown
    if surface in {"sky", "window"}:
        return OUTSIDE[light]
    if surface == "opening":
        return UNKNOWN
    name = "floor" if surface in {"riser", "tread"} else surface
    coats = {coat.surface: coat for coat in study.rooms[room].every_coat if coat.surface != "fixed"}
    if name not in coats:
        return BARE
    coat = coats[name]
    view = study.lighting.seen[eye, light] if light != "reference" else None
    seen = view.colours.get(coat) if view else None
    hexa = seen.srgb_hex if seen else coat.swatch.colour.srgb_hex
    return int(hexa[1:3], 16), int(hexa[3:5], 16), int(hexa[5:7], 16)


def differing(pixels: NDArray[np.int64], expected: NDArray[np.int64]) -> int:
    """How many pixels differ from those expected."""
    known = (expected != np.array(UNKNOWN)).any(axis=-1)
    return int(((pixels != expected).any(axis=-1) & known).sum())
