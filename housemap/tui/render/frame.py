"""From plan metres to cells: lines of walls snapped to the grid, a cell twice as high as wide."""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from housemap.model.house import Point

CELL_ASPECT = 2.0
"""Height of a cell over its width, in the usual fonts."""

LEAST_COLUMNS, LEAST_ROWS = 3, 1
"""No room is drawn smaller than this, however small the map."""

Span = tuple[float, float]
"""Where a room begins and ends on one axis, metres."""


class Axis(NamedTuple):
    """One axis of the plan: wall lines in metres, ascending, and the cell where each is drawn."""

    lines_m: tuple[float, ...]
    cells: tuple[int, ...]

    @property
    def length(self) -> int:
        return self.cells[-1]

    def at(self, value_m: float) -> float:
        """Where a place between lines is drawn, in cells."""
        i = min(max(bisect_right(self.lines_m, value_m), 1), len(self.lines_m) - 1)
        low_m, high_m = self.lines_m[i - 1], self.lines_m[i]
        low, high = self.cells[i - 1], self.cells[i]
        part = min(max((value_m - low_m) / (high_m - low_m), 0.0), 1.0)
        return low + part * (high - low)


class Frame(NamedTuple):
    """How one level is drawn; rows run from north (0) to south."""

    x: Axis
    y: Axis
    """Of northings turned round: metres to the south."""
    scale: float
    """Rows a metre."""

    @property
    def columns(self) -> int:
        return self.x.length

    @property
    def rows(self) -> int:
        return self.y.length

    def at(self, point: Point) -> tuple[float, float]:
        """Column and row of a point of the plan."""
        return self.x.at(point[0]), self.y.at(-point[1])

    def snapped(self, outline_m: Sequence[Point]) -> list[tuple[int, int]]:
        """Draw an outline with its corners at corners of cells."""
        return [(round(x), round(y)) for x, y in map(self.at, outline_m)]


def frame_of(outlines_m: Sequence[Sequence[Point]], scale: float, thickness_m: float) -> Frame:
    """Frame the rooms of a level at `scale` rows a metre; there must be at least one."""
    xs = [_span(x for x, _ in outline) for outline in outlines_m]
    ys = [_span(-y for _, y in outline) for outline in outlines_m]
    corners_x = [x for outline in outlines_m for x, _ in outline]
    corners_y = [-y for outline in outlines_m for _, y in outline]
    return Frame(
        _axis(corners_x, xs, scale * CELL_ASPECT, LEAST_COLUMNS, thickness_m),
        _axis(corners_y, ys, scale, LEAST_ROWS, thickness_m),
        scale,
    )


def fitting_frame(
    outlines_m: Sequence[Sequence[Point]], columns: int, rows: int, thickness_m: float
) -> Frame:
    """The largest frame within `columns` x `rows`; where none fits, one that reaches beyond."""
    width_m = _extent(x for outline in outlines_m for x, _ in outline)
    height_m = _extent(y for outline in outlines_m for _, y in outline)
    largest = max(min(columns / CELL_ASPECT / width_m, rows / height_m), 0.01)
    for step in range(12):
        frame = frame_of(outlines_m, largest * 0.93**step, thickness_m)
        if frame.columns <= columns and frame.rows <= rows:
            return frame
    return frame_of(outlines_m, largest, thickness_m)


def enlarged_frame(
    outlines_m: Sequence[Sequence[Point]], fitting: Frame, factor: float, thickness_m: float
) -> Frame:
    """The frame of a level so many times as large as the fitting one.

    Counted from the scale at which half of the rooms are wider than the least, where that is more.
    """
    widths_m = sorted(_extent(x for x, _ in outline) for outline in outlines_m)
    least = LEAST_COLUMNS / CELL_ASPECT / widths_m[len(widths_m) // 2]
    return frame_of(outlines_m, max(fitting.scale, least) * factor, thickness_m)


def _span(values: Iterable[float]) -> Span:
    found = list(values)
    return min(found), max(found)


def _extent(values: Iterable[float]) -> float:
    low, high = _span(values)
    return max(high - low, 0.1)


def _axis(
    corners_m: Iterable[float], spans: Sequence[Span], scale: float, least: int, thickness_m: float
) -> Axis:
    clusters = _clusters(corners_m, thickness_m)
    line_of = {value: i for i, cluster in enumerate(clusters) for value in cluster}
    lines = [(cluster[0] + cluster[-1]) / 2 for cluster in clusters]
    starts: dict[int, set[int]] = {}
    for low, high in spans:
        starts.setdefault(line_of[high], set()).add(line_of[low])
    cells = [0]
    for i, line in enumerate(lines[1:], 1):
        wanted = round(scale * (line - lines[0]))
        needed = (cells[start] + least for start in starts.get(i, ()) if start < i)
        cells.append(max(wanted, cells[-1], *needed))
    if len(lines) == 1:
        lines, cells = [lines[0], lines[0] + 1.0], [0, least]
    return Axis(tuple(lines), tuple(cells))


def _clusters(corners_m: Iterable[float], thickness_m: float) -> list[list[float]]:
    """Corners not further apart than a wall is thick: they are drawn on one line."""
    values = sorted(set(corners_m))
    clusters = [values[:1]]
    for before, value in pairwise(values):
        near = value - before <= thickness_m * 1.05 + 1e-9
        if near and value - clusters[-1][0] <= thickness_m * 1.6 + 1e-9:
            clusters[-1].append(value)
        else:
            clusters.append([value])
    return clusters
