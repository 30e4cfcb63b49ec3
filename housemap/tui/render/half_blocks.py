"""A picture as rows of cells: two pixels a cell in colour, lines where there is no colour."""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from housemap.plan.pixels import Pixels
from housemap.plan.view import View
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink, Row, Run

UPPER = "▀"
PIXELS = 2
"""In the height of a cell."""


def picture_rows(pixels: Pixels, look: Look) -> list[Row]:
    """Rows of an even number of pixel rows, as few runs as there are changes of colour.

    Equal pixels are a space on their colour. Where only ASCII may be used, so is every cell, in
    the colour of its upper pixel.
    """
    codes = pixels.astype(np.int64) @ np.array([1 << 16, 1 << 8, 1])
    upper, lower = codes[0::PIXELS], codes[1::PIXELS]
    pairs = upper << 24 | (upper if look.glyphs.ascii else lower)
    return [tuple(_runs(row, changes)) for row, changes in zip(pairs, _changes(pairs), strict=True)]


def _changes(pairs: NDArray[np.int64]) -> Iterator[list[int]]:
    """For each row, the columns at which another run begins."""
    for differs in pairs[:, 1:] != pairs[:, :-1]:
        yield [0, *(np.flatnonzero(differs) + 1).tolist()]


def _runs(row: NDArray[np.int64], starts: list[int]) -> Iterator[Run]:
    ends = [*starts[1:], len(row)]
    for pair, start, end in zip(row[starts].tolist(), starts, ends, strict=True):
        char, ink = _cell(pair)
        yield Run(char * (end - start), ink)


@lru_cache(maxsize=4096)
def _cell(pair: int) -> tuple[str, Ink]:
    upper, lower = pair >> 24, pair & 0xFFFFFF
    if upper == lower:
        return " ", Ink(None, f"#{lower:06x}")
    return UPPER, Ink(f"#{upper:06x}", f"#{lower:06x}")


def outline_rows(view: View, look: Look) -> list[Row]:
    """The edges between surfaces as lines, from a view twice as many pixels high as rows.

    A cell shows what meets at its lower right corner.
    """
    face = np.pad(view.face[::PIXELS], ((0, 1), (0, 1)), mode="edge")
    right = np.pad(face[:, 1:] != face[:, :-1], ((0, 1), (0, 0)))
    under = np.pad(face[1:] != face[:-1], ((0, 0), (0, 1)))
    joins = right[:-2] * NORTH + right[1:-1] * SOUTH + under[:, :-2] * WEST + under[:, 1:-1] * EAST
    ink = Ink(look.greys.text, look.greys.panel)
    lines = look.glyphs.lines
    return [(Run("".join(lines[join] for join in row), ink),) for row in joins.tolist()]


NORTH, EAST, SOUTH, WEST = 1, 2, 4, 8
"""What a line joins; see `Glyphs.lines`."""
