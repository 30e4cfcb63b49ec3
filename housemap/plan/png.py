"""Pixels as a PNG file (W3C "Portable Network Graphics (PNG) Specification", ISO/IEC 15948)."""

import struct
import zlib

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
