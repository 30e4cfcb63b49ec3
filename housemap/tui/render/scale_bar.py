"""The scale bar of the map: a round length, where the ground leaves place for it."""

from collections.abc import Iterator, Mapping, Sequence

from housemap.model.house import Units
from housemap.tui.render.canvas import Stamp
from housemap.tui.render.frame import CELL_ASPECT
from housemap.tui.render.geometry import Geometry
from housemap.tui.render.grid import GROUND
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink

LENGTHS: Mapping[Units, Sequence[int]] = {"m": (1, 2, 5, 10, 20, 50), "ft": (3, 5, 10, 20, 50, 100)}
UNIT_M: Mapping[Units, float] = {"m": 1.0, "ft": 0.3048}
MOST_COLUMNS = 16
EAST_WEST, FIRST, LAST = 2 | 8, 1 | 2 | 4, 1 | 4 | 8
"""What the characters of the bar join; see `Glyphs.lines`."""


def scale_stamps(geometry: Geometry, units: Units, look: Look) -> Iterator[Stamp]:
    """The bar at the foot of the port, at the left or the right; nothing where rooms are there."""
    text = bar_text(geometry.frame.scale, units, look)
    port = geometry.port
    row = port.rows - 1
    for column in (1, port.columns - len(text) - 1):
        cells = range(column - 1, column + len(text) + 1)
        inside = column > 0 and cells.stop < port.columns
        if inside and all(geometry.grid.at(each, row) == GROUND for each in cells):
            yield Stamp(column, row, text, Ink(look.greys.text, look.greys.ground))
            return


def bar_text(scale: float, units: Units, look: Look) -> str:
    """The longest round length within MOST_COLUMNS, at `scale` rows a metre."""
    columns = {
        length: round(length * UNIT_M[units] * scale * CELL_ASPECT) for length in LENGTHS[units]
    }
    fitting = [length for length, wide in columns.items() if wide <= MOST_COLUMNS]
    length = max(fitting, default=LENGTHS[units][0])
    lines = look.glyphs.lines
    inner = lines[EAST_WEST] * max(columns[length] - 2, 0)
    return f"{lines[FIRST]}{inner}{lines[LAST]} {length} {units}"
