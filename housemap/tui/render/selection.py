"""What the selected room adds to the map: its frame, and the lines to the rooms that it sees."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise

from housemap.tui.render.canvas import Stamp
from housemap.tui.render.cells import RoomInks
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink

Place = tuple[int, int]
"""Column and row of a cell in the port."""

Path = Sequence[tuple[float, float]]
"""Columns and rows in the port, from the selected room to one that it sees."""


def frame_stamps(cells: frozenset[Place], inks: RoomInks, look: Look) -> Iterator[Stamp]:
    """A frame round the cells of a room: inside its walls, or on them where it is narrow."""
    edge = {cell for cell in cells if any(n not in cells for n in _around(cell))}
    core = cells - edge
    inner = {cell for cell in core if any(n in edge for n in _around(cell))}
    heart = core - inner
    roomy = heart and all(any(n in heart for n in _around(cell)) for cell in inner)
    ring = inner if roomy else edge
    joins = {cell: _joins(ring, cell) for cell in ring}
    ink = Ink(inks.text, inks.body, bold=not look.colour)
    for row, column, text in _in_runs(ring, lambda cell: look.glyphs.frame[joins[cell]]):
        yield Stamp(column, row, text, ink)


def _in_runs(
    cells: Iterable[Place], char: Callable[[Place], str]
) -> Iterator[tuple[int, int, str]]:
    """Cells side by side as one text: row, first column, text."""
    start, text = (-1, -1), ""
    for row, column in sorted((row, column) for column, row in cells):
        if text and (row, column) != (start[0], start[1] + len(text)):
            yield *start, text
            text = ""
        if not text:
            start = row, column
        text += char((column, row))
    if text:
        yield *start, text


def _around(cell: Place) -> Iterator[Place]:
    column, row = cell
    return ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1) if i or j)


def _joins(ring: set[Place], cell: Place) -> int:
    column, row = cell
    sides = ((0, -1), (1, 0), (0, 1), (-1, 0))
    joined = sum(1 << k for k, (i, j) in enumerate(sides) if (column + i, row + j) in ring)
    return joined or 2 | 8


BRAILLE = 0x2800
BRAILLE_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Bits of the dots of a braille character, by row and column (Unicode, Braille Patterns)."""


def line_stamps(
    paths: Iterable[Path], ground_of: Callable[[Place], Ink | None], look: Look
) -> Iterator[Stamp]:
    """Thin lines along the paths; `ground_of` tells the ink of a cell, None where none may go."""
    dots: dict[Place, int] = {}
    for path in paths:
        for column, row in _dots(path):
            cell = column // 2, row // 4
            dots[cell] = dots.get(cell, 0) | BRAILLE_DOTS[row % 4][column % 2]
    for cell, bits in dots.items():
        if ink := ground_of(cell):
            char = look.glyphs.dot if look.glyphs.ascii else chr(BRAILLE + bits)
            yield Stamp(*cell, char, ink)


def _dots(path: Path) -> Iterator[Place]:
    """Every second dot along the lines, two to a column and four to a row."""
    for (x0, y0), (x1, y1) in pairwise(path):
        across, down = (x1 - x0) * 2, (y1 - y0) * 4
        steps = max(int(max(abs(across), abs(down))) // 2, 1)
        for k in range(steps + 1):
            yield int(x0 * 2 + across * k / steps), int(y0 * 4 + down * k / steps)
