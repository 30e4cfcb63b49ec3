"""The pixels of a view in colour: each face in the colour it was given, shaded or exact; numpy."""

import html
import struct
import zlib
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.colorimetry.spaces import srgb_to_xyz
from housemap.model.geometry import wall_in
from housemap.model.house import Light
from housemap.plan.elevations import LAMP, OPENING, RISER, SKY, STEM, TREAD, WINDOW
from housemap.plan.house_graph import HouseGraph
from housemap.plan.raster import Edges, Face, View

Pixels = NDArray[np.uint8]
"""Shape (height, width, 3), sRGB with 8 bits a channel, the top row first."""

Rgb = tuple[int, int, int]
"""sRGB with 8 bits a channel."""

OUTSIDE: Mapping[Light, Rgb] = {
    "reference": (232, 232, 232), "day": (232, 238, 243), "evening": (40, 44, 52),
}  # fmt: skip
"""The open air and glass, with hardly a tint that would change how paints look (our choice)."""
LIT: Mapping[Light, Rgb] = {
    "reference": (238, 238, 238), "day": (240, 238, 234), "evening": (255, 249, 236),
}  # fmt: skip
"""Lamps: white by day, and in the evening about as bright as a screen is (our choice)."""
METAL: Rgb = (128, 126, 122)
"""What lamps hang from or stand on (our choice)."""
NO_PAINT = frozenset({SKY, WINDOW, LAMP, STEM})
BARE: Rgb = (176, 176, 176)
"""A surface without a paint (our choice)."""

SURFACE_SHADE: Mapping[str, float] = {"doors": 0.96, RISER: 0.9, OPENING: 0.75}
"""A shut door, the fronts of steps and what lies beyond the measures are darker by these, so that
they stand out from a casing, a tread and a wall of the same paint (our choice)."""

LINEAR = srgb_to_xyz(np.repeat(np.arange(256) / 255, 3).reshape(-1, 3))[:, 1] / 100
"""Of each 8-bit sRGB value."""
ENCODED = np.searchsorted((LINEAR[1:] + LINEAR[:-1]) / 2, np.arange(8193) / 8192).astype(np.uint8)
"""The 8-bit sRGB value nearest to each step of linear light."""
BAYER = np.array(
    [[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]], dtype=np.float32
) / np.float32(16) + np.float32(1 / 32)  # fmt: skip
"""Thresholds of ordered dither (Bayer 1973)."""
HEDGE, HEDGE_SHADE = 0.015, 0.62
"""Along the horizon, so high in heights of the picture, and darker than the sky by this."""
GROUND_SHADES = 0.7, 0.8
"""Below the horizon flat ground, darker than the sky: at the horizon, and at the picture's foot."""
ZENITH_SHADE = 0.94
"""The sky at the picture's top (all of it our choice)."""
FINE, COARSE, MOST = 200, 72, 1.3
"""Steps of shade from black to full with dither and without, where many equal pixels are to lie
side by side; and how far they go beyond, where lamps shine (our choice)."""
HIGHLIGHT = 0.5
"""So much of what would be brighter than the screen goes towards white (our choice)."""


def painted_as(graph: HouseGraph, face: Face) -> tuple[str, str] | None:
    """The room and surface in whose colour a face is shown; None where `unpainted` knows it.

    Steps show the floor of the room at their foot; a hole that leads out of the measures shows the
    walls of the room behind it.
    """
    if face.surface in NO_PAINT:
        return None
    if face.surface in {RISER, TREAD}:
        return face.room, "floor"
    if face.surface != OPENING:
        return face.room, face.surface
    ways = graph.exits(face.room)
    behind = (to for key, to in ways if face.wall == wall_in(graph.openings[key], face.room))
    return next(behind, face.room), "walls"


def unpainted(face: Face, light: Light) -> Rgb:
    """The colour of a lamp, of glass and the open air."""
    if face.surface == STEM:
        return METAL
    return (LIT if face.surface == LAMP else OUTSIDE)[light]


def in_view(view: View) -> Mapping[tuple[str, str], float]:
    """The part of a picture that each room's surface takes, the largest first; steps are floor.

    Glass, the open air, lamps and what lies beyond the measures are left out.
    """
    found: dict[tuple[str, str], float] = {}
    for (room, surface), share in view.shares().items():
        if surface not in {*NO_PAINT, OPENING}:
            key = room, "floor" if surface in {RISER, TREAD} else surface
            found[key] = found.get(key, 0.0) + share
    return dict(sorted(found.items(), key=lambda item: (-item[1], item[0])))


def coloured(
    view: View, colours: Sequence[Rgb], *, shaded: bool = True, dithered: bool = False
) -> Pixels:
    """The view with a colour for each of its faces.

    Shade scales the encoded sRGB values; what would be brighter than the screen turns lighter.
    Through glass and in the open air it is that of sky, hedge and ground. Pixels along the edges of
    a smooth view are mixed in linear light. Without shade every pixel is exactly the colour of the
    face at its centre. Dithered, shade changes without steps that can be seen in a large picture.
    """
    palette = np.array(colours, dtype=np.uint8).reshape(len(view.faces), 3)
    if not shaded:
        return palette[view.face]
    height, width = view.face.shape
    fine = FINE if dithered else COARSE
    steps = round(fine * MOST) + 1
    table = _shaded(palette, np.arange(steps) / fine).reshape(-1, 4).view(np.uint32).ravel()
    surface = np.array([SURFACE_SHADE.get(f.surface, 1.0) for f in view.faces], dtype=np.float32)
    far = np.array([face.surface in {SKY, WINDOW} for face in view.faces])
    outside, first = _outside(height), np.arange(len(palette), dtype=np.int32) * steps
    tiles = -(-height // len(BAYER)), -(-width // len(BAYER))
    rounding = np.tile(BAYER, tiles)[:height, :width] if dithered else np.float32(0.5)

    def at(
        face: NDArray[np.int16], shade: NDArray[np.float32], row: NDArray[np.intp],
        rounding: NDArray[np.float32] | np.float32,
    ) -> Pixels:  # fmt: skip
        factor = shade * surface[face]
        np.copyto(factor, outside[row], where=far[face])
        level = np.minimum(factor * np.float32(fine) + rounding, steps - 1).astype(np.int32)
        level += first[face]
        rgb0: Pixels = table.take(level).view(np.uint8).reshape(*face.shape, 4)
        return rgb0[..., :3]

    pixels = at(view.face, view.shade, np.arange(height)[:, None], rounding).copy()
    if view.edges is not None:
        edges = view.edges
        half = np.float32(0.5)
        _mix(pixels, edges, at(edges.face, edges.shade, edges.pixel // width, half))
    return pixels


def _shaded(palette: Pixels, levels: NDArray[np.float64]) -> Pixels:
    """Every colour at every level, with an empty fourth channel: (colours, levels, 4)."""
    bright = palette[:, None, :] * levels[:, None]
    most = np.maximum(bright.max(axis=-1, keepdims=True) / 255, 1.0)
    fitting = bright / most
    lighter = fitting + (255 - fitting) * np.minimum((most - 1) * HIGHLIGHT, 1.0)
    table = np.zeros((*bright.shape[:2], 4), dtype=np.uint8)
    table[..., :3] = np.rint(lighter)
    return table


def _outside(height: int) -> NDArray[np.float32]:
    """By row: a plain sky over a hedge and flat ground."""
    down = (np.arange(height) + 0.5) / height - 0.5
    sky = 1.0 + (ZENITH_SHADE - 1.0) * np.minimum(-down * 2, 1.0)
    ground = GROUND_SHADES[0] + (GROUND_SHADES[1] - GROUND_SHADES[0]) * down * 2
    shade = np.where(down > 0, ground, np.where(down > -HEDGE, HEDGE_SHADE, sky))
    return shade.astype(np.float32)


def _mix(pixels: Pixels, edges: Edges, colours: Pixels) -> None:
    """Gives each pixel along an edge the mean of its colours in linear light, by their cover."""
    count = pixels.shape[0] * pixels.shape[1]
    which = np.zeros(count, dtype=np.bool_)
    which[edges.pixel] = True
    number = np.cumsum(which) - 1
    at = number[edges.pixel]
    linear = LINEAR[colours] * edges.cover[:, None]
    mixed = np.stack([np.bincount(at, each, number[-1] + 1) for each in linear.T], axis=-1)
    steps = np.rint(mixed * (len(ENCODED) - 1)).astype(np.intp)
    pixels.reshape(-1, 3)[which] = ENCODED[np.minimum(steps, len(ENCODED) - 1)]


def rgb_of(colour: str) -> Rgb:
    """Of "#rrggbb"."""
    red, green, blue = bytes.fromhex(colour[1:])
    return red, green, blue


# Pixels as PNG (ISO/IEC 15948) and as SVG 1.1 (W3C) files.

SIGNATURE = b"\x89PNG\r\n\x1a\n"
BITS, TRUECOLOUR = 8, 2
PERCEPTUAL = b"\x00"
"""Rendering intent of the sRGB chunk, which says that the values are sRGB's."""


def png_bytes(pixels: Pixels) -> bytes:
    """The whole file of a still picture."""
    return _file(pixels.shape, (_chunk(b"IDAT", _compressed(pixels)),))


@dataclass(frozen=True, slots=True, eq=False)
class Frame:
    """A picture of a moving one, and how long it stays."""

    pixels: Pixels
    seconds: float


def moving_png_bytes(frames: Sequence[Frame]) -> bytes:
    """The whole file of a picture that moves, over and over (PNG third edition, W3C 2025: APNG).

    All frames are of one size. What cannot show it move shows the first frame.
    """
    height, width, _ = frames[0].pixels.shape
    chunks = [_chunk(b"acTL", struct.pack(">II", len(frames), 0))]
    number = 0
    for i, frame in enumerate(frames):
        milliseconds = round(frame.seconds * 1000)
        control = struct.pack(">IIIIIHHBB", number, width, height, 0, 0, milliseconds, 1000, 0, 0)
        chunks.append(_chunk(b"fcTL", control))
        number += 1
        data = _compressed(frame.pixels)
        if i:
            data = struct.pack(">I", number) + data
            number += 1
        chunks.append(_chunk(b"fdAT" if i else b"IDAT", data))
    return _file(frames[0].pixels.shape, chunks)


def _file(shape: tuple[int, ...], chunks: Iterable[bytes]) -> bytes:
    height, width, _ = shape
    header = struct.pack(">IIBBBBB", width, height, BITS, TRUECOLOUR, 0, 0, 0)
    start = SIGNATURE + _chunk(b"IHDR", header) + _chunk(b"sRGB", PERCEPTUAL)
    return start + b"".join(chunks) + _chunk(b"IEND", b"")


def _compressed(pixels: Pixels) -> bytes:
    height, width, _ = pixels.shape
    filters = np.zeros((height, 1), dtype=np.uint8)  # none
    rows = np.hstack([filters, pixels.reshape(height, width * 3)])
    return zlib.compress(rows.tobytes())


def _chunk(kind: bytes, data: bytes) -> bytes:
    """Length, kind, data and the CRC over the last two."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


class Rectangle(NamedTuple):
    left: int
    top: int
    width: int
    height: int
    colour: int
    """As 0xrrggbb."""


def svg_text(pixels: Pixels, title: str) -> str:
    """The whole file: a path a colour, put together from rectangles without a gap."""
    height, width, _ = pixels.shape
    paths: dict[int, list[str]] = defaultdict(list)
    for each in rectangles(pixels):
        paths[each.colour].append(
            f"M{each.left} {each.top}h{each.width}v{each.height}h-{each.width}z"
        )
    drawn = "\n".join(
        f'<path fill="#{colour:06x}" d="{"".join(parts)}"/>' for colour, parts in paths.items()
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}"'
        f' viewBox="0 0 {width} {height}" shape-rendering="crispEdges">\n'
        f"<title>{html.escape(title)}</title>\n{drawn}\n</svg>\n"
    )


def rectangles(pixels: Pixels) -> Iterator[Rectangle]:
    """Runs of equal pixels, joined with equal runs in the rows below."""
    open_: dict[tuple[int, int, int], int] = {}
    height = len(pixels)
    for row in range(height + 1):
        runs = set(_runs(pixels[row])) if row < height else set()
        for start, end, colour in open_.keys() - runs:
            top = open_.pop((start, end, colour))
            yield Rectangle(start, top, end - start, row - top, colour)
        open_ |= dict.fromkeys(runs - open_.keys(), row)


def _runs(row: Pixels) -> Iterator[tuple[int, int, int]]:
    """First column, the one after the last, and the colour."""
    codes = row.astype(np.int64) @ np.array([1 << 16, 1 << 8, 1])
    ends = [*(np.flatnonzero(np.diff(codes)) + 1).tolist(), len(codes)]
    yield from zip([0, *ends[:-1]], ends, codes[np.array(ends) - 1].tolist(), strict=True)
