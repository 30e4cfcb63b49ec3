"""A terminal's screen as an SVG picture, small and the same on every machine.

Block elements and braille dots are drawn as shapes, since fonts seldom fill a cell with them; all
other text is held to the grid by its length, whatever the reader's monospaced font.
"""

from collections.abc import Iterator
from itertools import groupby
from typing import NamedTuple
from xml.sax.saxutils import escape

from tests.support.terminal import Cell, Terminal

WIDTH, HEIGHT = 8, 17
"""Of a cell, in pixels."""

FONT = "ui-monospace,'DejaVu Sans Mono',Menlo,Consolas,monospace"
SIZE = 13
BASELINE = 13
DEFAULTS = {"default": "#c8c8c8"}
BACKGROUND = "#141414"

# Quarter cells of U+2596 to U+259F: upper left 1, upper right 2, lower left 4, lower right 8.
QUADRANTS = dict(zip("▖▗▘▙▚▛▜▝▞▟", (4, 8, 1, 13, 9, 7, 11, 2, 6, 14), strict=True))
EIGHTHS_UP = "▁▂▃▄▅▆▇█"
EIGHTHS_RIGHT = "▏▎▍▌▋▊▉"


class Box(NamedTuple):
    """Part of a cell, in parts of its width and height."""

    x: float
    y: float
    width: float
    height: float


def blocks(char: str) -> tuple[Box, ...]:
    """The filled parts of a block element; none for any other character."""
    if char in EIGHTHS_UP:
        share = (EIGHTHS_UP.index(char) + 1) / 8
        return (Box(0, 1 - share, 1, share),)
    if char in EIGHTHS_RIGHT:
        return (Box(0, 0, (EIGHTHS_RIGHT.index(char) + 1) / 8, 1),)
    if char == "▀":
        return (Box(0, 0, 1, 0.5),)
    if char == "▐":
        return (Box(0.5, 0, 0.5, 1),)
    bits = QUADRANTS.get(char, 0)
    return tuple(Box(bit % 2 / 2, bit // 2 / 2, 0.5, 0.5) for bit in range(4) if bits >> bit & 1)


def dots(char: str) -> tuple[tuple[float, float], ...]:
    """The centres of a braille pattern's dots, in parts of the cell."""
    bits = ord(char) - 0x2800
    if not 0 <= bits <= 0xFF:
        return ()
    order = [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3)]
    return tuple(
        (0.25 + 0.5 * x, (y + 0.5) / 4) for bit, (x, y) in enumerate(order) if bits >> bit & 1
    )


def screen_svg(terminal: Terminal) -> str:
    """The whole screen as one SVG document."""
    columns, rows = terminal.size
    width, height = columns * WIDTH, rows * HEIGHT
    parts = [part for row in range(rows) for part in _row(terminal, row, columns)]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}"'
        f' font-family="{FONT}" font-size="{SIZE}" shape-rendering="crispEdges">\n'
        f'<rect width="{width}" height="{height}" fill="{BACKGROUND}"/>\n'
        + "\n".join(parts)
        + "\n</svg>\n"
    )


def _row(terminal: Terminal, row: int, columns: int) -> Iterator[str]:
    cells = [terminal.cell(column, row) for column in range(columns)]
    yield from _backgrounds(cells, row * HEIGHT)
    yield from _shapes(cells, row * HEIGHT)
    yield from _texts(cells, row * HEIGHT)


def _backgrounds(cells: list[Cell], y: int) -> Iterator[str]:
    x = 0
    for colour, run in groupby(cells, key=lambda cell: cell.bg):
        width = len(list(run)) * WIDTH
        if colour != "default":
            yield f'<rect x="{x}" y="{y}" width="{width}" height="{HEIGHT}" fill="{colour}"/>'
        x += width


def _shapes(cells: list[Cell], y: int) -> Iterator[str]:
    for column, cell in enumerate(cells):
        x, colour = column * WIDTH, _ink(cell)
        for box in blocks(cell.text):
            yield (
                f'<rect x="{x + box.x * WIDTH:g}" y="{y + box.y * HEIGHT:g}"'
                f' width="{box.width * WIDTH:g}" height="{box.height * HEIGHT:g}" fill="{colour}"/>'
            )
        for dx, dy in dots(cell.text):
            yield (
                f'<circle cx="{x + dx * WIDTH:g}" cy="{y + dy * HEIGHT:g}" r="1" fill="{colour}"/>'
            )


def _texts(cells: list[Cell], y: int) -> Iterator[str]:
    x = 0
    for (colour, bold), run in groupby(cells, key=lambda cell: (_ink(cell), cell.bold)):
        text = "".join(" " if blocks(cell.text) or dots(cell.text) else cell.text for cell in run)
        yield from _words(text, x, y + BASELINE, f' fill="{colour}"' + ' font-weight="700"' * bold)
        x += len(text) * WIDTH


def _words(text: str, x: int, y: int, style: str) -> Iterator[str]:
    """Each stretch of text without two spaces in a row, so that blank cells cost nothing."""
    start = 0
    for piece in text.split("  "):
        word = piece.strip()
        if word:
            left = x + (start + piece.index(word)) * WIDTH
            length = f' textLength="{len(word) * WIDTH}" lengthAdjust="spacingAndGlyphs"'
            yield f'<text x="{left}" y="{y}"{length}{style}>{escape(word)}</text>'
        start += len(piece) + 2


def _ink(cell: Cell) -> str:
    return DEFAULTS.get(cell.fg, cell.fg)
