"""The light of a whole house: rooms that openings join are one system.

Light that bounces is held as shares of each room's modes. A room's own bounces are solved at once,
band by band; what rooms send each other is passed on room by room until nothing changes (block
Gauss-Seidel), and after an edit only where something does. A room whose light comes out within KEPT
of what it was keeps what was computed for it.
"""

from collections import defaultdict
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

import numpy as np
from scipy import sparse

from housemap.colorimetry.arrays import Floats
from housemap.light import passages, shape_cache, sky, sources
from housemap.light.inputs import RoomInputs, RoomOpening
from housemap.light.mesh import Hole, LampPlace, Mesh, Shape
from housemap.light.passages import Candela, Cluster, Joint, Points, Shine, Source
from housemap.light.radiosity import (
    BRIGHTEST,
    NODES,
    FirstLight,
    Incoming,
    Modes,
    band_light,
    first_light,
    from_surfaces,
)
from housemap.light.room_light import RoomLight, lone_light
from housemap.light.room_scene import (
    LightName,
    Scene,
    facing_kelvin,
    holes_of,
    lamp_place_m,
    outside_of,
    scene_of,
    why_not,
)
from housemap.light.sources import Spectrum
from housemap.light.surface_light import Lit, PlaneLight, lit_together, rows_of, sent_lux
from housemap.light.view_factors import Ints
from housemap.model.house import Aim

GLASS_DOOR_PASSES = 0.8
"""Of the light through a glazed opening between rooms (our assumption)."""
SETTLED = 5e-4
"""A room's light changes by less than this part of its most: it is not passed on."""
KEPT = 2e-3
"""Nor is what was computed of the room computed again."""
TRIED_SETTLED = 2e-3
"""The same while paints are tried."""
SWEEPS = 40
BANDS = 41
LEAST_LUX = 0.05
"""Less than this on the walls, at 10,000 lx outside or from lamps, is no light to see by."""

Column = tuple[LightName, Spectrum]


@dataclass(frozen=True, slots=True, eq=False)
class Link:
    """What a room takes in through one opening from another room (or, off its lining, itself)."""

    opening: int
    """The surface of the opening in the room that takes in."""
    sender: int
    patches: "sparse.csr_array"
    """m2: (patches of the one, patches of the sender)."""
    gathered: Floats
    """To the modes and the surfaces' means of the one: (K + surfaces, patches of the sender)."""
    by_modes: Floats
    """The same from the modes of the sender: (K + surfaces, K of the sender)."""


@dataclass(frozen=True, eq=False)
class System:
    """What the light of a cluster depends on beside paints."""

    cluster: Cluster
    key: Hashable
    """What shines in its rooms."""
    columns: tuple[Column, ...]
    first: tuple[FirstLight, ...]
    """By room; a beam is a column."""
    entering: tuple[Floats, ...]
    """By room, first light that comes in through openings by column: lumens."""
    on_plane: tuple[Floats, ...]
    """By room, the sky's own light on each cell of the working plane: lux."""
    links: tuple[tuple[Link, ...], ...]
    """By the room that takes in."""
    link_first: tuple[tuple[Floats, ...], ...]
    """For each link, from first light by surface: (K + surfaces, surfaces, columns)."""

    @cached_property
    def exchange(self) -> tuple[Mapping[int, Floats], ...]:
        """By the room that sends: who takes in, and from its modes to theirs."""
        passed: tuple[dict[int, Floats], ...] = tuple({} for _ in self.links)
        for taker, links in enumerate(self.links):
            count = len(shape_cache.modes(self.cluster.shapes[taker]).surface)
            for link in links:
                known, by_modes = passed[link.sender], link.by_modes[:count]
                known[taker] = known[taker] + by_modes if taker in known else by_modes
        return passed

    @property
    def days(self) -> int:
        """How many columns are of the day; they come first."""
        return sum(name == "day" for name, _ in self.columns)


@dataclass(frozen=True, eq=False)
class RoomState:
    """One room of a system with its paints."""

    scene: Scene
    modes: Modes
    first: FirstLight

    @cached_property
    def once(self) -> Floats:
        """Of the room's own first light, its first bounce: (K, columns, bands)."""
        return np.tensordot(self.first.bounced, self.scene.reflectance, (1, 0))

    @cached_property
    def reflectance(self) -> Floats:
        """Of each mode's surface: (K, bands)."""
        return np.clip(self.scene.reflectance[self.modes.surface], 0.0, BRIGHTEST)

    @cached_property
    def solved(self) -> Floats:
        """From a first bounce to all of them: (bands, K, K)."""
        bounce = self.modes.exchange * self.reflectance.T[:, None, :]
        return np.asarray(np.linalg.inv(np.eye(bounce.shape[-1]) - bounce))

    def later(self, coming: Floats) -> Floats:
        """All reflected light with what comes in, as shares: (K, columns, bands) each."""
        once = (self.once + coming).transpose(2, 0, 1)
        return np.ascontiguousarray((self.solved @ once).transpose(1, 2, 0))

    def sent(self, later: Floats) -> Floats:
        """What leaves the modes: (K, columns, bands)."""
        return np.asarray(self.reflectance[:, None] * later)


def replace_scene(state: RoomState, scene: Scene) -> RoomState:
    return RoomState(scene, state.modes, state.first)


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """The light of a system with its paints, room by room."""

    system: System
    states: tuple[RoomState, ...]
    later: tuple[Floats, ...]
    coming: tuple[Floats, ...]
    sent: tuple[Floats, ...]
    """What the rooms that take in of each have of it. (K, columns, bands), as the two before."""
    told: tuple[Floats, ...]
    """`later` at the time that each room's light was computed from it."""

    def lit(self, place: int, lumens: Floats) -> dict[LightName, Lit]:
        """The lights of a room; `lumens` come in first, by column."""
        state = self.states[place]
        incoming, entered = _incoming(self, place)
        return lit_together(
            state.scene, state.modes, (state.first, incoming), self.system.columns,
            (lumens, entered),
        )  # fmt: skip


@dataclass(frozen=True, eq=False)
class HouseLight:
    """The light of every room of a house."""

    rooms: Mapping[str, RoomLight]
    scenes: Mapping[str, tuple[RoomInputs, Scene]] = field(default_factory=dict)
    solved: Mapping[tuple[str, ...], Solved] = field(default_factory=dict)
    """By the rooms of each cluster."""
    outdoor_lux: float = sky.OUTDOOR_LUX

    def place_of(self, room: str) -> "Place | None":
        """A room among those that openings join it with; None where none does."""
        for group, solved in self.solved.items():
            if room in group:
                return Place(solved, group.index(room))
        return None


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """A room in the light of its cluster."""

    solved: "Solved"
    number: int

    def total(self, scene: Scene, outdoor_lux: float) -> tuple[Floats, float]:
        """The room's light by row, column and band if it were painted as in `scene`.

        And the daylight factor that half of its working plane then has.
        """
        system = self.solved.system
        states = list(self.solved.states)
        states[self.number] = replace_scene(states[self.number], scene)
        solved = _solve(system, states, self.solved, TRIED_SETTLED)
        incoming, _ = _incoming(solved, self.number)
        rows = rows_of(scene)
        means = rows.of_surfaces(scene.mesh)
        incoming = replace(incoming, on_rows=np.tensordot(means, incoming.on_rows, 1))
        state = states[self.number]
        lit = scene.reflectance, state.first
        total = band_light(scene.mesh, state.modes, rows, lit, incoming).total
        plane = _plane_light(solved, self.number, outdoor_lux)
        return total, plane.median if plane else 0.0


def house_light(
    inputs: Mapping[str, RoomInputs],
    outdoor_lux: float = sky.OUTDOOR_LUX,
    before: HouseLight | None = None,
) -> HouseLight:
    """The light of the rooms of a house, openings passing light both ways.

    `before` is the light of the house before an edit: what the edit hardly changes is kept, the
    same objects. Raises ColourError for a lamp whose spectrum is no CIE illuminant.
    """
    same_sky = before is not None and before.outdoor_lux == outdoor_lux
    known = before if before and same_sky else HouseLight({}, {}, {}, outdoor_lux)
    fitted = _fitted(inputs)
    scenes = {
        room: known.scenes[room]
        if room in known.scenes and known.scenes[room][0] == each
        else (each, scene_of(each, outdoor_lux))
        for room, each in fitted.items()
        if why_not(each.room) is None
    }
    groups = groups_of({room: scene for room, (_, scene) in scenes.items()}, fitted)
    lights: dict[str, RoomLight] = {}
    solved: dict[tuple[str, ...], Solved] = {}
    for group, joints in groups:
        if not joints or not any(_columns(scenes[room][1]) for room in group):
            for room in group:
                lights[room] = _alone(room, scenes[room], known, outdoor_lux)
            continue
        made, solved[group] = _together(group, joints, scenes, known)
        lights |= made
    for room, each in fitted.items():
        if room not in scenes:
            lights[room] = known.rooms.get(room) or lone_light(each, outdoor_lux)
            if lights[room].inputs != each:
                lights[room] = lone_light(each, outdoor_lux)
    return HouseLight({room: lights[room] for room in inputs}, scenes, solved, outdoor_lux)


def _alone(
    room: str, scene: tuple[RoomInputs, Scene], known: HouseLight, outdoor_lux: float
) -> RoomLight:
    before = known.rooms.get(room)
    single = all(room not in group for group in known.solved)
    if before and single and before.inputs == scene[0]:
        return before
    return lone_light(scene[0], outdoor_lux, scene[1])


# Which rooms are joined


def _fitted(inputs: Mapping[str, RoomInputs]) -> dict[str, RoomInputs]:
    """Both sides of each opening as large as the smaller; a stairwell with one side is none."""
    sides: defaultdict[str, list[tuple[str, RoomOpening, float, float]]] = defaultdict(list)
    for room, each in inputs.items():
        if why_not(each.room) is None:
            holes = holes_of(each)
            named = {hole.name: hole for hole in holes.all}
            for name, opening in holes.openings.items():
                sides[opening.name].append((room, opening, *_size(named[name])))
    changed: defaultdict[str, dict[str, RoomOpening | None]] = defaultdict(dict)
    for name, both in sides.items():
        if len(both) == 1 and both[0][1].wall in {"floor", "ceiling"}:
            changed[both[0][0]][name] = None
        most = min(b[2] for b in both), min(b[3] for b in both)
        for room, opening, width, height in both:
            if len(both) > 1 and (width > most[0] + FIT_M or height > most[1] + FIT_M):
                changed[room][name] = replace(opening, most_m=most)
    return {
        room: _with_openings(each, changed[room]) if room in changed else each
        for room, each in inputs.items()
    }


FIT_M = 1e-6


def _size(hole: Hole) -> tuple[float, float]:
    return hole.width_m, hole.height_m


def _with_openings(inputs: RoomInputs, changed: Mapping[str, RoomOpening | None]) -> RoomInputs:
    openings = (changed.get(each.name, each) for each in inputs.openings)
    return replace(inputs, openings=tuple(each for each in openings if each))


Group = tuple[tuple[str, ...], tuple[tuple[Joint, str], ...]]
"""Rooms, and what joins them, by places in the group."""


def groups_of(scenes: Mapping[str, Scene], inputs: Mapping[str, RoomInputs]) -> list[Group]:
    """The rooms that openings join, in the order of the house."""
    ways: defaultdict[str, list[tuple[str, RoomOpening, int]]] = defaultdict(list)
    for room, scene in scenes.items():
        by_hole = {f"opening {each.name}": each for each in inputs[room].openings}
        for index, hole in enumerate(scene.shape.holes):
            opening = by_hole.get(hole.name)
            if opening is not None and opening.closed != "door":
                ways[opening.name].append((room, opening, index))
    joined = {name: both for name, both in ways.items() if len(both) == 2}  # noqa: PLR2004
    root = {room: room for room in scenes}

    def top(room: str) -> str:
        while root[room] != room:
            room = root[room]
        return room

    for (first, _, _), (second, _, _) in joined.values():
        root[top(second)] = top(first)
    members: defaultdict[str, list[str]] = defaultdict(list)
    for room in scenes:
        members[top(room)].append(room)
    return [_group(tuple(rooms), joined) for rooms in members.values()]


def _group(
    rooms: tuple[str, ...], joined: Mapping[str, Sequence[tuple[str, RoomOpening, int]]]
) -> Group:
    place = {room: number for number, room in enumerate(rooms)}
    joints = [
        (
            Joint(
                (place[a], place[b]), (hole_a, hole_b), opening.depth_m,
                GLASS_DOOR_PASSES if opening.closed == "glass" else 1.0,
            ),
            name,
        )
        for name, ((a, opening, hole_a), (b, _, hole_b)) in joined.items()
        if a in place
    ]  # fmt: skip
    return rooms, tuple(joints)


# What a cluster is without its paints


def _together(
    group: tuple[str, ...],
    joints: Sequence[tuple[Joint, str]],
    scenes: Mapping[str, tuple[RoomInputs, Scene]],
    known: HouseLight,
) -> tuple[dict[str, RoomLight], Solved]:
    mine = [scenes[room] for room in group]
    cluster = Cluster(
        tuple(scene.shape.nameless() for _, scene in mine), tuple(joint for joint, _ in joints)
    )
    before = known.solved.get(group)
    key = tuple(_shining(inputs) for inputs, _ in mine)
    if before is not None and (before.system.cluster, before.system.key) != (cluster, key):
        before = None
    system = before.system if before else _system(cluster, key, mine, known.outdoor_lux)
    solved = _solve(system, _states(system, mine, before), before)
    lights, told = {}, []
    for place, room in enumerate(group):
        old = known.rooms.get(room) if before else None
        if old and before and _kept(solved, before, place, old, mine[place]):
            lights[room] = old
            told.append(before.told[place])
            continue
        lights[room] = _room_light(solved, place, mine[place], known.outdoor_lux)
        told.append(solved.later[place])
    return lights, replace(solved, told=tuple(told))


def _shining(inputs: RoomInputs) -> Hashable:
    room = inputs.room
    return (
        tuple(room.windows.items()), tuple(room.lamps.items()), inputs.north_deg,
        inputs.latitude_deg,
    )  # fmt: skip


def _system(
    cluster: Cluster,
    key: Hashable,
    rooms: Sequence[tuple[RoomInputs, Scene]],
    outdoor_lux: float,
) -> System:
    scenes = [scene for _, scene in rooms]
    columns = tuple(sorted({column for scene in scenes for column in _columns(scene)}))
    shining = [each for place, room in enumerate(rooms) for each in _sources(place, *room)]
    power = np.array([
        each.lumens or outdoor_lux * each.passes for each in shining
    ])  # fmt: skip
    at = np.array([columns.index(each.column) for each in shining], dtype=np.intp)
    on_patches, on_planes = passages.shine(cluster, [each.source for each in shining])
    first = [_own_first(scene, columns) for scene in scenes]
    entering = [np.zeros(len(columns)) for _ in scenes]
    for place, scene in enumerate(scenes):
        came = on_patches.room == place
        lumens = on_patches.lumens[came] * power[on_patches.source[came]]
        column = at[on_patches.source[came]]
        first[place] += (
            _summed(on_patches.place[came], column, lumens, first[place].shape)
            / (scene.mesh.area_m2[:, None])
        )
        entering[place] = np.asarray(np.bincount(column, lumens, len(columns)), np.float64)
    by_day = np.array([each.column[0] == "day" for each in shining], dtype=bool)
    planes = tuple(
        _on_plane(place, scene, on_planes, power * by_day, outdoor_lux)
        for place, scene in enumerate(scenes)
    )
    links = links_of(cluster)
    return System(
        cluster, key, columns, _bounced(scenes, first), tuple(entering), planes, links,
        tuple(tuple(_from_first(link, scenes, first) for link in mine) for mine in links),
    )  # fmt: skip


def light_from(
    cluster: Cluster,
    rooms: Sequence[tuple[RoomInputs, Scene]],
    columns: tuple[Column, ...],
    first: Sequence[Floats],
) -> "Solved":
    """The bounces of any first light in the rooms of a cluster: (N, columns) by room."""
    links = links_of(cluster)
    scenes = [scene for _, scene in rooms]
    nothing = tuple(np.zeros(len(columns)) for _ in rooms)
    system = System(
        cluster, (), columns, _bounced(scenes, first), nothing, nothing, links,
        tuple(tuple(_from_first(link, scenes, first) for link in mine) for mine in links),
    )  # fmt: skip
    return _solve(system, _states(system, rooms, None), None)


def _columns(scene: Scene) -> list[Column]:
    names: tuple[LightName, ...] = ("day", "evening")
    return [(name, beam.spectrum) for name in names for beam in scene.beams(name)]


def _own_first(scene: Scene, columns: Sequence[Column]) -> Floats:
    first = np.zeros((len(scene.mesh.area_m2), len(columns)))
    names: tuple[LightName, ...] = ("day", "evening")
    for name in names:
        for beam in scene.beams(name):
            first[:, columns.index((name, beam.spectrum))] += beam.first_lux
    return first


def _summed(row: Ints, column: Ints, value: Floats, shape: tuple[int, ...]) -> Floats:
    count = shape[0] * shape[1]
    return np.asarray(np.bincount(row * shape[1] + column, value, count).reshape(shape))


@dataclass(frozen=True, slots=True, eq=False)
class _Shining:
    source: Source
    column: Column
    lumens: float
    """Of a lamp; 0 of a window."""
    passes: float


def _sources(place: int, inputs: RoomInputs, scene: Scene) -> list[_Shining]:
    """The windows and lamps of a room; none in a room without an opening that shines no light."""
    found = []
    for hole, window in scene.windows.items():
        kelvin = window.kelvin or facing_kelvin(inputs, window)
        points = _on_window(scene.shape, hole)
        out = passages.frame(scene.shape, hole)[1][2]
        candela = _window_candela(hole, out, outside_of(window))
        source = Source(place, points, candela, passages.WINDOW_LINES)
        column: Column = ("day", sources.daylight(kelvin))
        if window.transmittance > 0.0 and sky.glass_share(outside_of(window)) > 0.0:
            found.append(_Shining(source, column, 0.0, window.transmittance))
    for lamp in inputs.room.lamps.values():
        at = lamp_place_m(inputs.room, lamp)
        source = Source(place, _at(at), _lamp_candela(lamp.aim), passages.LAMP_LINES)
        column = ("evening", sources.lamp(lamp.kelvin, lamp.spectrum, lamp.power))
        if lamp.lumens > 0.0:
            found.append(_Shining(source, column, lamp.lumens, 1.0))
    return found


def _on_window(shape: Shape, hole: Hole) -> Points:
    corner, axes = passages.frame(shape, hole)
    along, up = axes[0] * hole.width_m, axes[1] * hole.height_m
    return lambda uniform: corner + uniform[:, :1] * along + uniform[:, 1:] * up


def _window_candela(hole: Hole, out: Floats, outside: sky.Outside) -> Candela:
    area = hole.width_m * hole.height_m

    def candela(toward: Floats) -> Floats:
        ahead = -(toward @ out)
        shine = sky.outside_luminance(outside, -toward[:, 2], ahead)
        return np.asarray(area * shine * np.maximum(ahead, 0.0))

    return candela


def _at(at_m: LampPlace) -> Points:
    return lambda uniform: np.tile(at_m, (len(uniform), 1))


def _lamp_candela(aim: Aim) -> Candela:
    if aim == "all":
        return lambda toward: np.full(len(toward), 0.25 / np.pi)
    way = -1.0 if aim == "down" else 1.0
    return lambda toward: np.maximum(way * toward[:, 2], 0.0) / np.pi


def _on_plane(place: int, scene: Scene, shine: Shine, power: Floats, outdoor_lux: float) -> Floats:
    """The sky's own light on the cells of the working plane, its own windows' and others'."""
    plane = shape_cache.working_plane(scene.shape)
    if plane is None:
        return np.zeros(0)
    came = shine.room == place
    lumens = shine.lumens[came] * power[shine.source[came]]
    lux = np.bincount(shine.place[came], lumens, len(plane.area_m2)) / plane.area_m2
    for hole, window in scene.windows.items():
        falls = shape_cache.window_skylight(scene.shape, hole, outside_of(window))
        lux = lux + outdoor_lux * window.transmittance * falls.plane
    return np.asarray(lux)


@lru_cache(maxsize=8)
def links_of(cluster: Cluster) -> tuple[tuple[Link, ...], ...]:
    """What each room of a cluster takes in, by its geometry alone."""
    meshes = [shape_cache.enclosure(shape).mesh for shape in cluster.shapes]
    modes = [shape_cache.modes(shape) for shape in cluster.shapes]
    taking = [
        np.vstack([m.on_patches, _surface_means(k)]) for m, k in zip(modes, meshes, strict=True)
    ]
    made: list[list[Link]] = [[] for _ in cluster.shapes]
    for (room, gate, sender), block in passages.passage(cluster).patches.items():
        joint = cluster.joints[gate // 2]
        opening = 2 + len(cluster.shapes[room].wall_keys) + joint.holes[gate % 2]
        gathered = np.asarray((block.T @ taking[room].T).T)
        by_modes = gathered @ modes[sender].on_patches.T
        made[room].append(Link(opening, sender, block, gathered, by_modes))
    return tuple(tuple(each) for each in made)


def _surface_means(mesh: Mesh) -> Floats:
    """From m2 times lux on patches to the mean of each surface: (surfaces, N)."""
    on = np.equal(np.arange(len(mesh.surfaces))[:, None], mesh.surface).astype(np.float64)
    return on / np.maximum(mesh.surface_area_m2(), TINY_M2)[:, None]


TINY_M2 = 1e-12


def _from_first(link: Link, scenes: Sequence[Scene], first: Sequence[Floats]) -> Floats:
    """What reaches a room of a sender's first light, by the sender's surfaces, were they white."""
    return from_surfaces(scenes[link.sender].mesh, link.gathered, first[link.sender])


def _bounced(scenes: Sequence[Scene], first: Sequence[Floats]) -> tuple[FirstLight, ...]:
    return tuple(
        first_light(scene.mesh, shape_cache.modes(scene.shape), lux)
        for scene, lux in zip(scenes, first, strict=True)
    )


# The solution


def _states(
    system: System, rooms: Sequence[tuple[RoomInputs, Scene]], before: "Solved | None"
) -> list[RoomState]:
    return [
        before.states[place]
        if before and before.states[place].scene is scene
        else RoomState(scene, shape_cache.modes(scene.shape), system.first[place])
        for place, (_, scene) in enumerate(rooms)
    ]


def _solve(
    system: System,
    states: Sequence[RoomState],
    before: "Solved | None",
    settled: float = SETTLED,
) -> "Solved":
    """Block Gauss-Seidel over the rooms, from `before` where only some rooms' paints differ.

    Only changes are passed on, and a room is solved only where one has come in.
    """
    known = before or _dark(system, states)
    later, coming, sent = list(known.later), list(known.coming), list(known.sent)
    stale: set[int] = set()
    for place, (state, old) in enumerate(zip(states, known.states, strict=True)):
        if state is not old:
            change = state.scene.reflectance - old.scene.reflectance
            stale |= {place} | _pass_first(system, place, change, coming)
    for _ in range(SWEEPS):
        for place in range(len(states)):
            if place not in stale:
                continue
            stale.remove(place)
            later[place] = states[place].later(coming[place])
            sending = states[place].sent(later[place])
            if _differ(system, sending, sent[place]) > settled:
                stale |= _pass_on(system, place, sending - sent[place], coming)
                sent[place] = sending
        if not stale:
            break
    return Solved(system, tuple(states), tuple(later), tuple(coming), tuple(sent), ())


def _dark(system: System, states: Sequence[RoomState]) -> "Solved":
    """A system in which no light has been reflected yet."""
    black = [
        replace_scene(each, replace(each.scene, reflectance=np.zeros_like(each.scene.reflectance)))
        for each in states
    ]
    none = tuple(np.zeros_like(each.once) for each in states)
    return Solved(system, tuple(black), none, none, none, ())


def _pass_on(system: System, place: int, change: Floats, coming: list[Floats]) -> set[int]:
    """Add a change of what a room sends, (K, columns, bands), to what comes in elsewhere: where."""
    for taker, by_modes in system.exchange[place].items():
        came = by_modes @ change.reshape(len(change), -1)
        coming[taker] = coming[taker] + came.reshape(coming[taker].shape)
    return set(system.exchange[place])


def _pass_first(system: System, place: int, change: Floats, coming: list[Floats]) -> set[int]:
    """The same of a room's first light after a bounce there; of its reflectances the change."""
    for taker in system.exchange[place]:
        for link, first in zip(system.links[taker], system.link_first[taker], strict=True):
            if link.sender == place:
                came = np.tensordot(first[: len(coming[taker])], change, (1, 0))
                coming[taker] = coming[taker] + came
    return set(system.exchange[place])


def _through(link: Link, first: Floats, sender: RoomState, later: Floats, rows: slice) -> Floats:
    """Of one link: (rows, columns, bands)."""
    sent = sender.sent(later).reshape(len(later), -1)
    bounced = (link.by_modes[rows] @ sent).reshape(-1, *later.shape[1:])
    return np.asarray(bounced + np.tensordot(first[rows], sender.scene.reflectance, (1, 0)))


def _differ(system: System, new: Floats, old: Floats) -> float:
    """The largest change of a share, as a part of the largest share under the same light."""
    worst = 0.0
    for part in (slice(0, system.days), slice(system.days, None)):
        most = np.abs(new[:, part]).max(initial=0.0)
        if most > 0.0:
            worst = max(worst, float(np.abs(new[:, part] - old[:, part]).max() / most))
    return worst


# The light of one room of it


def _kept(
    solved: Solved, before: Solved, place: int, old: RoomLight, room: tuple[RoomInputs, Scene]
) -> bool:
    """Whether what was computed of a room still holds."""
    if solved.states[place] is not before.states[place] or old.inputs != room[0]:
        return False
    return _differ(solved.system, solved.later[place], before.told[place]) <= KEPT


def _room_light(
    solved: Solved, place: int, room: tuple[RoomInputs, Scene], outdoor_lux: float
) -> RoomLight:
    inputs, scene = room
    system = solved.system
    own = _own_lumens(scene, system.columns)
    light = solved.lit(place, own + system.entering[place])
    scale = max(outdoor_lux / sky.OUTDOOR_LUX, 1e-9)
    seen: dict[LightName, Lit] = {
        name: each
        for name, each in light.items()
        if each.total_lux("walls") > LEAST_LUX * (scale if name == "day" else 1.0)
    }
    factor = scene.daylight_factor()
    plane = _plane_light(solved, place, outdoor_lux) if "day" in seen else None
    return RoomLight(
        inputs,
        outdoor_lux,
        lights=seen,
        daylight=factor if scene.windows else None,
        plane=plane,
        mean_reflectance=factor.mean_reflectance,
        notes=scene.notes,
    )


def _own_lumens(scene: Scene, columns: Sequence[Column]) -> Floats:
    lumens = np.zeros(len(columns))
    names: tuple[LightName, ...] = ("day", "evening")
    for name in names:
        for beam in scene.beams(name):
            lumens[columns.index((name, beam.spectrum))] += beam.lumens
    return lumens


def _incoming(solved: Solved, place: int) -> tuple[Incoming, Floats]:
    """What has bounced elsewhere and comes in, and its lumens by column and band."""
    system, state = solved.system, solved.states[place]
    mesh, count = state.scene.mesh, len(state.modes.surface)
    surfaces = len(mesh.surfaces)
    by_opening = np.zeros((surfaces, surfaces, len(system.columns), BANDS))
    at_nodes = np.zeros((len(mesh.area_m2), len(system.columns), len(NODES)))
    for link, first in zip(system.links[place], system.link_first[place], strict=True):
        sender, later = solved.states[link.sender], solved.later[link.sender]
        by_opening[:, link.opening] += _through(link, first, sender, later, slice(count, None))
        at_nodes += _on_patches(link, sender, later) / mesh.area_m2[:, None, None]
    entered = np.einsum("s,socb->cb", mesh.surface_area_m2(), by_opening)
    later, coming = solved.later[place], solved.coming[place]
    return Incoming(later, coming, by_opening, at_nodes), entered


def _on_patches(link: Link, sender: RoomState, later: Floats) -> Floats:
    """m2 times lux on the patches of the room, at NODES."""
    shape = (len(sender.first.lux), *later.shape[1:2], len(NODES))
    bounced = later[..., NODES].reshape(len(later), -1)
    lux = (sender.modes.on_patches.T @ bounced).reshape(shape) + sender.first.lux[..., None]
    sent = sender.scene.reflectance[sender.scene.mesh.surface][:, None, NODES] * lux
    return np.asarray(link.patches @ sent.reshape(len(sent), -1)).reshape(-1, *shape[1:])


def _plane_light(solved: Solved, place: int, outdoor_lux: float) -> PlaneLight | None:
    """The daylight factor on each cell of the working plane."""
    system = solved.system
    plane = shape_cache.working_plane(system.cluster.shapes[place])
    if plane is None or outdoor_lux <= 0.0:
        return None
    square = plane.exchange_m2 @ _sent_by_day(solved, place)
    for (room, sender), block in passages.passage(system.cluster).planes.items():
        if room == place:
            square = square + block @ _sent_by_day(solved, sender)
    lux = system.on_plane[place] + square / plane.area_m2
    return PlaneLight(100.0 * lux / outdoor_lux, plane.area_m2)


def _sent_by_day(solved: Solved, place: int) -> Floats:
    """Lux that leave each patch under the light of the day."""
    columns = solved.system.columns
    return sent_lux(
        solved.states[place].scene, solved.states[place].modes,
        [i for i, (light, _) in enumerate(columns) if light == "day"],
        [spectrum for _, spectrum in columns],
        (solved.states[place].first.lux, solved.later[place]),
    )  # fmt: skip
