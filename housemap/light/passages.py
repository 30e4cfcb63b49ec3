"""Light through openings, followed from room to room direction by direction.

Every line that passes an opening joins two patches, so that lines spread evenly over openings and
directions count what the patches of different rooms exchange, their corners' and frames' shadows
included. Each opening samples all lines through it; a line through k openings is counted by each
with a k-th. The sums of rows are then those of the rooms' closed forms, so that no light is lost
or made (`balanced_passage`). An opening has a depth: its lining reflects the light that meets it.

What shines straight from a window or a lamp through openings is counted by lines between the two.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import cast

import numpy as np
from scipy import sparse

from housemap.colorimetry.arrays import Floats, Truths
from housemap.light import rays, shape_cache
from housemap.light.mesh import CEILING, FLOOR, PLANE_M, Enclosure, Hole, Plane, Shape
from housemap.light.view_factors import Ints

LINING_REFLECTANCE = 0.6
"""Of jambs, head and threshold together (our assumption)."""
LINING_BOUNCES = 3
LINES = 2048
"""From each side of an opening."""
WINDOW_LINES, LAMP_LINES = 3072, 768
"""From each window or lamp to each opening that it reaches."""
MOST_ROOMS = 6
"""That a line is followed through."""
STRAIGHT_ROOMS = 3
"""Openings in a row that a source shines through straight."""
BALANCING_ROUNDS = 12


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


@dataclass(slots=True, eq=False)
class Lines:
    """Lines on their way, one a row: where each is, and what it has passed."""

    room: Ints
    at_m: Floats
    toward: Floats
    via: Ints
    """The gate by which it came into its room; -1 where it set out there."""
    entered: Ints
    """How many openings."""
    kept: Floats
    """Of its light, by linings and glass."""
    bounced: Truths
    """Whether it met a lining."""
    patch: Ints = field(default_factory=lambda: np.zeros(0, np.intp))
    """Where it ends; -1 where it does not."""
    gate: Ints = field(default_factory=lambda: np.zeros(0, np.intp))
    """The opening that it would have passed next, where it was held there; else -1."""

    def __post_init__(self) -> None:
        self.patch = np.full(len(self.room), -1)
        self.gate = np.full(len(self.room), -1)


@dataclass(frozen=True, slots=True, eq=False)
class Crossing:
    """Lines that come down through the working plane of a room: which, where, and as they were."""

    line: Ints
    room: int
    cell: Ints
    via: Ints
    entered: Ints
    kept: Floats


def enclosure_of(cluster: Cluster, room: int) -> Enclosure:
    return shape_cache.enclosure(cluster.shapes[room])


def gates_of(cluster: Cluster) -> Gates:
    sides = [(joint, side) for joint in cluster.joints for side in (0, 1)]
    frames = [
        _gate_frame(cluster.shapes[joint.rooms[side]], joint.holes[side], mirrored=bool(side))
        for joint, side in sides
    ]
    room = np.array([joint.rooms[side] for joint, side in sides], dtype=np.intp)
    on_surface = [np.full(len(shape.surfaces), -1) for shape in cluster.shapes]
    for gate, (joint, side) in enumerate(sides):
        shape = cluster.shapes[joint.rooms[side]]
        on_surface[joint.rooms[side]][2 + len(shape.wall_keys) + joint.holes[side]] = gate
    holes = [cluster.shapes[j.rooms[s]].holes[j.holes[s]] for j, s in sides]
    return Gates(
        room,
        np.array([origin for origin, _ in frames]).reshape(-1, 3),
        np.array([axes for _, axes in frames]).reshape(-1, 3, 3),
        np.array([(hole.width_m, hole.height_m) for hole in holes]).reshape(-1, 2),
        np.array([joint.depth_m for joint, _ in sides]),
        np.array([joint.passes for joint, _ in sides]),
        tuple(on_surface),
    )


def frame(shape: Shape, hole: Hole) -> tuple[Floats, Floats]:
    """The corner of a hole and its axes: along, up, and out of the room."""
    up = np.array([0.0, 0.0, 1.0])
    if hole.surface in {FLOOR, CEILING}:
        out = up if hole.surface == CEILING else -up
        z = shape.height_m if hole.surface == CEILING else 0.0
        return np.array([hole.along_m, hole.sill_m, z]), np.array([*np.eye(3)[:2], out])
    edge = shape.wall_keys.index(hole.surface)
    start, end = shape.outline_m[edge], shape.outline_m[(edge + 1) % len(shape.outline_m)]
    span = np.array([end[0] - start[0], end[1] - start[1], 0.0])
    along = span / np.hypot(span[0], span[1])
    origin = np.array([*start, hole.sill_m]) + along * hole.along_m
    return origin, np.array([along, up, [along[1], -along[0], 0.0]])


def _gate_frame(shape: Shape, hole_index: int, *, mirrored: bool) -> tuple[Floats, Floats]:
    """In the second room `along` of a wall runs the other way, so that both sides have one u."""
    hole = shape.holes[hole_index]
    origin, axes = frame(shape, hole)
    if not mirrored or hole.surface in {FLOOR, CEILING}:
        return origin, axes
    return origin + axes[0] * hole.width_m, axes * np.array([[-1.0], [1.0], [1.0]])


# Following lines


def follow(
    cluster: Cluster, gates: Gates, lines: Lines, active: Ints, *, hold: bool = False
) -> list[Crossing]:
    """Take lines to the patches that they end on; what they cross of working planes.

    `hold` stops a line at a further opening that it would pass without having met a lining.
    """
    crossings: list[Crossing] = []
    for _ in range(MOST_ROOMS):
        parts = _by_room(lines, active)
        passing = [_across(cluster, gates, lines, mine, crossings) for mine in parts]
        active = np.concatenate(passing) if passing else np.zeros(0, np.intp)
        if hold:
            stopped = active[~lines.bounced[active]]
            active = active[lines.bounced[active]]
            lines.patch[stopped] = -1
        if not len(active):
            break
        lines.patch[active] = -1
        _enter(gates, lines, active)
    return crossings


def _by_room(lines: Lines, active: Ints) -> Iterator[Ints]:
    order = active[np.argsort(lines.room[active], kind="stable")]
    cuts = np.flatnonzero(np.diff(lines.room[order])) + 1
    return (part for part in np.split(order, cuts) if len(part))


def _across(
    cluster: Cluster, gates: Gates, lines: Lines, mine: Ints, crossings: list[Crossing]
) -> Ints:
    """Take the lines of one room across it; those that come to an opening."""
    room = int(lines.room[mine[0]])
    start, toward = lines.at_m[mine], lines.toward[mine]
    inside = enclosure_of(cluster, room)
    patch, place = inside.ends(start, toward)
    plane = shape_cache.working_plane(cluster.shapes[room])
    if plane is not None:
        crossings += _crossed(plane, lines, mine, (start, place))
    lines.patch[mine], lines.at_m[mine] = patch, place
    gate = gates.on_surface[room][inside.mesh.surface[patch]]
    lines.gate[mine] = gate
    return mine[gate >= 0]


def _crossed(
    plane: Plane, lines: Lines, mine: Ints, ends_m: tuple[Floats, Floats]
) -> Iterator[Crossing]:
    start_m, end_m = ends_m
    down = np.flatnonzero((start_m[:, 2] > PLANE_M) & (end_m[:, 2] < PLANE_M))
    if not len(down):
        return
    a, b = start_m[down], end_m[down]
    part = (a[:, 2] - PLANE_M) / (a[:, 2] - b[:, 2])
    cell = plane.cells_at(a[:, :2] + part[:, None] * (b[:, :2] - a[:, :2]))
    found = cell >= 0
    line = mine[down[found]]
    if len(line):
        room, via = int(lines.room[line[0]]), lines.via[line]
        yield Crossing(line, room, cell[found], via, lines.entered[line], lines.kept[line])


def _enter(gates: Gates, lines: Lines, these: Ints) -> None:
    """Take lines that stand at `lines.gate` through it, into the room beyond or back."""
    gate = lines.gate[these]
    axes = gates.axes[gate]
    local = np.einsum("nij,nj->ni", axes, lines.at_m[these] - gates.origin_m[gate])
    local[:, 2] = 0.0
    way = np.einsum("nij,nj->ni", axes, lines.toward[these])
    lines.entered[these] += 1
    back = np.zeros(len(these), bool)
    deep = np.flatnonzero(gates.depth_m[gate] > 0.0)
    if len(deep):
        kept, bounced, back[deep] = _through_lining(
            local, way, deep, gates.size_m[gate[deep]], gates.depth_m[gate[deep]]
        )
        lines.kept[these[deep]] *= kept
        lines.bounced[these[deep]] |= bounced
    glass = gates.passes[gate]
    lines.kept[these] *= np.where(back, glass**2, glass)
    out = np.where(back, gate, gate ^ 1)
    local[:, 2] = 0.0
    turned = way * np.where(back, 1.0, -1.0)[:, None] ** np.array([0.0, 0.0, 1.0])
    lines.room[these], lines.via[these] = gates.room[out], out
    far = gates.axes[out]
    lines.at_m[these] = gates.origin_m[out] + np.einsum("ni,nij->nj", local, far)
    lines.toward[these] = np.einsum("ni,nij->nj", turned, far)


def _through_lining(
    local: Floats, way: Floats, deep: Ints, size_m: Floats, depth_m: Floats
) -> tuple[Floats, Truths, Truths]:
    """Move lines through openings that have a depth, in place: kept, bounced, whether back."""
    where, toward = local[deep], way[deep]
    far = np.column_stack([size_m, depth_m])
    kept, inside = np.ones(len(deep)), np.arange(len(deep))
    random = np.random.default_rng(len(deep))
    for bounce in range(LINING_BOUNCES + 1):
        p, d = where[inside], toward[inside]
        with np.errstate(divide="ignore", invalid="ignore"):
            reach = np.where(d > 0.0, far[inside] - p, -p) / d
        reach[~np.isfinite(reach)] = np.inf
        axis = reach.argmin(1)
        step = np.maximum(reach[np.arange(len(inside)), axis], 0.0)
        where[inside] = p + step[:, None] * d
        hit = (axis < 2) & (bounce < LINING_BOUNCES)  # noqa: PLR2004 - u and v
        struck = inside[hit]
        if not len(struck):
            break
        kept[struck] *= LINING_REFLECTANCE
        toward[struck] = _off_lining(axis[hit], d[hit], random.random((len(struck), 2)))
        inside = struck
    back = toward[:, 2] < 0.0
    local[deep] = np.clip(where, 0.0, far)
    way[deep] = toward
    return kept, kept < 1.0, back


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
class Passage:
    """What the rooms of a cluster exchange through openings, in m2; sparse.

    `patches[a, gate, b]` is (patches of a, patches of b): what reaches room a by that gate of its
    own from b, which may be a itself. `planes[a, b]` is (cells of a's plane, patches of b).
    """

    patches: dict[tuple[int, int, int], sparse.csr_array]
    planes: dict[tuple[int, int], sparse.csr_array]


@lru_cache(maxsize=8)
def passage(cluster: Cluster) -> Passage:
    """Count what is exchanged through every joint."""
    gates = gates_of(cluster)
    sizes = [len(enclosure_of(cluster, room).mesh.area_m2) for room in range(len(cluster.shapes))]
    start, end, crossings = _sampled(cluster, gates)
    entered = np.maximum(start.entered + end.entered, 1)
    area = np.repeat(gates.size_m.prod(1), LINES) / LINES
    offsets = np.cumsum([0, *sizes])
    ended = (start.patch >= 0) & (end.patch >= 0)
    kept = (start.kept * end.kept)[ended]
    i, j = (offsets[each.room[ended]] + each.patch[ended] for each in (start, end))
    value = (area / entered)[ended] / 2.0
    rows, columns = np.concatenate([i, j]), np.concatenate([j, i])
    via = np.concatenate([start.via[ended], end.via[ended]])
    whole = np.concatenate([value, value])
    open_m2 = _open_m2(cluster, gates)
    scaled = balanced_passage(rows, columns, whole, open_m2) * np.concatenate([kept, kept])
    return Passage(
        _blocks(offsets, (rows, via, columns, scaled)),
        _plane_blocks(cluster, crossings, start, area),
    )


def _sampled(cluster: Cluster, gates: Gates) -> tuple[Lines, Lines, list[Crossing]]:
    """Lines through every gate, each both ways from where it leaves its room."""
    count = len(gates.room)
    gate = np.repeat(np.arange(count), LINES)
    uniform = np.tile(rays.spread(LINES, 4), (count, 1))
    way = rays.cosine_directions(uniform[:, 2:])
    plan = uniform[:, :2] * gates.size_m[gate]
    at = gates.origin_m[gate] + np.einsum("ni,nij->nj", plan, gates.axes[gate][:, :2])
    out = np.einsum("ni,nij->nj", way, gates.axes[gate])
    everything = np.arange(len(gate))
    start = _lines(gates.room[gate], at, -out, gate)
    follow(cluster, gates, start, everything)
    end = _lines(gates.room[gate], at, out, gate)
    end.gate[:] = gate
    _enter(gates, end, everything)
    crossings = follow(cluster, gates, end, everything)
    return start, end, crossings


def lines_from(room: Ints, at_m: Floats, toward: Floats) -> Lines:
    """Lines that set out within rooms."""
    return _lines(room, at_m, toward, np.full(len(room), -1))


def _lines(room: Ints, at_m: Floats, toward: Floats, via: Ints) -> Lines:
    count = len(room)
    return Lines(
        room.copy(), at_m.copy(), toward.copy(), via.copy(),
        np.zeros(count, np.intp), np.ones(count), np.zeros(count, bool),
    )  # fmt: skip


def _open_m2(cluster: Cluster, gates: Gates) -> Floats:
    """What each patch of the cluster exchanges with the openings of its own room."""
    parts = []
    for room in range(len(cluster.shapes)):
        mesh = enclosure_of(cluster, room).mesh
        is_open = gates.on_surface[room][mesh.surface] >= 0
        parts.append(mesh.exchange_m2[:, is_open].sum(1) * ~is_open)
    return np.concatenate(parts)


def balanced_passage(rows: Ints, columns: Ints, value: Floats, wanted_m2: Floats) -> Floats:
    """Scale a symmetric exchange so that its rows add to what they should, or a little less."""
    scale = np.ones(len(wanted_m2))

    def short() -> Floats:
        sums = scale * np.bincount(rows, value * scale[columns], len(wanted_m2))
        return np.divide(wanted_m2, sums, out=np.ones_like(sums), where=sums > 0.0)

    for _ in range(BALANCING_ROUNDS):
        scale = scale * np.sqrt(short())
    over = np.minimum(short(), 1.0)
    return np.asarray(value * scale[rows] * scale[columns] * np.minimum(over[rows], over[columns]))


def _blocks(
    offsets: Ints, entries: tuple[Ints, Ints, Ints, Floats]
) -> dict[tuple[int, int, int], sparse.csr_array]:
    rows, via, columns, value = entries
    a, b = (np.searchsorted(offsets, each, side="right") - 1 for each in (rows, columns))
    made = {}
    for (gate, room), part in _grouped(via, b):
        mine = int(a[part[0]])
        shape = offsets[mine + 1] - offsets[mine], offsets[room + 1] - offsets[room]
        place = rows[part] - offsets[mine], columns[part] - offsets[room]
        made[mine, gate, room] = _sparse(value[part], place, shape)
    return made


def _plane_blocks(
    cluster: Cluster, crossings: Sequence[Crossing], start: Lines, area: Floats
) -> dict[tuple[int, int], sparse.csr_array]:
    made: dict[tuple[int, int], sparse.csr_array] = {}
    for crossing in crossings:
        plane = shape_cache.working_plane(cluster.shapes[crossing.room])
        line = crossing.line[start.patch[crossing.line] >= 0]
        if plane is None or not len(line):
            continue
        found = start.patch[crossing.line] >= 0
        entered = crossing.entered[found] + start.entered[line]
        value = area[line] * crossing.kept[found] * start.kept[line] / entered
        for (room,), part in _grouped(start.room[line]):
            shape = len(plane.area_m2), len(enclosure_of(cluster, room).mesh.area_m2)
            place = crossing.cell[found][part], start.patch[line][part]
            block = _sparse(value[part], place, shape)
            known = made.get((crossing.room, room))
            made[crossing.room, room] = block if known is None else known + block
    return made


def _sparse(value: Floats, place: tuple[Ints, Ints], shape: tuple[int, int]) -> sparse.csr_array:
    return sparse.csr_array((value, place), shape=shape)


def _grouped(*keys: Ints) -> Iterator[tuple[tuple[int, ...], Ints]]:
    """The places of each combination of keys."""
    if not len(keys[0]):
        return
    order = np.lexsort(keys[::-1])
    table = np.stack(keys, axis=-1)[order]
    cuts = np.flatnonzero(np.any(np.diff(table, axis=0) != 0, axis=1)) + 1
    for part in np.split(order, cuts):
        yield tuple(int(key[part[0]]) for key in keys), part


# What shines straight through openings


Points = Callable[[Floats], Floats]
"""From (n, 2) in 0..1 to the places that light leaves from, (n, 3)."""
Candela = Callable[[Floats], Floats]
"""From directions, (n, 3), to lumens a steradian of the whole source, for a lux or a lumen."""


@dataclass(frozen=True, slots=True, eq=False)
class Source:
    """A window or a lamp of one room."""

    room: int
    points: Points
    candela: Candela
    lines: int


@dataclass(frozen=True, slots=True, eq=False)
class Shine:
    """Where the light of each source falls beyond the openings of its room: lumens, row by row."""

    source: Ints
    room: Ints
    via: Ints
    place: Ints
    """A patch of the room, or a cell of its working plane."""
    lumens: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Ways:
    """Chains of gates that sources shine through, one a row; a shorter chain ends in -1."""

    source: Ints
    chain: Ints
    turn: Floats
    """(ways, 3, 3) and `shift` (ways, 3): from the last gate's room to the source's."""
    shift: Floats

    @property
    def length(self) -> int:
        return self.chain.shape[1]


def shine(cluster: Cluster, sources: Sequence[Source]) -> tuple[Shine, Shine]:
    """First light beyond openings: on patches, and on working planes."""
    gates = gates_of(cluster)
    on_patches: list[Shine] = []
    on_planes: list[Shine] = []
    ways = _first_ways(gates, sources)
    for _ in range(STRAIGHT_ROOMS):
        if not len(ways.source):
            break
        ways = _shone(cluster, gates, sources, ways, (on_patches, on_planes))
    return _joined(on_patches), _joined(on_planes)


def _first_ways(gates: Gates, sources: Sequence[Source]) -> _Ways:
    pairs = [
        (number, gate)
        for number, source in enumerate(sources)
        for gate in np.flatnonzero(gates.room == source.room)
    ]
    table = np.array(pairs, dtype=np.intp).reshape(-1, 2)
    turn = np.tile(np.eye(3), (len(table), 1, 1))
    return _Ways(table[:, 0], table[:, 1:], turn, np.zeros((len(table), 3)))


def _shone(
    cluster: Cluster,
    gates: Gates,
    sources: Sequence[Source],
    ways: _Ways,
    found: tuple[list[Shine], list[Shine]],
) -> _Ways:
    """Light through the last gate of each way; the ways that go on beyond it."""
    way = np.repeat(np.arange(len(ways.source)), [sources[s].lines for s in ways.source])
    lines, lumens, alive = _aimed(cluster, gates, sources, (ways, way))
    source = ways.source[way]
    crossings = follow(cluster, gates, lines, alive, hold=True)
    ended = alive[lines.patch[alive] >= 0]
    found[0].append(
        Shine(
            source[ended], lines.room[ended], lines.via[ended], lines.patch[ended],
            lumens[ended] * lines.kept[ended],
        )
    )  # fmt: skip
    for each in crossings:
        room = np.full(len(each.line), each.room)
        value = lumens[each.line] * each.kept
        found[1].append(Shine(source[each.line], room, each.via, each.cell, value))
    held = alive[(lines.patch[alive] < 0) & ~lines.bounced[alive] & (lines.gate[alive] >= 0)]
    return _further(gates, ways, way[held], lines.gate[held])


def _aimed(
    cluster: Cluster, gates: Gates, sources: Sequence[Source], towards: tuple[_Ways, Ints]
) -> tuple[Lines, Floats, Ints]:
    """Lines from each source to the last gate of its way, taken into that gate; their lumens.

    `towards` are the ways, and the way of each line.
    """
    ways, way = towards
    last = ways.chain[way, -1]
    starts, plans = zip(*(_spread(sources[s]) for s in ways.source), strict=True)
    start, plan = np.concatenate(starts), np.concatenate(plans) * gates.size_m[last]
    place = gates.origin_m[last] + np.einsum("ni,nij->nj", plan, gates.axes[last][:, :2])
    place = np.einsum("nij,nj->ni", ways.turn[way], place) + ways.shift[way]
    out = np.einsum("nij,nj->ni", ways.turn[way], gates.axes[last][:, 2])
    away = place - start
    far2 = np.einsum("ni,ni->n", away, away) + shape_cache.TINY
    toward = away / np.sqrt(far2)[:, None]
    ends = np.searchsorted(way, np.arange(len(ways.source)), side="right")
    parts = zip(ways.source, np.split(toward, ends[:-1]), strict=True)
    candela = np.concatenate([sources[s].candela(part) / sources[s].lines for s, part in parts])
    facing = np.maximum(np.einsum("ni,ni->n", toward, out), 0.0)
    lumens = candela * facing / far2 * gates.size_m[last].prod(1)
    room = np.array([source.room for source in sources], dtype=np.intp)[ways.source[way]]
    lines = _lines(room, start, toward, np.full(len(way), -1))
    return lines, lumens, _along(cluster, gates, lines, towards, np.flatnonzero(lumens > 0.0))


def _spread(source: Source) -> tuple[Floats, Floats]:
    """Where each of a source's lines sets out, and where on an opening it goes, 0..1."""
    uniform = rays.spread(source.lines, 4)
    return source.points(uniform[:, 2:]), uniform[:, :2]


def _along(
    cluster: Cluster, gates: Gates, lines: Lines, towards: tuple[_Ways, Ints], alive: Ints
) -> Ints:
    """The lines that come straight along their way, taken into its last gate."""
    ways, way = towards
    unheard: list[Crossing] = []
    for step in range(ways.length):
        came = [_across(cluster, gates, lines, mine, unheard) for mine in _by_room(lines, alive)]
        alive = np.concatenate(came) if came else np.zeros(0, np.intp)
        alive = alive[lines.gate[alive] == ways.chain[way[alive], step]]
        if not len(alive):
            break
        lines.patch[alive] = -1
        _enter(gates, lines, alive)
        if step < ways.length - 1:
            alive = alive[~lines.bounced[alive]]
    return alive


def _further(gates: Gates, ways: _Ways, way: Ints, gate: Ints) -> _Ways:
    made = [(w, g) for (w, g), _ in _grouped(way, gate)]
    table = np.array(made, dtype=np.intp).reshape(-1, 2)
    old, new = table.T
    turns, shifts = _beyond(gates, ways.chain[old, -1])
    turn = np.einsum("nij,njk->nik", ways.turn[old], turns)
    shift = np.einsum("nij,nj->ni", ways.turn[old], shifts) + ways.shift[old]
    return _Ways(ways.source[old], np.column_stack([ways.chain[old], new]), turn, shift)


def _beyond(gates: Gates, gate: Ints) -> tuple[Floats, Floats]:
    """From the coordinates of the room beyond each gate to those of its own room."""
    near, far = gates.axes[gate], gates.axes[gate ^ 1].copy()
    far[:, 2] *= -1.0
    turn = np.einsum("nki,nkj->nij", near, far)
    depth = gates.depth_m[gate, None] * near[:, 2]
    shift = gates.origin_m[gate] + depth
    return turn, shift - np.einsum("nij,nj->ni", turn, gates.origin_m[gate ^ 1])


def _joined(parts: Sequence[Shine]) -> Shine:
    if not parts:
        none = np.zeros(0, np.intp)
        return Shine(none, none, none, none, np.zeros(0))
    columns = zip(*((p.source, p.room, p.via, p.place, p.lumens) for p in parts), strict=True)
    source, room, via, place, lumens = (np.concatenate(column) for column in columns)
    return Shine(source, room, via, place, cast("Floats", lumens))
