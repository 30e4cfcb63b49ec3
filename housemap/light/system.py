"""What the light of joined rooms depends on beside their paints: what shines, what is exchanged."""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats, Singles
from housemap.light import enclosures, passages
from housemap.light.inputs import RoomInputs
from housemap.light.passages import OntoPlanes
from housemap.light.radiosity import FirstLight, first_light, single
from housemap.light.scene import Beam, Column, Scene, beams_of
from housemap.light.shine import shine
from housemap.light.tracing import Cluster, gates_of
from housemap.light.view_factors import Ints


class Link(NamedTuple):
    """What a room takes in through openings from another room, or from itself by their linings."""

    sender: int
    by_modes: Singles
    """From the modes of the sender to the modes of the one: (K, K of the sender)."""


@dataclass(frozen=True, eq=False)
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
        passages.passage(cluster).planes if cluster.joints else None,
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
        for (a, b), one, other, square in passages.passage(cluster).pairs:
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
