"""Random measured houses: a rectangle split into rooms, some of them cut to an L, with doors.

Every house is legal and closes: walls are as thick as the house says, and openings lie where
both rooms have wall.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from housemap.model.house import House, Opening, OpeningKind, Point, Room

WALL_CM = 10
LEAST_CM = 150
"""The shortest side of a room."""


@dataclass(frozen=True, slots=True)
class _Cell:
    """A room's box in centimetres, and the corner cut out of it: which one, and how much."""

    box: tuple[int, int, int, int]
    cut: tuple[str, tuple[int, int]] | None = None

    def outline_m(self) -> tuple[Point, ...]:
        west, south, east, north = self.box
        x, y = east - west, north - south
        if self.cut is None:
            ring = [(0, 0), (x, 0), (x, y), (0, y)]
        else:
            corner, (a, b) = self.cut
            ring = {
                "ne": [(0, 0), (x, 0), (x, y - b), (x - a, y - b), (x - a, y), (0, y)],
                "nw": [(0, 0), (x, 0), (x, y), (a, y), (a, y - b), (0, y - b)],
                "se": [(0, 0), (x - a, 0), (x - a, b), (x, b), (x, y), (0, y)],
                "sw": [(a, 0), (x, 0), (x, y), (0, y), (0, b), (a, b)],
            }[corner]
        return tuple((px / 100, py / 100) for px, py in ring)

    def side_cm(self, side: str) -> tuple[int, int]:
        """The stretch of the box's side that the room still has."""
        axis = 0 if side in "ns" else 1
        low, high = self.box[axis], self.box[axis + 2]
        if self.cut and side in self.cut[0]:
            size = self.cut[1][axis]
            other = self.cut[0].replace(side, "")
            if other in "sw":
                low += size
            else:
                high -= size
        return low, high


def random_house(random: Random, count: int, *, ells: float = 0.0, loops: float = 0.3) -> House:
    """A house of `count` rooms on one level; `ells` of them are L-shaped.

    A spanning tree of doors joins the rooms, and `loops` of the other walls have one too. Only
    the first room is pinned.
    """
    cells = [_cut_to_ell(random, cell) if random.random() < ells else cell
             for cell in _split(random, count)]  # fmt: skip
    names = [f"r{i:03}" for i in range(count)]
    rooms = {
        name: Room(
            name,
            height_m=2.4,
            at_m=(cell.box[0] / 100, cell.box[1] / 100) if i == 0 else None,
            **({"outline_m": cell.outline_m()} if cell.cut else {"size_m": _size(cell)}),
        )
        for i, (name, cell) in enumerate(zip(names, cells, strict=True))
    }
    doors = _Doors(random, names, cells)
    for wall in random.sample(walls := list(_shared(cells)), len(walls)):
        if doors.joins(wall) or random.random() < loops:
            doors.add(wall)
    return House(name="Random", rooms=rooms, openings=dict(sorted(doors.openings.items())))


_Wall = tuple[int, int, str, int, int]
"""Two rooms, the side of the first, and the stretch of it that both have, in centimetres."""


class _Doors:
    """The doors so far, and which rooms they join."""

    def __init__(self, random: Random, names: list[str], cells: list[_Cell]) -> None:
        self._random = random
        self._names = names
        self._cells = cells
        self._root = list(range(len(cells)))
        self.openings: dict[str, Opening] = {}

    def joins(self, wall: _Wall) -> bool:
        """Whether a door in this wall would join rooms that are not joined yet."""
        return self._top(wall[0]) != self._top(wall[1])

    def add(self, wall: _Wall) -> None:
        i, j, side, low, high = wall
        self._root[self._top(i)] = self._top(j)
        between = self._names[i], self._names[j]
        cells = self._cells[i], self._cells[j]
        self.openings["-".join(between)] = _door(self._random, between, cells, side, (low, high))

    def _top(self, i: int) -> int:
        while self._root[i] != i:
            i = self._root[i]
        return i


def _size(cell: _Cell) -> Point:
    west, south, east, north = cell.box
    return (east - west) / 100, (north - south) / 100


def _split(random: Random, count: int) -> list[_Cell]:
    """A guillotine plan of about 16 square metres a room."""
    side = round((count * 160_000) ** 0.5)
    boxes = [(0, 0, side, side)]
    while len(boxes) < count:
        boxes.sort(key=lambda b: -(b[2] - b[0]) * (b[3] - b[1]))
        west, south, east, north = boxes.pop(0)
        if east - west > north - south:
            at = _between(random, west, east)
            boxes += [(west, south, at, north), (at + WALL_CM, south, east, north)]
        else:
            at = _between(random, south, north)
            boxes += [(west, south, east, at), (west, at + WALL_CM, east, north)]
    return [_Cell(box) for box in boxes]


def _between(random: Random, low: int, high: int) -> int:
    return random.randint(low + (high - low) * 35 // 100, low + (high - low) * 65 // 100)


def _cut_to_ell(random: Random, cell: _Cell) -> _Cell:
    width, depth = cell.box[2] - cell.box[0], cell.box[3] - cell.box[1]
    if min(width, depth) < LEAST_CM:
        return cell
    corner = random.choice(("ne", "nw", "se", "sw"))
    return _Cell(
        cell.box, (corner, (random.randint(40, width // 2), random.randint(40, depth // 2)))
    )


def _shared(cells: list[_Cell]) -> Iterator[_Wall]:
    for i, a in enumerate(cells):
        for j, b in enumerate(cells):
            for side, mine, theirs, opposite in (("e", 2, 0, "w"), ("n", 3, 1, "s")):
                if b.box[theirs] - a.box[mine] == WALL_CM:
                    (a0, a1), (b0, b1) = a.side_cm(side), b.side_cm(opposite)
                    low, high = max(a0, b0), min(a1, b1)
                    if high - low >= 100:
                        yield i, j, side, low, high


def _door(
    random: Random,
    between: tuple[str, str],
    cells: tuple[_Cell, _Cell],
    side: str,
    stretch: tuple[int, int],
) -> Opening:
    low, high = stretch
    width = random.randint(76, min(160, high - low))
    at = random.randint(low, high - width)
    kind: OpeningKind = random.choice(("doorway", "cased", "open", "glazed"))
    shut = kind == "doorway" and random.random() < 0.15
    first, along = _in_wall(cells[0], side, at, width)
    second, to_along = _in_wall(cells[1], {"e": "w", "n": "s"}[side], at, width)
    return Opening(
        between, kind, door="shut" if shut else "open", wall=first, along_m=along,
        to_wall=second, to_along_m=to_along, width_m=width / 100,
    )  # fmt: skip


def _in_wall(cell: _Cell, side: str, at: int, width: int) -> tuple[str, float]:
    """The wall's key, and `along` from its start."""
    axis = 0 if side in "ns" else 1
    if cell.cut is None:
        return side, (at - cell.box[axis]) / 100
    west, south, _, _ = cell.box
    start, end = at - cell.box[axis], at + width - cell.box[axis]
    level = {"n": cell.box[3] - south, "e": cell.box[2] - west}.get(side, 0)
    ring = [(round(x * 100), round(y * 100)) for x, y in cell.outline_m()]
    for i, (a, b) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)):
        if a[1 - axis] == b[1 - axis] == level:
            low, high = sorted((a[axis], b[axis]))
            if low <= start and end <= high:
                forward = b[axis] > a[axis]
                return str(i), (start - low if forward else high - end) / 100
    raise AssertionError((cell, side, at))
