"""Light through openings, followed from room to room direction by direction.

Every line that passes an opening joins two patches, so that lines spread evenly over openings and
directions count what the patches of different rooms exchange, their corners' and frames' shadows
included. Each opening samples all lines through it; a line through k openings is counted by each
with a k-th. The sums of rows are then those of the rooms' closed forms, so that no light is lost
or made (`balanced_passage`). An opening has a depth: its lining reflects the light that meets it.

What shines straight from a window or a lamp through openings is counted by lines between the two.
"""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import field, replace
from functools import lru_cache
from typing import Any, NamedTuple, cast

import numpy as np
import numpy.typing as npt

from housemap.colorimetry.arrays import Floats, Singles, Truths
from housemap.dataclass import dataclass
from housemap.light import enclosures, rays
from housemap.light.enclosures import Enclosure
from housemap.light.mesh import CEILING, FLOOR, PLANE_M, Hole, Plane, Shape, frame
from housemap.light.outline_mesh import Prism
from housemap.light.view_factors import Ints

Shorts = np.ndarray[tuple[int, ...], np.dtype[np.int32]]

LINING_REFLECTANCE = 0.6
"""Of jambs, head and threshold together (our assumption)."""
LINING_BOUNCES = 3
LINES = 2048
"""From each side of an opening."""
WINDOW_LINES, LAMP_LINES = 3072, 768
"""From each window or lamp to each opening that it reaches, where the light of the room beyond is
mostly by that; beyond a second opening half as many."""
STRETCH, STRETCHES = 61, 32
"""Of the sequence of lines each way has its own, or what few lines are wrong by would add up."""
FULL_SHARE = 0.15
"""Of the light of the room beyond, from which on a way is followed by all its lines."""
MOST_ROOMS = 6
"""That a line is followed through."""
STRAIGHT_ROOMS = 3
"""Openings in a row that a source shines through straight."""
BALANCING_ROUNDS = 12
TINY = 1e-12


@dataclass(frozen=True, slots=True)
class Joint:
    """An opening between two rooms of a cluster: their places there, and those of its holes."""

    rooms: tuple[int, int]
    holes: tuple[int, int]
    depth_m: float
    passes: float
    """1, or the transmittance of its glass."""


@dataclass(frozen=True, slots=True)
class Cluster:
    """Rooms that openings join; compares by value."""

    shapes: tuple[Shape, ...]
    joints: tuple[Joint, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Gates:
    """Both sides of every joint: gate 2 j is that in the first room of joint j, 2 j + 1 the other.

    A gate's own coordinates are u along and v up its rectangle, and outward from its room; both
    gates of a joint have the same u and v.
    """

    room: Ints
    origin_m: Floats
    """(gates, 3)."""
    axes: Floats
    """(gates, 3, 3): u, v and outward in the coordinates of the room."""
    size_m: Floats
    """(gates, 2)."""
    depth_m: Floats
    passes: Floats
    on_surface: tuple[Ints, ...]
    """By room: the gate on each surface of its mesh, -1 where there is none."""
    inside: tuple[Enclosure, ...]
    """Of each room."""
    plane: tuple[Plane | None, ...]


@dataclass(slots=True, eq=False)
class Lines:
    """Lines on their way, one a row: where each is, and what it has passed."""

    room: Ints
    at_m: Floats
    toward: Floats
    entered: Ints = field(init=False)
    """How many openings."""
    kept: Floats = field(init=False)
    """Of its light, by linings and glass."""
    bounced: Truths = field(init=False)
    """Whether it met a lining."""
    patch: Ints = field(init=False)
    """Where it ends; -1 where it does not."""
    gate: Ints = field(init=False)
    """The opening that it comes to next; -1 where it ends before."""

    def __post_init__(self) -> None:
        count = len(self.room)
        self.entered, self.kept = np.zeros(count, np.intp), np.ones(count)
        self.bounced = np.zeros(count, bool)
        self.patch, self.gate = np.full(count, -1), np.full(count, -1)

    def ends(self, firsts: Shorts) -> Shorts:
        """The patch of each, by the number of the first patch of each room."""
        return firsts[self.room] + self.patch.astype(np.int32)


class Crossings(NamedTuple):
    """Lines that come down through the working planes of rooms: which, where, and as they were."""

    line: Ints
    room: Ints
    cell: Ints
    entered: Ints
    kept: Floats


@lru_cache(maxsize=8)
def gates_of(cluster: Cluster) -> Gates:
    sides = [(joint, side) for joint in cluster.joints for side in (0, 1)]
    shapes = [cluster.shapes[joint.rooms[side]] for joint, side in sides]
    holes = [s.holes[j.holes[side]] for (j, side), s in zip(sides, shapes, strict=True)]
    frames = [
        _gate_frame(shape, hole, mirrored=bool(side))
        for (_, side), shape, hole in zip(sides, shapes, holes, strict=True)
    ]
    on_surface = tuple(np.full(len(shape.surfaces), -1) for shape in cluster.shapes)
    for gate, ((joint, side), shape) in enumerate(zip(sides, shapes, strict=True)):
        on_surface[joint.rooms[side]][2 + len(shape.wall_keys) + joint.holes[side]] = gate
    return Gates(
        np.array([joint.rooms[side] for joint, side in sides], dtype=np.intp),
        np.array([origin for origin, _ in frames]).reshape(-1, 3),
        np.array([axes for _, axes in frames]).reshape(-1, 3, 3),
        np.array([(hole.width_m, hole.height_m) for hole in holes]).reshape(-1, 2),
        np.array([joint.depth_m for joint, _ in sides]),
        np.array([joint.passes for joint, _ in sides]),
        on_surface,
        tuple(map(enclosures.enclosure, cluster.shapes)),
        tuple(map(enclosures.working_plane, cluster.shapes)),
    )


def _gate_frame(shape: Shape, hole: Hole, *, mirrored: bool) -> tuple[Floats, Floats]:
    """In the second room `along` of a wall runs the other way, so that both sides have one u."""
    origin, axes = frame(shape, hole)
    if not mirrored or hole.surface in {FLOOR, CEILING}:
        return origin, axes
    return origin + axes[0] * hole.width_m, axes * np.array([[-1.0], [1.0], [1.0]])


# Following lines


def follow(gates: Gates, lines: Lines, active: Ints, *, hold: bool = False) -> Crossings:
    """Take lines to the patches that they end on; what they cross of working planes.

    `hold` stops a line at a further opening that it would pass without having met a lining.
    """
    crossings: list[Crossings] = []
    for _ in range(MOST_ROOMS):
        active = across(gates, lines, active, crossings)
        if hold:
            active = active[lines.bounced[active]]
        if not len(active):
            break
        enter(gates, lines, active)
    return Crossings(*map(np.concatenate, zip(_NO_CROSSINGS, *crossings, strict=True)))


_NONE = np.zeros(0, np.intp)
_NO_CROSSINGS = Crossings(_NONE, _NONE, _NONE, _NONE, np.zeros(0))


def across(gates: Gates, lines: Lines, active: Ints, crossings: list[Crossings]) -> Ints:
    """Take lines across the rooms that they are in; those that come to an opening."""
    passing = [_NONE]
    for room, mine in _grouped(lines.room, active):
        start, toward = lines.at_m[mine], lines.toward[mine]
        patch, place = gates.inside[room].ends(start, toward)
        plane = gates.plane[room]
        if plane is not None:
            crossings += _crossed(plane, lines, mine, (start, place))
        gate = gates.on_surface[room][gates.inside[room].mesh.surface[patch]]
        lines.at_m[mine], lines.gate[mine] = place, gate
        lines.patch[mine] = np.where(gate < 0, patch, -1)
        passing.append(mine[gate >= 0])
    return np.concatenate(passing)


SHORT = 2**16
"""Numbers from 0 and below this sort several times faster as short ones."""


def _short(numbers: npt.NDArray[Any]) -> npt.NDArray[Any]:
    return numbers.astype(np.uint16) if numbers.max(initial=0) < SHORT else numbers


def _grouped(key: Ints, rows: Ints) -> Iterator[tuple[int, Ints]]:
    """Rows by their key."""
    mine = key[rows]
    order = np.argsort(_short(mine), kind="stable")
    order, keys = rows[order], mine[order]
    for part in np.split(np.arange(len(order)), np.flatnonzero(np.diff(keys)) + 1):
        if len(part):
            yield int(keys[part[0]]), order[part]


def _crossed(
    plane: Plane, lines: Lines, mine: Ints, ends_m: tuple[Floats, Floats]
) -> Iterator[Crossings]:
    start_m, end_m = ends_m
    down = np.flatnonzero((start_m[:, 2] > PLANE_M) & (end_m[:, 2] < PLANE_M))
    if len(down):
        a, b = start_m[down], end_m[down]
        part = (a[:, 2] - PLANE_M) / (a[:, 2] - b[:, 2])
        cell = plane.cells_at(a[:, :2] + part[:, None] * (b[:, :2] - a[:, :2]))
        line, cell = mine[down[cell >= 0]], cell[cell >= 0]
        yield Crossings(line, lines.room[line], cell, lines.entered[line], lines.kept[line])


def enter(gates: Gates, lines: Lines, these: Ints) -> None:
    """Take lines that stand at `lines.gate` through it, into the room beyond or back."""
    lines.entered[these] += 1
    local, way, gate = np.zeros((len(these), 2)), np.zeros((len(these), 3)), lines.gate[these]
    parts = [*_grouped(gate, np.arange(len(these)))]
    for number, part in parts:
        axes, mine = gates.axes[number], these[part]
        local[part] = (lines.at_m[mine] - gates.origin_m[number]) @ axes[:2].T
        way[part] = lines.toward[mine] @ axes.T
    kept = _through_lining(local, way, np.column_stack([gates.size_m, gates.depth_m])[gate])
    lines.kept[these] *= kept * gates.passes[gate]
    lines.bounced[these] |= kept < 1.0
    for number, part in parts:
        _leave(gates, lines, (number ^ 1, these[part]), (local[part], way[part] * [1.0, 1.0, -1.0]))
    back = np.flatnonzero(way[:, 2] < 0.0)
    lines.kept[these[back]] *= gates.passes[gate[back]]
    for number, part in _grouped(gate, back):
        _leave(gates, lines, (number, these[part]), (local[part], way[part]))


def _leave(gates: Gates, lines: Lines, into: tuple[int, Ints], ray: tuple[Floats, Floats]) -> None:
    """Place lines, (n, 2) and (n, 3) in the coordinates of a gate, in the room of that gate."""
    (gate, these), (local, way) = into, ray
    lines.room[these] = gates.room[gate]
    lines.at_m[these] = gates.origin_m[gate] + local @ gates.axes[gate][:2]
    lines.toward[these] = way @ gates.axes[gate]


def _through_lining(local: Floats, way: Floats, size_m: Floats) -> Floats:
    """Move lines through openings of a width, height and depth, in place; what is kept of them.

    Lines that leave on the side that they came from then look back.
    """
    start = local.copy()
    local += way[:, :2] * (size_m[:, 2] / np.maximum(way[:, 2], TINY))[:, None]
    (u, v), (width, height, _) = local.T, size_m.T
    kept = np.ones(len(way))
    inside = np.flatnonzero((u < 0.0) | (v < 0.0) | (u > width) | (v > height))
    place = np.column_stack([start[inside], np.zeros(len(inside))])
    random = np.random.default_rng(len(way))
    for bounce in range(LINING_BOUNCES + 1):
        d, size = way[inside], size_m[inside]
        with np.errstate(divide="ignore", invalid="ignore"):
            reach = np.where(d > 0.0, size - place, -place) / d
        reach[~np.isfinite(reach)] = np.inf
        axis = reach.argmin(1)
        step = np.maximum(reach[np.arange(len(inside)), axis], 0.0)
        place = place + step[:, None] * d
        local[inside] = np.clip(place[:, :2], 0.0, size[:, :2])
        hit = (axis < 2) & (bounce < LINING_BOUNCES)  # noqa: PLR2004 - u and v
        inside, place = inside[hit], place[hit]
        if not len(inside):
            break
        kept[inside] *= LINING_REFLECTANCE
        way[inside] = _off_lining(axis[hit], d[hit], random.random((len(inside), 2)))
    return kept


def _off_lining(axis: Ints, came: Floats, uniform: Floats) -> Floats:
    """Directions off a side of the lining that faces back along `axis`."""
    spread = rays.cosine_directions(uniform)
    inward = -np.sign(came[np.arange(len(axis)), axis]) * spread[:, 2]
    along = axis == 0
    return np.column_stack([
        np.where(along, inward, spread[:, 0]), np.where(along, spread[:, 0], inward), spread[:, 1],
    ])  # fmt: skip


# What patches exchange through openings


@dataclass(frozen=True, slots=True, eq=False)
class Entries:
    """A sparse matrix as entries by row; what is given twice adds up.

    SciPy's own takes 0.1 s to import, a third of what a check of a house takes, and twice as long
    to make.
    """

    shape: tuple[int, int]
    row: Shorts
    """The rows that have entries, rising, and where each one's begin."""
    start: Shorts
    column: Shorts
    value: Singles

    def __matmul__(self, dense: Singles) -> Singles:
        """Times (columns, n): (rows, n)."""
        product = np.zeros((self.shape[0], *dense.shape[1:]), np.float32)
        if len(self.row):
            terms = self.value[:, None] * dense[self.column]
            product[self.row] = np.add.reduceat(terms, self.start)
        return product

    def by_group(self, group: Ints, groups: int, dense: Floats) -> Floats:
        """The same, each group of rows of `dense` (columns, n) by itself: (rows, groups * n)."""
        rows, count = self.shape[0], dense.shape[1]
        at = np.repeat(self.row, np.diff(self.start, append=len(self.column))) * groups
        at += group[self.column]
        made = np.empty((rows * groups, count))
        for n, of in enumerate(dense.T):
            made[:, n] = np.bincount(at, self.value * of[self.column], rows * groups)
        return made.reshape(rows, groups * count)


def entries_of(shape: tuple[int, int], row: Shorts, column: Shorts, value: Floats) -> Entries:
    order = np.argsort(row, kind="stable")
    rows, start = np.unique(row[order], return_index=True)
    begins = start.astype(np.int32)
    return Entries(shape, rows, begins, column[order], value[order].astype(np.float32))


Blocks = dict[tuple[int, int], Entries]


@dataclass(frozen=True, slots=True, eq=False)
class Passage:
    """What the rooms of a cluster exchange through openings, in m2.

    `patches[a, b]` is (patches of a, patches of b): what reaches room a from b, which may be a
    itself; as much as the other way. `planes[a, b]` is (cells of a's plane, patches of b).
    """

    patches: Blocks
    planes: Blocks


GATES_AT_ONCE, WAYS_AT_ONCE = 32, 128
"""So many lines at once that they stay in the processor's cache."""


@lru_cache(maxsize=8)
def passage(cluster: Cluster) -> Passage:
    """Count what is exchanged through every joint."""
    gates = gates_of(cluster)
    cells = [0 if plane is None else len(plane.area_m2) for plane in gates.plane]
    patches, places = (
        np.cumsum([0, *counts], dtype=np.int32)
        for counts in ([len(each.mesh.area_m2) for each in gates.inside], cells)
    )
    numbers = np.arange(len(gates.room))
    ended, crossed = zip(
        *(
            _counted(gates, numbers[i : i + GATES_AT_ONCE], (patches, places))
            for i in numbers[::GATES_AT_ONCE]
        ),
        strict=True,
    )
    to, by, value = map(np.concatenate, zip(*crossed, strict=True))
    on_planes = _blocks(to, by, value, (places, patches))
    one, other, area, kept = map(np.concatenate, zip(*ended, strict=True))
    rows, columns = np.concatenate([one, other]), np.concatenate([other, one])
    value = np.tile(area, 2) / 2.0
    value = balanced_passage(rows, columns, value, _open_m2(gates, cluster.shapes))
    return Passage(_blocks(rows, columns, value * np.tile(kept, 2), (patches, patches)), on_planes)


Ended = tuple[Shorts, Shorts, Floats, Floats]
"""Of each line, the patches of both ends, counted through all rooms, the area that it stands for,
and what is kept of its light."""
Crossed = tuple[Shorts, Shorts, Floats]
"""Of lines through working planes, the cell and the patch of the start, counted so, and m2."""


def _counted(gates: Gates, numbers: Ints, firsts: tuple[Shorts, Shorts]) -> tuple[Ended, Crossed]:
    """Lines through some gates, each both ways from where it leaves its room.

    `firsts`: the numbers of the first patch and of the first cell of each room.
    """
    uniform = rays.spread(LINES, 4)
    local = rays.cosine_spread(LINES)
    way = np.concatenate([local @ gates.axes[gate] for gate in numbers])
    at = np.concatenate([
        gates.origin_m[gate] + (uniform[:, :2] * gates.size_m[gate]) @ gates.axes[gate][:2]
        for gate in numbers
    ])  # fmt: skip
    room, everything = np.repeat(gates.room[numbers], LINES), np.arange(len(way))
    start, end = Lines(room.copy(), at.copy(), -way), Lines(room, at, way)
    follow(gates, start, everything)
    end.gate[:] = np.repeat(numbers, LINES)
    enter(gates, end, everything)
    crossed = follow(gates, end, everything)
    area = np.repeat(gates.size_m[numbers].prod(1), LINES) / LINES
    ended = np.flatnonzero((start.patch >= 0) & (end.patch >= 0))
    share = area / np.maximum(start.entered + end.entered, 1)
    begun, line = start.patch[crossed.line] >= 0, crossed.line
    value = area[line] * crossed.kept * start.kept[line] / (crossed.entered + start.entered[line])
    patches, cells = firsts
    from_patch, on_cell = start.ends(patches), cells[crossed.room] + crossed.cell.astype(np.int32)
    return (
        (from_patch[ended], end.ends(patches)[ended], share[ended], (start.kept * end.kept)[ended]),
        (on_cell[begun], from_patch[line[begun]], value[begun]),
    )


def _open_m2(gates: Gates, shapes: Sequence[Shape]) -> Floats:
    """What each patch of the cluster exchanges with the openings of its own room."""
    parts = []
    for room, shape, on_surface in zip(gates.inside, shapes, gates.on_surface, strict=True):
        seen = enclosures.modes(shape).seen[on_surface >= 0].sum(0)
        parts.append(seen * room.mesh.area_m2 * (on_surface[room.mesh.surface] < 0))
    return np.concatenate(parts)


def balanced_passage(rows: Shorts, columns: Shorts, value: Floats, goal_m2: Floats) -> Floats:
    """Scale a symmetric exchange so that its rows add to their goal, or a little less."""
    scale = np.ones(len(goal_m2))

    def short() -> Floats:
        sums = scale * np.bincount(rows, value * scale[columns], len(goal_m2))
        return np.divide(goal_m2, sums, out=np.ones_like(sums), where=sums > 0.0)

    for _ in range(BALANCING_ROUNDS):
        scale = scale * np.sqrt(short())
    over = np.minimum(short(), 1.0)
    return np.asarray(value * scale[rows] * scale[columns] * np.minimum(over[rows], over[columns]))


def _blocks(rows: Shorts, columns: Shorts, value: Floats, firsts: tuple[Shorts, Shorts]) -> Blocks:
    """By pair of rooms, from entries in any order; `firsts` of rows and columns of each room."""
    made = {}
    to, by = firsts
    count = len(by) - 1
    pair = ((np.searchsorted(to, rows, "right") - 1) * count).astype(np.int32)
    pair += (np.searchsorted(by, columns, "right") - 1).astype(np.int32)
    order = np.argsort(_short(pair), kind="stable")
    for part in np.split(order, np.flatnonzero(np.diff(pair[order])) + 1):
        if not len(part):
            continue
        a, b = divmod(int(pair[part[0]]), count)
        shape = int(to[a + 1] - to[a]), int(by[b + 1] - by[b])
        made[a, b] = entries_of(shape, rows[part] - to[a], columns[part] - by[b], value[part])
    return made


# What shines straight through openings

Points = Callable[[Floats], Floats]
"""From (n, 2) in 0..1 to the places that light leaves from, (n, 3)."""
Candela = Callable[[Floats], Floats]
"""From directions, (n, 3), to lumens a steradian of the whole source, for a lux or a lumen."""


@dataclass(frozen=True, slots=True, eq=False)
class Emitter:
    """A window or a lamp."""

    points: Points
    candela: Candela
    power: float
    """Of a window the lux outside that pass it, of a lamp its lumens."""
    lumens: float
    """That come into its own room."""
    by_day: bool

    @property
    def lines(self) -> int:
        """To an opening of its own room."""
        return WINDOW_LINES if self.by_day else LAMP_LINES


class Shine(NamedTuple):
    """Where the light of each emitter falls beyond the openings of its room: lumens, row by row."""

    emitter: Ints
    room: Ints
    place: Ints
    """A patch of the room, or a cell of its working plane."""
    lumens: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Way:
    """A chain of gates that an emitter shines through."""

    emitter: int
    chain: tuple[int, ...]
    turn: Floats
    """(3, 3) and `shift` (3,): from the last gate's room to the emitter's."""
    shift: Floats
    lines: int = 128
    """That it is followed by; these few say how much light it carries at most."""


def shine(cluster: Cluster, emitters: Sequence[tuple[int, Emitter]]) -> tuple[Shine, Shine]:
    """First light beyond openings, of emitters in rooms: on patches, and on working planes."""
    gates = gates_of(cluster)
    nothing = Shine(_NONE, _NONE, _NONE, np.zeros(0))
    on_patches, on_planes = [nothing], [nothing]
    ways = [
        _Way(number, (int(gate),), np.eye(3), np.zeros(3))
        for number, (room, _) in enumerate(emitters)
        for gate in np.flatnonzero(gates.room == room)
    ]
    light: defaultdict[Lit, float] = defaultdict(float)
    for room, emitter in emitters:
        light[room, emitter.by_day] += emitter.lumens
    for _ in range(STRAIGHT_ROOMS):
        ways = _weighed(gates, emitters, ways, light)
        further: list[_Way] = []
        for i in range(0, len(ways), WAYS_AT_ONCE):
            patches, planes, more = _shone(gates, emitters, ways[i : i + WAYS_AT_ONCE])
            on_patches.append(patches)
            on_planes.append(planes)
            further += more
        ways = further
    return _joined(on_patches), _joined(on_planes)


Lit = tuple[int, bool]
"""A room, by day or in the evening."""


def _weighed(
    gates: Gates, emitters: Sequence[tuple[int, Emitter]], ways: Sequence[_Way],
    light: defaultdict[Lit, float],
) -> list[_Way]:  # fmt: skip
    """Ways with fewer lines the less of the light in the room that they lead to is theirs.

    `light` are lumens; what the ways carry is added.
    """
    parts: list[tuple[Lit, float]] = []
    for each in ways:
        source = emitters[each.emitter][1]
        room = int(gates.room[each.chain[-1] ^ 1]), source.by_day
        parts.append((room, source.power * float(_toward(gates, emitters, each)[3].sum())))
        light[room] += parts[-1][1]
    made = []
    for each, (room, lumens) in zip(ways, parts, strict=True):
        most = emitters[each.emitter][1].lines >> (len(each.chain) - 1)
        share = lumens / max(light[room], TINY) / FULL_SHARE
        least = each.lines << (2 * len(each.chain) - 2)
        made.append(replace(each, lines=min(max(int(most * share), least), most)))
    return made


def _shone(
    gates: Gates, emitters: Sequence[tuple[int, Emitter]], ways: Sequence[_Way]
) -> tuple[Shine, Shine, list[_Way]]:
    """What arrives by some ways on patches and on planes, and the ways that lead on from there."""
    lines, lumens, way = _aimed(gates, emitters, ways)
    alive = _along(gates, lines, (ways, way), np.flatnonzero(lumens > 0.0))
    emitter = np.array([each.emitter for each in ways])[way]
    crossed = follow(gates, lines, alive, hold=True)
    there = alive[lines.patch[alive] >= 0]
    value = lumens[there] * lines.kept[there]
    on_patches = Shine(emitter[there], lines.room[there], lines.patch[there], value)
    value = lumens[crossed.line] * crossed.kept
    on_planes = Shine(emitter[crossed.line], crossed.room, crossed.cell, value)
    held = alive[(lines.patch[alive] < 0) & ~lines.bounced[alive] & (lines.gate[alive] >= 0)]
    return on_patches, on_planes, _further(gates, ways, way[held], lines.gate[held])


def _joined(parts: Sequence[Shine]) -> Shine:
    emitter, room, place, lumens = map(np.concatenate, zip(*parts, strict=True))
    return Shine(emitter, room, place, cast("Floats", lumens))


def _aimed(
    gates: Gates, emitters: Sequence[tuple[int, Emitter]], ways: Sequence[_Way]
) -> tuple[Lines, Floats, Ints]:
    """Lines from each emitter to the last gate of its way; their lumens, and the way of each."""
    room, start, toward, lumens = zip(
        *(_toward(gates, emitters, each) for each in ways), strict=True
    )
    counts = [len(each) for each in lumens]
    lines = Lines(np.repeat(room, counts), np.concatenate(start), np.concatenate(toward))
    return lines, np.concatenate(lumens), np.repeat(np.arange(len(ways)), counts)


def _toward(
    gates: Gates, emitters: Sequence[tuple[int, Emitter]], way: _Way
) -> tuple[int, Floats, Floats, Floats]:
    (room, emitter), last = emitters[way.emitter], way.chain[-1]
    size, axes = gates.size_m[last], gates.axes[last]
    own = STRETCH * ((way.emitter + last) % STRETCHES)
    uniform = rays.spread(own + way.lines, 4)[own:]
    start = emitter.points(uniform[:, 2:])
    corner = way.turn @ gates.origin_m[last] + way.shift
    away = corner + (uniform[:, :2] * size) @ (axes[:2] @ way.turn.T) - start
    far2 = np.einsum("ni,ni->n", away, away) + TINY
    toward = away / np.sqrt(far2)[:, None]
    facing = np.maximum(toward @ (way.turn @ axes[2]), 0.0)
    lumens = emitter.candela(toward) * facing / far2 * (size.prod() / way.lines)
    return room, start, toward, lumens


def _along(gates: Gates, lines: Lines, towards: tuple[Sequence[_Way], Ints], alive: Ints) -> Ints:
    """The lines that come straight along their way, taken through its last gate."""
    ways, way = towards
    chains = np.array([each.chain for each in ways])
    for step, gate in enumerate(chains.T):
        if step:
            alive = alive[~lines.bounced[alive]]
        lines.gate[alive] = gate[way[alive]]
        reached = [_straight(gates, lines, *mine) for mine in _grouped(lines.gate, alive)]
        alive = np.concatenate([_NONE, *reached])
        enter(gates, lines, alive)
    return alive


def _straight(gates: Gates, lines: Lines, gate: int, mine: Ints) -> Ints:
    """Take lines to a gate of the room that they are in; those that come to it."""
    if isinstance(gates.inside[gates.room[gate]], Prism):
        came = across(gates, lines, mine, [])
        return np.asarray(came[lines.gate[came] == gate])
    origin, axes, middle = gates.origin_m[gate], gates.axes[gate], gates.size_m[gate] / 2.0
    start, toward = lines.at_m[mine] - origin, lines.toward[mine]
    out = toward @ axes[2]
    place = start - (start @ axes[2] / np.maximum(out, TINY))[:, None] * toward
    beside = np.abs(place @ axes[:2].T - middle) - middle
    hit = (out > 0.0) & (beside[:, 0] <= 0.0) & (beside[:, 1] <= 0.0)
    lines.at_m[mine[hit]] = origin + place[hit]
    return np.asarray(mine[hit])


def _further(gates: Gates, ways: Sequence[_Way], way: Ints, gate: Ints) -> list[_Way]:
    made, count = [], len(gates.room)
    for both in sorted({*(way * count + gate).tolist()}):
        old, new = divmod(both, count)
        before = ways[old]
        turn, shift = _beyond(gates, before.chain[-1])
        made.append(
            _Way(
                before.emitter, (*before.chain, new),
                before.turn @ turn, before.turn @ shift + before.shift,
            )
        )  # fmt: skip
    return made


def _beyond(gates: Gates, gate: int) -> tuple[Floats, Floats]:
    """From the coordinates of the room beyond a gate to those of its own room."""
    near, far = gates.axes[gate], gates.axes[gate ^ 1] * [[1.0], [1.0], [-1.0]]
    turn = near.T @ far
    shift = gates.origin_m[gate] + gates.depth_m[gate] * near[2] - turn @ gates.origin_m[gate ^ 1]
    return turn, shift
