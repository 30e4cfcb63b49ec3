"""Pixels as PNG (ISO/IEC 15948) and as SVG 1.1 (W3C) files."""

import struct
import zlib
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple
from xml.sax.saxutils import escape

import numpy as np

from housemap.plan.pixels import Pixels

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
    return zlib.compress(rows.tobytes(), level=9)


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
