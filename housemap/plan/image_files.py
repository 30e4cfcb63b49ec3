"""Pixels as PNG (ISO/IEC 15948) and as SVG 1.1 (W3C) files."""

import struct
import zlib
from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple
from xml.sax.saxutils import escape

import numpy as np

from housemap.plan.pixels import Pixels

SIGNATURE = b"\x89PNG\r\n\x1a\n"
BITS, TRUECOLOUR = 8, 2
PERCEPTUAL = b"\x00"
"""Rendering intent of the sRGB chunk, which says that the values are sRGB's."""


def png_bytes(pixels: Pixels) -> bytes:
    """The whole file."""
    height, width, _ = pixels.shape
    header = struct.pack(">IIBBBBB", width, height, BITS, TRUECOLOUR, 0, 0, 0)
    filters = np.zeros((height, 1), dtype=np.uint8)  # none
    rows = np.hstack([filters, pixels.reshape(height, width * 3)])
    return SIGNATURE + b"".join(
        (
            _chunk(b"IHDR", header),
            _chunk(b"sRGB", PERCEPTUAL),
            _chunk(b"IDAT", zlib.compress(rows.tobytes(), level=9)),
            _chunk(b"IEND", b""),
        )
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    """Length, kind, data and the CRC over the last two."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


class Rectangle(NamedTuple):
    """Pixels of one colour."""

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
        f"<title>{escape(title)}</title>\n{drawn}\n</svg>\n"
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
