"""What rooms exchange through openings, counted by lines.

Every line that passes an opening joins two patches, so that lines spread evenly over openings and
directions count what the patches of different rooms exchange, their corners' and frames' shadows
included. Each opening samples all lines through it; a line through k openings is counted by each
with a k-th. The sums of rows are then those of the rooms' closed forms, so that no light is lost
or made (`balanced_passage`). An opening has a depth: its lining reflects the light that meets it.
"""

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats, Singles
from housemap.light import enclosures, rays
from housemap.light.tracing import Cluster, Gates, Lines, follow, gates_of, mixed, pass_through
from housemap.light.view_factors import Ints

Shorts = np.ndarray[tuple[int, ...], np.dtype[np.int32]]

LINES = 2048
"""From each side of an opening."""
BALANCING_ROUNDS = 12
GATES_AT_ONCE = 8
"""So many lines at once that they remain in the processor's cache."""


class Pair(NamedTuple):
    """What two rooms exchange: the first is the one that comes first, or the same room."""

    rooms: tuple[int, int]
    one: Ints
    """The patches of the first room, and of the other, that lines join."""
    other: Ints
    square: Floats
    """m2, as much from one patch to the other as back."""


class Passage(NamedTuple):
    """What the rooms of a cluster exchange through openings, in m2; given twice adds up."""

    pairs: tuple[Pair, ...]
    planes: "OntoPlanes"


class OntoPlanes(NamedTuple):
    """What working planes take in; cells and patches are numbered through all rooms."""

    cell: Shorts
    patch: Shorts
    square: Singles
    """m2, from a patch to a cell that lines join."""

    def lumens(self, sent: Floats, count: int) -> Floats:
        """What falls on each of `count` cells of lux that leave each patch."""
        return np.asarray(np.bincount(self.cell, self.square * sent[self.patch], count))


@lru_cache(maxsize=8)
def passage(cluster: Cluster) -> Passage:
    """Count what is exchanged through every joint."""
    gates = gates_of(cluster)
    numbers = np.arange(len(gates.room))
    ended, crossed = zip(
        *(_counted(gates, numbers[i : i + GATES_AT_ONCE]) for i in numbers[::GATES_AT_ONCE]),
        strict=True,
    )
    one, other, area, kept = map(np.concatenate, zip(*ended, strict=True))
    square = balanced_passage(one, other, area / 2.0, _open_m2(gates, cluster)) * kept
    pairs = tuple(_pairs(gates.patches, one, other, square))
    cell, patch, onto = map(np.concatenate, zip(*crossed, strict=True))
    planes = OntoPlanes(cell.astype(np.int32), patch.astype(np.int32), onto.astype(np.float32))
    return Passage(pairs, planes)


Ended = tuple[Ints, Ints, Floats, Floats]
"""Of each line, the patches of both ends, the area that it stands for, and what is kept of its
light."""
Crossed = tuple[Ints, Ints, Floats]
"""Of lines through working planes, the cell and the patch of the start, and m2."""


def _counted(gates: Gates, numbers: Ints) -> tuple[Ended, Crossed]:
    """Lines through some gates, each both ways from where it leaves its room."""
    uniform, local = rays.spread(LINES, 4), rays.cosine_spread(LINES)
    gate = np.repeat(numbers, LINES)
    ahead = np.tile(local.T, len(numbers))
    width, height, _ = size = gates.size_m.take(gate, 1)
    places = np.tile(uniform[:, :2].T, len(numbers)) * size[:2]
    axes = gates.axes.take(gate, 2)
    at = gates.origin_m.take(gate, 1) + mixed(axes[:2], places)
    start, everything = Lines(gates.room[gate], at, -mixed(axes, ahead)), np.arange(len(gate))
    follow(gates, start, everything)
    end = Lines(gates.room[gate], start.at_m, start.toward)  # all are moved at once
    end.gate[:] = gate
    pass_through(gates, end, everything, (places, ahead))
    crossed = follow(gates, end, everything)
    area = width * height / LINES
    ended = np.flatnonzero((start.patch >= 0) & (end.patch >= 0))
    share = area / np.maximum(start.entered + end.entered, 1)
    begun, line = start.patch[crossed.line] >= 0, crossed.line
    value = area[line] * crossed.kept * start.kept[line] / (crossed.entered + start.entered[line])
    onto = crossed.cell[begun], start.patch[line[begun]], value[begun]
    kept = (start.kept * end.kept)[ended]
    return (start.patch[ended], end.patch[ended], share[ended], kept), onto


def _open_m2(gates: Gates, cluster: Cluster) -> Floats:
    """What each patch of the cluster exchanges with the openings of its own room."""
    parts = []
    for shape, first in zip(cluster.shapes, gates.patches, strict=False):
        mesh = enclosures.enclosure(shape).mesh
        on_patch = gates.on_patch[first : first + len(mesh.surface)]
        opened = np.flatnonzero(np.bincount(mesh.surface[on_patch >= 0]))
        seen = enclosures.modes(shape).seen[opened].sum(0)
        parts.append(seen * mesh.area_m2 * (on_patch < 0))
    return np.concatenate(parts)


def balanced_passage(one: Ints, other: Ints, value: Floats, goal_m2: Floats) -> Floats:
    """Scale a symmetric exchange so that its rows add to their goal, or a little less.

    Each value is that from one patch to the other, and the same back.
    """
    scale = np.ones(len(goal_m2))

    def short() -> Floats:
        sums = np.bincount(one, value * scale[other], len(goal_m2))
        sums = scale * (sums + np.bincount(other, value * scale[one], len(goal_m2)))
        return np.divide(goal_m2, sums, out=np.ones_like(sums), where=sums > 0.0)

    for _ in range(BALANCING_ROUNDS):
        scale = scale * np.sqrt(short())
    over = np.minimum(short(), 1.0)
    return np.asarray(value * scale[one] * scale[other] * np.minimum(over[one], over[other]))


def _pairs(firsts: Ints, one: Ints, other: Ints, square: Floats) -> Iterator[Pair]:
    """By pair of rooms; `firsts` are the numbers of the first patch of each room."""
    count = len(firsts) - 1
    room = np.repeat(np.arange(count), np.diff(firsts))
    one, other = np.minimum(one, other), np.maximum(one, other)
    key = room[one] * count + room[other]
    order = np.argsort(key, kind="stable")
    bounds = np.flatnonzero(np.diff(key[order], prepend=-1, append=-1)).tolist()
    for start, end in pairwise(bounds):
        part = order[start:end]
        a, b = divmod(int(key[part[0]]), count)
        yield Pair((a, b), one[part] - firsts[a], other[part] - firsts[b], square[part])
