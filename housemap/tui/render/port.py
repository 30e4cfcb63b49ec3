"""Which part of an enlarged map is on the screen."""

from collections.abc import Sequence

from housemap.model.house import Point
from housemap.tui.render.frame import Frame
from housemap.tui.render.grid import Port

MARGIN = 3
"""Cells kept free round the selected room where there is place."""


def follow(
    frame: Frame, outline_m: Sequence[Point] | None, before: Port | None, columns: int, rows: int
) -> Port:
    """The port of that size which shows the selected room, a little move from `before`.

    A frame that fits stands in the middle.
    """
    corners = frame.snapped(outline_m) if outline_m else [(0, 0), (frame.columns, frame.rows)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    column = _start(frame.columns, columns, min(xs), max(xs), before.column if before else None)
    row = _start(frame.rows, rows, min(ys), max(ys), before.row if before else None)
    return Port(column, row, columns, rows)


def _start(whole: int, visible: int, low: int, high: int, before: int | None) -> int:
    """Where the port begins on one axis, to show `low` to `high` of a frame of `whole` cells."""
    if whole <= visible:
        return -((visible - whole) // 2)
    if before is None:
        wanted = (low + high - visible) // 2
    else:
        last = low - MARGIN
        first = high + MARGIN - visible
        wanted = min(max(before, min(first, last)), last) if first <= last else last
    return min(max(wanted, -1), whole - visible + 1)
