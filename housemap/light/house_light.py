"""The light of a whole house: rooms that openings join are one system.

Light that bounces is held as shares of each room's modes. A room's own bounces are solved at once,
band by band; what rooms send each other is passed on room by room until nothing changes (block
Gauss-Seidel), and after an edit only where something does. A room whose light comes out within KEPT
of what it was keeps what was computed for it.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property, lru_cache
from operator import is_
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats, Singles
from housemap.file import kept
from housemap.file.processes import begin_apart
from housemap.light import enclosures, sky, surface_light
from housemap.light.inputs import RoomInputs, RoomOpening
from housemap.light.mesh import Hole
from housemap.light.radiosity import BRIGHTEST, Bounced, FirstLight, Modes, band_light, single
from housemap.light.room_light import RoomLight, room_light, unlit
from housemap.light.scene import (
    GLASS_DOOR_PASSES,
    LightName,
    Scene,
    has_light,
    holes_of,
    scene_of,
    why_not,
)
from housemap.light.surface_light import KeptRoom, Lit, PlaneLight, lights_of, rows_of, sent_lux
from housemap.light.system import System, key_of, system_of
from housemap.light.tracing import Cluster, Joint
from housemap.model.frozen import frozen
from housemap.model.grouping import grouped

SETTLED = 1e-3
"""A room's light changes by less than this part of its most: it is not passed on."""
KEPT = 3e-3
"""Nor is what was computed of the room computed again."""
TRIED_SETTLED = 3e-3
"""The same while paints are tried."""
SWEEPS = 40
INVERSES = 48
"""Of the bounces of a room, kept at once; about 0.3 MB each."""
LEAST_LUX = 0.05
"""Less than this on the walls, at 10,000 lx outside or from lamps, is no light to see by."""


@frozen(eq=False)
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

    def later(self, coming: Floats) -> Floats:
        """All reflected light with what comes in, as shares: (K, columns, bands) each."""
        once = (self.once + coming).transpose(2, 0, 1)
        return np.ascontiguousarray((_solved(self) @ single(once)).transpose(1, 2, 0), np.float64)

    def sent(self, later: Floats) -> Floats:
        """What leaves the modes: (K, columns, bands)."""
        return np.asarray(self.reflectance[:, None] * later)


@lru_cache(maxsize=INVERSES)
def _solved(state: RoomState) -> Singles:
    """From a first bounce to all of them: (bands, K, K)."""
    bounce = single(state.modes.exchange * state.reflectance.T[:, None, :])
    return np.asarray(np.linalg.inv(np.eye(bounce.shape[-1], dtype=np.float32) - bounce))


@frozen(eq=False)
class Solved:
    """The light of a system with its paints, room by room."""

    system: System
    states: tuple[RoomState, ...]
    later: tuple[Floats, ...]
    coming: tuple[Floats, ...]
    sent: tuple[Floats, ...]
    """What the rooms that take in of each have of it. (K, columns, bands), as the two before."""
    shown: tuple[Floats, ...]
    """`later` at the time that each room's light was computed from it."""
    corrections: tuple[Floats | None, ...]
    """Of each room (see `band_light`), where it is known."""
    by_day: dict[int, Singles] = field(default_factory=dict)
    """Lux by day that leave the patches of the rooms that were asked for: (N,)."""

    def lights(
        self, place: int, correction: Floats | None = None
    ) -> tuple[dict[LightName, Lit], Floats]:
        """The lights of a room, and their correction, which may be known."""
        state, system = self.states[place], self.system
        bounced = self.bounced(place, correction)
        areas = state.scene.mesh.surface_area_m2()
        even = np.sqrt(areas)[:, None, None] * bounced.coming[state.modes.starts]
        return lights_of(
            state.scene, state.modes, (state.first, bounced), system.columns,
            (system.lumens[place], even.sum(0)),
        )  # fmt: skip

    def bounced(self, place: int, correction: Floats | None = None) -> Bounced:
        return Bounced(self.later[place], self.coming[place], correction)

    def plane_light(self, place: int, outdoor_lux: float) -> PlaneLight | None:
        """The daylight factor on each cell of the working plane."""
        system = self.system
        plane = enclosures.working_plane(system.cluster.shapes[place])
        if plane is None or outdoor_lux <= 0.0:
            return None
        square = plane.exchange_m2 @ self._sent_by_day(place) + self._onto_planes[place]
        lux = system.on_plane[place] + square / plane.area_m2
        return PlaneLight(100.0 * lux / outdoor_lux, plane.area_m2)

    @cached_property
    def _onto_planes(self) -> list[Floats]:
        """What comes through openings onto the working plane of each room by day: lm."""
        system = self.system
        if system.planes is None:
            return [np.zeros(1)] * len(self.states)
        sent = np.concatenate([self._sent_by_day(place) for place in range(len(self.states))])
        *firsts, count = np.cumsum([len(lux) for lux in system.on_plane])
        return np.split(system.planes.lumens(sent, count), firsts)

    def _sent_by_day(self, place: int) -> Singles:
        """Lux that leave each patch under the light of the day: (N,)."""
        if place not in self.by_day:
            state = self.states[place]
            spectra = [spectrum for _, spectrum in self.system.columns[: self.system.days]]
            light = state.first.lux, self.later[place]
            sent = sent_lux(state.scene, state.modes, spectra, light)
            self.by_day[place] = single(sent)
        return self.by_day[place]


@frozen(eq=False)
class HouseLight:
    rooms: Mapping[str, RoomLight]
    scenes: Mapping[str, tuple[RoomInputs, Scene]] = field(default_factory=dict)
    joined: Mapping[tuple[str, ...], "Joined"] = field(default_factory=dict)
    """By the rooms of each cluster that has any light."""
    outdoor_lux: float = sky.OUTDOOR_LUX

    @property
    def solved(self) -> list[Solved]:
        """What an edit starts from, of each that is joined."""
        return [joined.solved for joined in self.joined.values()]

    def know(self, solved: Sequence[Solved]) -> None:
        """Take what `solved` was in another process, where it is not known yet."""
        for joined, each in zip(self.joined.values(), solved, strict=True):
            vars(joined).setdefault("solved", each)

    def place_of(self, room: str) -> "Place | None":
        """A room among those that openings join it with; None where none has light."""
        for group, joined in self.joined.items():
            if room in group:
                return Place(joined.solved, group.index(room))
        return None


class Place(NamedTuple):
    """A room in the light of its cluster."""

    solved: "Solved"
    number: int

    def total(self, scene: Scene, outdoor_lux: float) -> tuple[Floats, float]:
        """The room's light by row, column and band if it were painted as in `scene`.

        And the daylight factor that half of its working plane then has.
        """
        states = list(self.solved.states)
        states[self.number] = state = replace(states[self.number], scene=scene)
        solved = _solve(self.solved.system, states, self.solved, TRIED_SETTLED)
        lit = scene.reflectance, state.first
        bounced = solved.bounced(self.number)
        total = band_light(scene.mesh, state.modes, rows_of(scene), lit, bounced).total
        plane = solved.plane_light(self.number, outdoor_lux)
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
        else (each, scene_of(each))
        for room, each in fitted.items()
        if why_not(each.room) is None
    }
    joined: dict[tuple[str, ...], Joined] = {}
    for group, joints in groups_of({room: scene for room, (_, scene) in scenes.items()}, fitted):
        if any(has_light(*scenes[room], outdoor_lux) for room in group):
            inside, own = zip(*(scenes[room] for room in group), strict=True)
            cluster = Cluster(tuple(scene.shape for scene in own), joints)
            joined[group] = Joined(cluster, inside, own, outdoor_lux)
    _share_out([each for group, each in joined.items() if group not in known.joined])
    lights: dict[str, RoomLight] = {}
    for group, each in joined.items():
        made, joined[group] = _lit(group, each, known)
        lights |= made
    for room in inputs.keys() - lights.keys():
        old, scene = known.rooms.get(room), scenes.get(room)
        kept = old is not None and not old.lights and old.inputs == fitted[room]
        lights[room] = old if old and kept else unlit(fitted[room], outdoor_lux, scene and scene[1])
    return HouseLight({room: lights[room] for room in inputs}, scenes, joined, outdoor_lux)


# Which rooms are joined


def _fitted(inputs: Mapping[str, RoomInputs]) -> dict[str, RoomInputs]:
    """Both sides of each opening as large as the smaller; a stairwell with one side is none."""
    fitted = dict(inputs)
    sides: defaultdict[str, list[tuple[str, RoomOpening, Hole]]] = defaultdict(list)
    for room, each in inputs.items():
        if why_not(each.room) is None:
            holes = holes_of(each)
            named = {hole.name: hole for hole in holes.all}
            for name, opening in holes.openings.items():
                sides[opening.name].append((room, opening, named[name]))
    for both in sides.values():
        most = min(hole.width_m for *_, hole in both), min(hole.height_m for *_, hole in both)
        for room, opening, hole in both:
            alone = len(both) == 1 and opening.wall in {"floor", "ceiling"}
            if alone or hole.width_m > most[0] + FIT_M or hole.height_m > most[1] + FIT_M:
                new, every = None if alone else opening._replace(most_m=most), fitted[room].openings
                openings = (new if each.name == opening.name else each for each in every)
                fitted[room] = fitted[room]._replace(openings=tuple(filter(None, openings)))
    return fitted


FIT_M = 1e-6


Group = tuple[tuple[str, ...], tuple[Joint, ...]]
"""Rooms, and what joins them, by places in the group."""


def groups_of(scenes: Mapping[str, Scene], inputs: Mapping[str, RoomInputs]) -> list[Group]:
    """The rooms that openings join, by name: the order of a file shall not spread lines anew."""
    ways = grouped(
        (opening.name, (room, opening, index))
        for room, scene in sorted(scenes.items())
        for index, hole in enumerate(scene.shape.holes)
        for opening in inputs[room].openings
        if hole.name == f"opening {opening.name}" and opening.closed != "door"
    )
    joined = {name: both for name, both in ways.items() if len(both) == 2}  # noqa: PLR2004
    root = {room: room for room in scenes}

    def top(room: str) -> str:
        while root[room] != room:
            room = root[room]
        return room

    for (first, _, _), (second, _, _) in joined.values():
        root[top(second)] = top(first)
    members = grouped((top(room), room) for room in sorted(scenes))
    return [_group(tuple(rooms), joined) for rooms in members.values()]


def _group(
    rooms: tuple[str, ...], joined: Mapping[str, Sequence[tuple[str, RoomOpening, int]]]
) -> Group:
    place = {room: number for number, room in enumerate(rooms)}
    return rooms, tuple(
        Joint(
            (place[a], place[b]), (hole_a, hole_b), opening.depth_m,
            GLASS_DOOR_PASSES if opening.closed == "glass" else 1.0,
        )
        for (a, opening, hole_a), (b, _, hole_b) in joined.values()
        if a in place
    )  # fmt: skip


# The solution


def light_from(system: System, scenes: Sequence[Scene]) -> Solved:
    """The bounces of any first light in the rooms of a system."""
    states = [
        RoomState(scene, enclosures.modes(scene.shape), first)
        for scene, first in zip(scenes, system.first, strict=True)
    ]
    return _solve(system, states, None)


@frozen(eq=False)
class Joined:
    """Rooms that openings join, in their paints."""

    cluster: Cluster
    inputs: tuple[RoomInputs, ...]
    scenes: tuple[Scene, ...]
    outdoor_lux: float
    found: Solved | None = None

    def __reduce__(self) -> tuple[object, ...]:
        """Pickled as it is known from the cache: without what only an edit needs."""
        return Joined, (self.cluster, self.inputs, self.scenes, self.outdoor_lux)

    @cached_property
    def solved(self) -> Solved:
        """Computed when asked for, where the light of the rooms was known from before."""
        if self.found:
            return self.found
        system = system_of(self.cluster, self.inputs, self.scenes, self.outdoor_lux)
        return light_from(system, self.scenes)

    def differs_in_paints(self, other: "Joined") -> bool:
        """And in nothing else."""
        mine, others = key_of(self.inputs), key_of(other.inputs)
        return (self.cluster, mine) == (other.cluster, others)

    @cached_property
    def key(self) -> str:
        """Of all that its light depends on, for the cache."""
        return surface_light.key_of(
            self.scenes, (self.cluster, key_of(self.inputs), self.outdoor_lux)
        )

    @cached_property
    def known(self) -> list[KeptRoom] | None:
        """The light of each room as it was kept, or as another process has computed it."""
        data = kept.recall(self.key)
        return surface_light.unpacked(data, self.scenes) if data else None

    @cached_property
    def lights(self) -> tuple[list[KeptRoom], "Joined"]:
        """Of each room as it is known, else computed and kept now."""
        if self.known is not None:
            return self.known, self
        solved, every = self.solved, range(len(self.scenes))
        each, corrections = zip(*(solved.lights(place) for place in every), strict=True)
        planes = [solved.plane_light(place, self.outdoor_lux) for place in every]
        lit = [*zip(each, planes, strict=True)]
        kept.keep(self.key, surface_light.packed(lit))
        found = replace(solved, shown=solved.later, corrections=corrections)
        return lit, replace(self, found=found)


WORTH_ROOMS = 16
"""From so many on another process computes a part of them: some ten milliseconds each."""


def _share_out(every: Sequence[Joined]) -> None:
    """Compute what is not known in two processes, each about half of the rooms."""
    shares: tuple[list[Joined], list[Joined]] = [], []
    rooms = [0, 0]
    for each in sorted(every, key=lambda each: len(each.scenes), reverse=True):
        if each.known is None:
            less = int(rooms[1] < rooms[0])
            shares[less].append(each)
            rooms[less] += len(each.scenes)
    here, apart = shares
    if rooms[1] >= WORTH_ROOMS:
        found = begin_apart(lambda: [each.lights[0] for each in apart])
        for each in here:
            _ = each.lights
        for each, lit in zip(apart, found() or (), strict=False):
            vars(each)["known"] = lit


Lights = dict[str, RoomLight]


def _lit(group: tuple[str, ...], joined: Joined, known: HouseLight) -> tuple[Lights, Joined]:
    before = known.joined.get(group)
    if before and all(map(is_, before.scenes, joined.scenes)):
        return {room: known.rooms[room] for room in group}, before
    if before and before.differs_in_paints(joined):
        return _relit(group, joined, before.solved, known.rooms)
    lit, joined = joined.lights
    return {room: _seen_by(*lit[place], joined, place) for place, room in enumerate(group)}, joined


def _relit(
    group: tuple[str, ...], joined: Joined, before: Solved, known: Mapping[str, RoomLight]
) -> tuple[Lights, Joined]:
    """The lights of rooms of which some have other paints than before."""
    system, inputs = before.system, joined.inputs
    states = [
        old if old.scene is scene else replace(old, scene=scene)
        for old, scene in zip(before.states, joined.scenes, strict=True)
    ]
    solved = _solve(system, states, before)
    solved.by_day.update(
        (place, sent)
        for place, sent in before.by_day.items()
        if states[place] is before.states[place] and solved.later[place] is before.later[place]
    )
    lights, shown, corrections = {}, list(solved.later), []
    for place, room in enumerate(group):
        old, correction = known.get(room), None
        if old and solved.states[place] is before.states[place]:
            correction = before.corrections[place]
            if old.inputs == inputs[place] and _as_shown(solved, before, place):
                lights[room], shown[place] = old, before.shown[place]
                corrections.append(correction)
                continue
        lit, correction = solved.lights(place, correction)
        corrections.append(correction)
        plane = solved.plane_light(place, joined.outdoor_lux)
        lights[room] = _seen_by(lit, plane, joined, place)
    found = replace(solved, shown=tuple(shown), corrections=tuple(corrections))
    return lights, replace(joined, found=found)


def _solve(
    system: System, states: Sequence[RoomState], before: Solved | None, settled: float = SETTLED
) -> Solved:
    """Block Gauss-Seidel over the rooms, from `before` where only some rooms' paints differ.

    Only changes are passed on, and a room is solved only where one has come in.
    """
    known = before or _dark(system, states)
    later, coming, sent = list(known.later), list(known.coming), list(known.sent)
    stale: set[int] = set()
    for place, (state, old) in enumerate(zip(states, known.states, strict=True)):
        if state is not old:
            change = state.scene.reflectance - old.scene.reflectance
            stale |= {place, *_pass_on(system.takers[place], FIRST, change, coming)}
    for _ in range(SWEEPS):
        for place in sorted(stale):
            stale.remove(place)
            later[place] = states[place].later(coming[place])
            sending = states[place].sent(later[place])
            if _differ(system, sending, sent[place]) > settled:
                stale |= _pass_on(system.takers[place], SENT, sending - sent[place], coming)
                sent[place] = sending
        if not stale:
            break
    unknown = (None,) * len(states)
    return Solved(
        system, tuple(states), tuple(later), tuple(coming), tuple(sent), tuple(later), unknown
    )


def _dark(system: System, states: Sequence[RoomState]) -> Solved:
    """A system in which no light has been reflected yet."""
    black = tuple(
        replace(each, scene=each.scene._replace(reflectance=0.0 * each.scene.reflectance))
        for each in states
    )
    none = tuple(np.zeros_like(each.once) for each in states)
    return Solved(system, black, none, none, none, none, (None,) * len(none))


SENT, FIRST = 0, 1
"""What a room sends of reflected light, and of its first light after a bounce (`System.takers`)."""


def _pass_on(
    takers: Mapping[int, tuple[Singles, Singles]], what: int, change: Floats, coming: list[Floats]
) -> set[int]:
    """Add a change of it, by mode or of reflectance, to what comes in elsewhere: where."""
    for taker, each in takers.items():
        coming[taker] = coming[taker] + np.tensordot(each[what], single(change), (1, 0))
    return set(takers)


def _differ(system: System, new: Floats, old: Floats) -> float:
    """The largest change of a share, as a part of the largest share under the same light."""
    worst = 0.0
    for part in (slice(0, system.days), slice(system.days, None)):
        most = np.abs(new[:, part]).max(initial=0.0)
        if most > 0.0:
            worst = max(worst, float(np.abs(new[:, part] - old[:, part]).max() / most))
    return worst


# The light of one room of it


def _as_shown(solved: Solved, before: Solved, place: int) -> bool:
    return _differ(solved.system, solved.later[place], before.shown[place]) <= KEPT


def _seen_by(
    lit: Mapping[LightName, Lit], plane: PlaneLight | None, joined: Joined, place: int
) -> RoomLight:
    """The light of a room but for what is too little to see by."""
    scale = {"day": max(joined.outdoor_lux / sky.OUTDOOR_LUX, 1e-9), "evening": 1.0}
    lights = {
        name: light
        for name, light in lit.items()
        if light.total_lux("walls") > LEAST_LUX * scale[name]
    }
    return room_light(
        joined.inputs[place], joined.outdoor_lux, joined.scenes[place], lights,
        plane if "day" in lights else None,
    )  # fmt: skip
