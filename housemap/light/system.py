"""What the light of joined rooms depends on beside their paints: what shines, what they exchange.

Every line that passes an opening joins two patches, so that lines spread evenly over openings and
directions count what the patches of different rooms exchange, their corners' and frames' shadows
included. Each opening samples all lines through it; a line through k openings is counted by each
with a k-th. The sums of rows are then those of the rooms' closed forms, so that no light is lost
or made (`balanced_passage`). An opening has a depth: its lining reflects the light that meets it.
"""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats, Singles
from housemap.light import enclosures, rays
from housemap.light.inputs import RoomInputs
from housemap.light.radiosity import FirstLight, first_light, single
from housemap.light.scene import Beam, Column, Scene, beams_of
from housemap.light.shine import shine
from housemap.light.tracing import Cluster, Gates, Lines, follow, gates_of, mixed, pass_through
from housemap.light.view_factors import Ints
from housemap.model.frozen import frozen

Shorts = np.ndarray[tuple[int, ...], np.dtype[np.int32]]

LINES = 2048
"""From each side of an opening."""
BALANCING_ROUNDS = 12
GATES_AT_ONCE = 16
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


Ended = tuple[Ints, Ints, Floats, Singles]
"""Of each line, the patches of both ends, the area that it stands for, and what is kept of its
light."""
Crossed = tuple[Ints, Ints, Floats]
"""Of lines through working planes, the cell and the patch of the start, and m2."""


def _counted(gates: Gates, numbers: Ints) -> tuple[Ended, Crossed]:
    """Lines through some gates, each both ways from where it leaves its room."""
    uniform, local = single(rays.spread(LINES, 4)), single(rays.cosine_spread(LINES))
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
    kept = start.kept[ended] * end.kept[ended]
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


# What shines, and how rooms pass light on


class Link(NamedTuple):
    """What a room takes in through openings from another room, or from itself by their linings."""

    sender: int
    by_modes: Singles
    """From the modes of the sender to the modes of the one: (K, K of the sender)."""


@frozen(eq=False)
class System:
    """Rooms without their paints; a lone room is one too."""

    cluster: Cluster
    key: Hashable
    """What shines in its rooms."""
    columns: tuple[Column, ...]
    first: tuple[FirstLight, ...]
    """By room, first light by column."""
    lumens: tuple[Floats, ...]
    """By room, what comes in first by column, by its own windows and lamps and by openings."""
    on_plane: tuple[Floats, ...]
    """By room, the sky's own light on each cell of the working plane: lux."""
    links: tuple[tuple[Link, ...], ...]
    """By the room that takes in."""
    link_first: tuple[tuple[Singles, ...], ...]
    """For each link, from first light by surface: (K, surfaces of the sender, columns)."""
    planes: OntoPlanes | None
    """What working planes take in through openings."""

    def __getstate__(self) -> dict[str, object]:
        """Without what only shows parts of the rest."""
        return {name: value for name, value in vars(self).items() if name != "takers"}

    @cached_property
    def takers(self) -> tuple[Mapping[int, tuple[Singles, Singles]], ...]:
        """By the room that sends: who takes in; from its modes, and from its first light."""
        passed: tuple[dict[int, tuple[Singles, Singles]], ...] = tuple({} for _ in self.links)
        for taker, (links, first) in enumerate(zip(self.links, self.link_first, strict=True)):
            for link, by_surface in zip(links, first, strict=True):
                passed[link.sender][taker] = link.by_modes, by_surface
        return passed

    @property
    def days(self) -> int:
        """How many columns are of the day; they come first."""
        return sum(name == "day" for name, _ in self.columns)


def system_of(
    cluster: Cluster, inputs: Sequence[RoomInputs], scenes: Sequence[Scene], outdoor_lux: float
) -> System:
    beams = [
        (place, beam)
        for place, (room, scene) in enumerate(zip(inputs, scenes, strict=True))
        for beam in beams_of(room, scene, outdoor_lux)
    ]
    columns = tuple(sorted({beam.column for _, beam in beams}))
    first = [np.zeros((len(scene.mesh.area_m2), len(columns))) for scene in scenes]
    lumens = np.zeros((len(scenes), len(columns)))
    for place, beam in beams:
        first[place][:, columns.index(beam.column)] += beam.first_lux
        lumens[place, columns.index(beam.column)] += beam.lumens
    planes = [_own_plane(scene, outdoor_lux) for scene in scenes]
    light = First(first, [lux.copy() for lux in first], lumens, planes)
    if cluster.joints:
        _shine_through(cluster, columns, beams, light)
    return made_of(cluster, columns, scenes, light, key_of(inputs))


class First(NamedTuple):
    """First light of rooms: on their patches (N, columns) in lux, coming in, on their planes."""

    lux: Sequence[Floats]
    straight: Sequence[Floats]
    """The same without what linings of openings reflected."""
    lumens: Floats
    """(rooms, columns)."""
    planes: Sequence[Floats] = ()
    """The day's on each cell, lux."""


def made_of(
    cluster: Cluster, columns: tuple[Column, ...], scenes: Sequence[Scene], light: First,
    key: Hashable = (),
) -> System:  # fmt: skip
    """The system of any first light."""
    first = tuple(
        first_light(scene.mesh, enclosures.modes(scene.shape), lux, straight)
        for scene, lux, straight in zip(scenes, light.lux, light.straight, strict=True)
    )
    return System(
        cluster, key, columns, first, tuple(light.lumens), tuple(light.planes), links_of(cluster),
        _first_through(cluster, scenes, light.lux),
        passage(cluster).planes if cluster.joints else None,
    )  # fmt: skip


def _first_through(
    cluster: Cluster, scenes: Sequence[Scene], lux: Sequence[Floats]
) -> tuple[tuple[Singles, ...], ...]:
    """As `System.link_first`, of first light on the patches of each room."""
    made: tuple[list[Singles], ...] = tuple([] for _ in scenes)
    for taker, sender, row, column, square in _both_ways(cluster):
        surface, count = scenes[sender].mesh.surface, len(scenes[sender].shape.surfaces)
        at, size = row * count + surface[column], len(scenes[taker].mesh.surface) * count
        brought = [np.bincount(at, square * of[column], size) for of in lux[sender].T]
        taken = enclosures.modes(cluster.shapes[taker]).on_patches
        each = taken @ single(np.stack(brought)).reshape(len(brought), -1, count)
        made[taker].append(np.ascontiguousarray(each.transpose(1, 2, 0)))
    return tuple(map(tuple, made))


def _both_ways(cluster: Cluster) -> Iterator[tuple[int, int, Ints, Ints, Floats]]:
    """Who takes in and who sends, the patches of both that lines join, and m2."""
    if cluster.joints:
        for (a, b), one, other, square in passage(cluster).pairs:
            if a == b:
                rows, columns = np.concatenate([one, other]), np.concatenate([other, one])
                yield a, a, rows, columns, np.tile(square, 2)
            else:
                yield a, b, one, other, square
                yield b, a, other, one, square


def _shine_through(
    cluster: Cluster, columns: tuple[Column, ...], beams: Sequence[tuple[int, Beam]], light: First
) -> None:
    """Add to first light, in place, what comes straight through openings."""
    on_patches, on_planes = shine(cluster, [(p, beam.emitter) for p, beam in beams])
    power = np.array([beam.emitter.power for _, beam in beams])
    column = np.array([columns.index(beam.column) for _, beam in beams], dtype=np.intp)
    by_day = np.array([beam.emitter.by_day for _, beam in beams])
    gates, wide = gates_of(cluster), len(columns)
    lumens = on_patches.lumens * power[on_patches.emitter]
    at, size = on_patches.place * wide + column[on_patches.emitter], gates.patches[-1] * wide
    every, straight = (
        np.split(np.bincount(at, value, size).reshape(-1, wide), gates.patches[1:-1])
        for value in (lumens, lumens * on_patches.straight)
    )
    value = on_planes.lumens * (power * by_day)[on_planes.emitter]
    onto = np.split(np.bincount(on_planes.place, value, gates.cells[-1]), gates.cells[1:-1])
    for place, came in enumerate(every):
        area = enclosures.enclosure(cluster.shapes[place]).mesh.area_m2[:, None]
        light.lux[place][:] += came / area
        light.straight[place][:] += straight[place] / area
        light.lumens[place] += came.sum(0)
        plane = enclosures.working_plane(cluster.shapes[place])
        if plane is not None:
            light.planes[place][:] += onto[place] / plane.area_m2


def _own_plane(scene: Scene, outdoor_lux: float) -> Floats:
    """The sky's light on the cells of the working plane by the room's own windows, in lux."""
    plane = enclosures.working_plane(scene.shape)
    lux = np.zeros(0 if plane is None else len(plane.area_m2))
    for pane in scene.panes:
        falls = enclosures.skylight(scene.shape, pane.number, pane.outside)
        lux += outdoor_lux * pane.window.transmittance * falls.plane
    return lux


@lru_cache(maxsize=8)
def links_of(cluster: Cluster) -> tuple[tuple[Link, ...], ...]:
    """What each room of a cluster takes in, by its geometry alone."""
    made: tuple[list[Link], ...] = tuple([] for _ in cluster.shapes)
    each = [np.ascontiguousarray(enclosures.modes(s).on_patches.T) for s in cluster.shapes]
    for taker, sender, row, column, square in _both_ways(cluster):
        taken = each[taker].take(row, 0) * single(square)[:, None]
        made[taker].append(Link(sender, single(taken.T @ each[sender].take(column, 0))))
    return tuple(map(tuple, made))


def key_of(rooms: Sequence[RoomInputs]) -> Hashable:
    """What shines in rooms, for telling whether a system still holds."""
    return tuple(
        (
            tuple(each.room.windows.items()), tuple(each.room.lamps.items()), each.north_deg,
            each.latitude_deg, each.ground, each.openings,
        )
        for each in rooms
    )  # fmt: skip
