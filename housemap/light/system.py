"""What the light of joined rooms depends on beside their paints: what shines, what is exchanged."""

from collections.abc import Hashable, Mapping, Sequence
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats, Singles
from housemap.dataclass import dataclass
from housemap.light import enclosures, passages
from housemap.light.inputs import RoomInputs
from housemap.light.mesh import Mesh
from housemap.light.passages import Blocks, Cluster, Entries, Shine
from housemap.light.radiosity import FirstLight, first_light, single
from housemap.light.scene import Beam, Column, Scene, beams_of

TINY_M2 = 1e-12


@dataclass(frozen=True, slots=True, eq=False)
class Link:
    """What a room takes in through openings from another room, or from itself by their linings."""

    sender: int
    patches: Entries
    """m2: (patches of the one, patches of the sender)."""
    by_modes: Singles
    """From the modes of the sender to the modes and the surfaces' means of the one:
    (K + surfaces, K of the sender)."""


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
    """For each link, from first light by surface: (K + surfaces, surfaces, columns)."""
    planes: Blocks
    """(room, sender): what the cells of the room's working plane take in from patches, in m2."""

    def __getstate__(self) -> dict[str, object]:
        """Without what only shows parts of the rest."""
        return {name: value for name, value in vars(self).items() if name != "takers"}

    @cached_property
    def takers(self) -> tuple[Mapping[int, tuple[Singles, Singles]], ...]:
        """By the room that sends: who takes in; from its modes, and from its first light."""
        passed: tuple[dict[int, tuple[Singles, Singles]], ...] = tuple({} for _ in self.links)
        for taker, (links, first) in enumerate(zip(self.links, self.link_first, strict=True)):
            count = len(self.first[taker].bounced)
            for link, by_surface in zip(links, first, strict=True):
                passed[link.sender][taker] = link.by_modes[:count], by_surface[:count]
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
    if cluster.joints:
        _shine_through(cluster, columns, beams, First(first, lumens, planes))
    return made_of(cluster, columns, scenes, First(first, lumens, planes), key_of(inputs))


class First(NamedTuple):
    """First light of rooms: on their patches (N, columns) in lux, coming in, on their planes."""

    lux: Sequence[Floats]
    lumens: Floats
    """(rooms, columns)."""
    planes: Sequence[Floats] = ()
    """The day's on each cell, lux."""


def made_of(
    cluster: Cluster,
    columns: tuple[Column, ...],
    scenes: Sequence[Scene],
    light: First,
    key: Hashable = (),
) -> System:
    """The system of any first light."""
    links = links_of(cluster)
    first = tuple(
        first_light(scene.mesh, enclosures.modes(scene.shape), lux)
        for scene, lux in zip(scenes, light.lux, strict=True)
    )
    link_first = tuple(
        tuple(
            _first_through(link, _taking(cluster, room), scenes[link.sender], light)
            for link in mine
        )
        for room, mine in enumerate(links)
    )
    return System(
        cluster, key, columns, first, tuple(light.lumens), tuple(light.planes), links, link_first,
        passages.passage(cluster).planes if cluster.joints else {},
    )  # fmt: skip


def _first_through(link: Link, taking: Singles, sender: Scene, light: First) -> Singles:
    """To the modes and the means of surfaces, from first light by surface of the sender."""
    lux, surface = light.lux[link.sender], sender.mesh.surface
    shape = len(taking), len(sender.shape.surfaces)
    by_surface = link.patches.by_group(surface, shape[1], lux)
    return np.asarray(taking @ single(by_surface)).reshape(*shape, lux.shape[1])


def _taking(cluster: Cluster, place: int) -> Singles:
    """From m2 times lux on patches to the modes and the means of surfaces: (K + surfaces, N)."""
    modes = enclosures.modes(cluster.shapes[place])
    return np.vstack([modes.on_patches, single(_surface_means(_mesh(cluster, place)))])


def _shine_through(
    cluster: Cluster,
    columns: tuple[Column, ...],
    beams: Sequence[tuple[int, Beam]],
    light: First,
) -> None:
    """Add to first light, in place, what comes straight through openings."""
    on_patches, on_planes = passages.shine(cluster, [(p, beam.emitter) for p, beam in beams])
    power = np.array([beam.emitter.power for _, beam in beams])
    column = np.array([columns.index(beam.column) for _, beam in beams], dtype=np.intp)
    by_day = np.array([beam.emitter.by_day for _, beam in beams])
    for place, lux in enumerate(light.lux):
        came = Shine(*(part[on_patches.room == place] for part in on_patches))
        value, at = came.lumens * power[came.emitter], column[came.emitter]
        flat = np.bincount(came.place * len(columns) + at, value, lux.size)
        lux[:] += flat.reshape(lux.shape) / _mesh(cluster, place).area_m2[:, None]
        light.lumens[place] += np.bincount(at, value, len(columns))
        plane = enclosures.working_plane(cluster.shapes[place])
        if plane is not None:
            came = Shine(*(part[on_planes.room == place] for part in on_planes))
            value = came.lumens * (power * by_day)[came.emitter]
            light.planes[place][:] += (
                np.bincount(came.place, value, len(plane.area_m2)) / plane.area_m2
            )


def _mesh(cluster: Cluster, place: int) -> Mesh:
    return enclosures.enclosure(cluster.shapes[place]).mesh


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
    if cluster.joints:
        taking = [_taking(cluster, place) for place in range(len(cluster.shapes))]
        for (room, sender), block in passages.passage(cluster).patches.items():
            from_modes = block @ enclosures.modes(cluster.shapes[sender]).on_patches.T
            made[room].append(Link(sender, block, taking[room] @ from_modes))
    return tuple(map(tuple, made))


def _surface_means(mesh: Mesh) -> Floats:
    """From m2 times lux on patches to the mean of each surface: (surfaces, N)."""
    on = np.equal(np.arange(len(mesh.surfaces))[:, None], mesh.surface).astype(np.float64)
    return on / np.maximum(mesh.surface_area_m2(), TINY_M2)[:, None]


def key_of(rooms: Sequence[RoomInputs]) -> Hashable:
    """What shines in rooms, for telling whether a system still holds."""
    return tuple(
        (
            tuple(each.room.windows.items()), tuple(each.room.lamps.items()), each.north_deg,
            each.latitude_deg, each.ground, each.openings,
        )
        for each in rooms
    )  # fmt: skip
