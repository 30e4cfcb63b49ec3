"""Free places for blocks on a level, found quickly among the boxes that are there already."""

from collections import defaultdict
from collections.abc import Iterator
from itertools import chain, count

from housemap.model.house import Point
from housemap.model.polygon import Box

CELL_M = 4.0
_SLACK_M = 1e-6


class Floor:
    """The boxes taken on one level, by the cells of a coarse grid."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[Box]] = defaultdict(list)

    def take(self, box: Box) -> None:
        for cell in cells(box):
            self._cells[cell].append(box)

    def is_free(self, box: Box) -> bool:
        return not any(
            meet(box, other) for cell in cells(box) for other in self._cells.get(cell, ())
        )

    def free_spot(
        self, size: Point, beside: Box, sides: str, gap_m: float, door: Point | None = None
    ) -> Point:
        """The south-west corner for a block.

        It lies before a door in the first of `sides` (such as "nsew"), or touches the first of them
        that has room for it, or else lies as near round `beside` as there is room.
        """
        before = _before(size, beside, sides[0], gap_m, door) if door and sides else ()
        touching = (before, *(_at_side(size, beside, side, gap_m) for side in sides))
        around = _round(size, beside, gap_m)
        return next(
            spot
            for spot in chain(*touching, around)
            if self.is_free(_padded(spot, size, gap_m - _SLACK_M))
        )


def cells(box: Box) -> Iterator[tuple[int, int]]:
    west, south, east, north = (int(edge // CELL_M) for edge in box)
    for column in range(west, east + 1):
        for row in range(south, north + 1):
            yield column, row


def meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _padded(spot: Point, size: Point, by_m: float) -> Box:
    return spot[0] - by_m, spot[1] - by_m, spot[0] + size[0] + by_m, spot[1] + size[1] + by_m


def _before(size: Point, beside: Box, side: str, gap_m: float, door: Point) -> Iterator[Point]:
    """Corners of blocks with a door of `beside` amid their side, or near either end of it."""
    for share in (0.5, 0.2, 0.8):
        west, south = door[0] - share * size[0], door[1] - share * size[1]
        yield _touching(size, beside, side, gap_m, (west, south))


def _at_side(size: Point, beside: Box, side: str, gap_m: float) -> Iterator[Point]:
    """Corners of blocks that touch one side, from its start in steps of the block."""
    west, south, east, north = beside
    if side in "ns":
        starts = ((along, south) for along in _steps(west, east, size[0], gap_m))
    else:
        starts = ((west, along) for along in _steps(south, north, size[1], gap_m))
    for start in starts:
        yield _touching(size, beside, side, gap_m, start)


def _touching(size: Point, beside: Box, side: str, gap_m: float, start: Point) -> Point:
    """The corner of a block that is moved across a side until it touches it."""
    west, south, east, north = beside
    return {
        "n": (start[0], north + gap_m),
        "s": (start[0], south - gap_m - size[1]),
        "e": (east + gap_m, start[1]),
        "w": (west - gap_m - size[0], start[1]),
    }[side]


def _steps(start: float, end: float, length: float, gap_m: float) -> Iterator[float]:
    """Where blocks of a length begin along a side; the last one may reach half over its end."""
    yield start
    for k in count(1):
        at = start + k * (length + gap_m)
        if at + length / 2 > end:
            return
        yield at


def _round(size: Point, beside: Box, gap_m: float) -> Iterator[Point]:
    """Corners on the block itself, then on ever wider rings round it, without end."""
    step = size[0] + gap_m, size[1] + gap_m
    for ring in count():
        reach = range(-ring, ring + 1)
        rim = ((i, j) for i in reach for j in reach if max(abs(i), abs(j)) == ring)
        for i, j in sorted(rim, key=lambda at: (abs(at[0]) + abs(at[1]), at)):
            yield beside[0] + i * step[0], beside[1] + j * step[1]
