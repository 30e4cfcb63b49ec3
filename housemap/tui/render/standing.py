"""On a map: where one stands, which way one looks, and the floor that is seen from there."""

from collections.abc import Iterator, Sequence
from math import ceil, hypot

from housemap.model.house import Point
from housemap.plan.floor_plan import Plan
from housemap.tui.render.canvas import Stamp
from housemap.tui.render.geometry import Geometry
from housemap.tui.render.grid import GROUND
from housemap.tui.render.house_map import Picture
from housemap.tui.render.runs import Ink
from housemap.tui.render.selection import BRAILLE, BRAILLE_DOTS
from housemap.workbench.session import Standing

Place = tuple[int, int]
"""Column and row of a cell in the port."""

Outline = Sequence[tuple[float, float]]
"""Columns and rows in the port."""

NEAR = 4
"""Cells that the arrow may move out of the way of a label."""

DOTS_ACROSS, DOTS_DOWN = 2, 4
"""In a cell."""


def standing_stamps(picture: Picture, plan: Plan, standing: Standing | None) -> Iterator[Stamp]:
    """Dots over what is seen, and an arrow where one stands; nothing on another level."""
    geometry = picture.geometry
    if standing is None or standing.room not in geometry.rooms or standing.room not in plan.rooms:
        return
    outlines = [[_in_port(geometry, point) for point in piece] for piece in standing.seen_m]
    for cell, bits in _dots(outlines, geometry).items():
        ink = _ink(picture, cell)
        if ink and cell not in picture.written:
            glyphs = picture.look.glyphs
            yield Stamp(*cell, glyphs.dots if glyphs.ascii else chr(BRAILLE + bits), ink)
    here = _free_cell(picture, *_in_port(geometry, standing.at_m))
    ink = _ink(picture, here) if here else None
    if here and ink:
        arrow = way_arrow(standing.toward_deg, picture.look.glyphs.ways)
        yield Stamp(*here, arrow, Ink(ink.bg, ink.fg, bold=True, reverse=ink.bg is None))


def _free_cell(picture: Picture, column: float, row: float) -> Place | None:
    """The nearest cell of a room in which nothing is written, no further off than NEAR."""
    around = [
        (int(column) + x, int(row) + y)
        for x in range(-NEAR, NEAR + 1)
        for y in range(-NEAR, NEAR + 1)
    ]
    free = [cell for cell in around if cell not in picture.written and _ink(picture, cell)]
    return min(free, key=lambda cell: hypot(cell[0] + 0.5 - column, 2 * (cell[1] + 0.5 - row)),
               default=None)  # fmt: skip


def way_arrow(toward_deg: float, ways: str) -> str:
    """The arrow nearest to a bearing."""
    return ways[round(toward_deg / 360 * len(ways)) % len(ways)]


def _in_port(geometry: Geometry, point: Point) -> tuple[float, float]:
    column, row = geometry.frame.at(point)
    return column - geometry.port.column, row - geometry.port.row


def _ink(picture: Picture, cell: Place) -> Ink | None:
    """Of a cell of a room; None on the ground and outside the port."""
    port, (column, row) = picture.geometry.port, cell
    if not (0 <= column < port.columns and 0 <= row < port.rows):
        return None
    number = picture.geometry.grid.at(column, row)
    if number == GROUND:
        return None
    return Ink(picture.inks[number].text, picture.inks[number].body)


def _dots(outlines: Sequence[Outline], geometry: Geometry) -> dict[Place, int]:
    """Every second dot inside any of the outlines, as bits of braille patterns by cell."""
    found: dict[Place, int] = {}
    port = geometry.port
    for outline in outlines:
        low = max(ceil(min(y for _, y in outline) * DOTS_DOWN - 0.5), 0)
        high = min(ceil(max(y for _, y in outline) * DOTS_DOWN - 0.5), port.rows * DOTS_DOWN)
        for y in range(low, high):
            for x in _across(outline, y, port.columns * DOTS_ACROSS):
                cell = x // DOTS_ACROSS, y // DOTS_DOWN
                found[cell] = found.get(cell, 0) | BRAILLE_DOTS[y % DOTS_DOWN][x % DOTS_ACROSS]
    return found


def _across(outline: Outline, y: int, width: int) -> range:
    """The dots of a row that lie in a convex outline, every second one."""
    level = (y + 0.5) / DOTS_DOWN
    met = [
        x0 + (level - y0) / (y1 - y0) * (x1 - x0)
        for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True)
        if (y0 < level) != (y1 < level)
    ]
    if not met:
        return range(0)
    first = max(ceil(min(met) * DOTS_ACROSS - 0.5), 0)
    last = min(ceil(max(met) * DOTS_ACROSS - 0.5), width)
    return range(first + (first + y) % 2, last, 2)
