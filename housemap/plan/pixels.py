"""The pixels of a view in colour: each face in the colour it was given, shaded or exact; numpy."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from housemap.colorimetry.spaces import srgb_to_xyz
from housemap.model.house import House, Light
from housemap.plan.elevations import OPENING, RISER, SKY, TREAD, WINDOW
from housemap.plan.house_graph import graph_of
from housemap.plan.raster import Edges, Face, View

Pixels = NDArray[np.uint8]
"""Shape (height, width, 3), sRGB with 8 bits a channel, the top row first."""

Rgb = tuple[int, int, int]
"""sRGB with 8 bits a channel."""

OUTSIDE: Mapping[Light, Rgb] = {
    "reference": (232, 232, 232), "day": (244, 244, 244), "evening": (24, 24, 24),
}  # fmt: skip
"""The open air and glass, without a tint that would change how paints look (our choice)."""
BARE: Rgb = (176, 176, 176)
"""A surface without a paint (our choice)."""

SURFACE_SHADE: Mapping[str, float] = {"doors": 0.96, RISER: 0.9, OPENING: 0.75}
"""A shut door, the fronts of steps and what lies beyond the measures are darker by these, so that
they stand out from a casing, a tread and a wall of the same paint (our choice)."""


LINEAR = srgb_to_xyz(np.repeat(np.arange(256) / 255, 3).reshape(-1, 3))[:, 1] / 100
"""Of each 8-bit sRGB value."""
ENCODED = np.searchsorted((LINEAR[1:] + LINEAR[:-1]) / 2, np.arange(8193) / 8192).astype(np.uint8)
"""The 8-bit sRGB value nearest to each step of linear light."""
BAYER = (np.array([[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]]) + 0.5) / 16
"""Thresholds of ordered dither (Bayer 1973)."""
GROUND_SHADE = 0.8
"""Out of doors what lies below the horizon is flat ground, darker than the sky (our choice)."""
SHADES = 200
"""Steps of shade from black to full: few enough that equal pixels lie side by side."""


def painted_as(house: House, face: Face) -> tuple[str, str] | None:
    """The room and surface in whose colour a face is shown; None for glass and the open air.

    Steps show the floor of the room at their foot; a hole that leads out of the measures shows the
    walls of the room behind it.
    """
    if face.surface in {SKY, WINDOW}:
        return None
    if face.surface in {RISER, TREAD}:
        return face.room, "floor"
    if face.surface == OPENING:
        return _behind(house, face), "walls"
    return face.room, face.surface


def in_view(view: View) -> Mapping[tuple[str, str], float]:
    """The part of a picture that each room's surface takes, the largest first; steps are floor.

    Glass, the open air and what lies beyond the measures are left out.
    """
    found: dict[tuple[str, str], float] = {}
    for (room, surface), share in view.shares().items():
        if surface not in {SKY, WINDOW, OPENING}:
            key = room, "floor" if surface in {RISER, TREAD} else surface
            found[key] = found.get(key, 0.0) + share
    return dict(sorted(found.items(), key=lambda item: (-item[1], item[0])))


def coloured(
    view: View, colours: Sequence[Rgb], *, shaded: bool = True, dithered: bool = False
) -> Pixels:
    """The view with a colour for each of its faces.

    Shade scales the encoded sRGB values; through glass and in the open air only the ground below
    the horizon is darker. Pixels along the edges of a smooth view are mixed in linear light.
    Without shade every pixel is exactly the colour of the face at its centre. Dithered, shade
    changes without steps that can be seen in a large picture.
    """
    palette = np.array(colours, dtype=np.uint8).reshape(len(view.faces), 3)
    if not shaded:
        return palette[view.face]
    surface = np.array([SURFACE_SHADE.get(face.surface, 1.0) for face in view.faces])
    is_far = np.array([face.surface in {SKY, WINDOW} for face in view.faces])
    levels = np.arange(SHADES + 1)[:, None] / SHADES
    shades = np.rint(palette[:, None, :] * levels).astype(np.uint8)

    def at(
        face: NDArray[np.int16],
        shade: NDArray[np.float32],
        row: NDArray[np.intp],
        rounding: NDArray[np.float64] | float,
    ) -> Pixels:
        outside = np.where(row < height / 2, 1.0, GROUND_SHADE)
        factor = np.where(is_far[face], outside, shade * surface[face])
        return np.asarray(shades[face, (factor * SHADES + rounding).astype(np.intp)])

    height, width = view.face.shape
    tiles = -(-height // len(BAYER)), -(-width // len(BAYER))
    rounding = np.tile(BAYER, tiles)[:height, :width] if dithered else 0.5
    pixels = at(view.face, view.shade, np.arange(height)[:, None], rounding)
    if view.edges is not None:
        edges = view.edges
        _mix(pixels, edges, at(edges.face, edges.shade, edges.pixel // width, 0.5))
    return pixels


def _mix(pixels: Pixels, edges: Edges, colours: Pixels) -> None:
    """Gives each pixel along an edge the mean of its colours in linear light, by their cover."""
    count = pixels.shape[0] * pixels.shape[1]
    linear = LINEAR[colours] * edges.cover[:, None]
    mixed = np.stack([np.bincount(edges.pixel, each, count) for each in linear.T], axis=-1)
    which = np.flatnonzero(np.bincount(edges.pixel, minlength=count))
    steps = np.rint(mixed[which] * (len(ENCODED) - 1)).astype(np.intp)
    pixels.reshape(-1, 3)[which] = ENCODED[steps]


def rgb_of(colour: str) -> Rgb:
    """Of "#rrggbb"."""
    red, green, blue = bytes.fromhex(colour[1:])
    return red, green, blue


def _behind(house: House, face: Face) -> str:
    """The other room of the opening in the wall of the face; the face's own if there is none."""
    for key, other in graph_of(house).exits(face.room):
        opening = house.openings[key]
        if face.wall == (opening.wall if face.room == opening.between[0] else opening.to_wall):
            return other
    return face.room
