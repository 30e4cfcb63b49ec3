"""Lines followed through rooms that openings join, very many at once.

Lines are kept axis by axis, (3, n), to a micrometre, and patches, cells of working planes and gates
are numbered through all rooms of a cluster, so that lines in any of its boxes are taken on in one
operation.
"""

from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats, Singles, Truths
from housemap.light import enclosures, rays
from housemap.light.mesh import CEILING, FLOOR, PLANE_M, Box, Hole, Plane, Shape, frame
from housemap.light.outline_mesh import Prism
from housemap.light.view_factors import Ints

LINING_REFLECTANCE = 0.6
"""Of jambs, head and threshold together (our assumption)."""
LINING_BOUNCES = 3
MOST_ROOMS = 6
"""That a line is followed through."""
TINY = 1e-12


class Joint(NamedTuple):
    """An opening between two rooms of a cluster: their places there, and those of its holes."""

    rooms: tuple[int, int]
    holes: tuple[int, int]
    depth_m: float
    passes: float
    """1, or the transmittance of its glass."""


class Cluster(NamedTuple):
    """Rooms that openings join; compares by value."""

    shapes: tuple[Shape, ...]
    joints: tuple[Joint, ...]


# Where a line that reaches a place ends


class Grids(NamedTuple):
    """The patches on the faces of boxes. Face 6 r + 2 axis + (0, or 1 at the far end) is room r's.

    Each side of a face is cut into BINS, none of which more than one line of its grid runs through
    unless two lines are nearer than that.
    """

    first: Ints
    """The number of each face's first patch."""
    step: Ints
    """Between patches along the lesser axis of a face; along the greater one it is 1."""
    per_m: Singles
    """Bins a metre along both axes of each face, (2, faces)."""
    begins: Ints
    """Of the bins of each face, (2, faces)."""
    cell: Ints
    """Which begins each bin, times `step` along the lesser axis."""
    ends_m: Singles
    """Where that cell ends."""


BINS = 256
_SHARES = np.arange(BINS) / BINS
ROUNDING = 1.0 - 1e-6


@lru_cache(maxsize=enclosures.SHAPES)
def _grids_of(box: Box | None) -> Grids:
    """Of one room, its patches counted from 0; of what is no box without any."""
    first, step, per_m = np.zeros(6, np.intp), np.zeros(6, np.intp), np.zeros((2, 6), np.float32)
    cells, ends = np.zeros((6, 2, BINS), np.intp), np.zeros((6, 2, BINS), np.float32)
    counted = 0
    for face in box.faces if box else ():
        number = 2 * face.axis + (face.at_m > 0.0)
        first[number], step[number] = counted, face.owner.shape[1]
        counted += face.cells
        for i, edges in enumerate(face.grid.values()):
            cell = np.searchsorted(edges[1:-1], _SHARES * edges[-1], "right")
            per_m[i, number] = BINS / edges[-1] * ROUNDING
            cells[number, i] = cell * (1 if i else face.owner.shape[1])
            ends[number, i] = np.append(edges[1:-1], np.inf)[cell]
    begins = np.arange(12).reshape(6, 2).T * BINS
    return Grids(first, step, per_m, begins, cells.ravel(), ends.ravel())


class Planes(NamedTuple):
    """The cells of the working planes; a room without one has 0 columns."""

    low_m: Singles
    """The corner of each room's, (2, rooms)."""
    per_m: Singles
    """Columns and rows a metre, (2, rooms)."""
    counts: Ints
    """Columns and rows, (2, rooms)."""
    begins: Ints
    """(rooms,)."""
    cell: Ints
    """The number of each, row by row of all columns; -1 where a plane does not reach."""


def _planes_of(planes: list[Plane | None], firsts: Ints) -> Planes:
    low, per_m = np.zeros((2, 2, len(planes)), np.float32)
    counts, cells = np.zeros((2, len(planes)), np.intp), []
    for room, plane in enumerate(planes):
        if plane is not None:
            lines = plane.x_m, plane.y_m
            counts[:, room] = plane.cell.shape
            low[:, room] = [each[0] for each in lines]
            per_m[:, room] = [(len(each) - 1) / (each[-1] - each[0]) for each in lines]
            cells.append(np.where(plane.cell < 0, -1, plane.cell + firsts[room]).ravel())
    begins = np.cumsum([0, *counts.prod(0)])[:-1]
    return Planes(low, per_m, counts, begins, np.concatenate([_NONE, *cells]))


class Gates(NamedTuple):
    """Both sides of every joint: gate 2 j is that in the first room of joint j, 2 j + 1 the other.

    A gate's own coordinates are u along and v up its rectangle, and outward from its room; both
    gates of a joint have the same u and v.
    """

    room: Ints
    origin_m: Singles
    """(3, gates)."""
    axes: Singles
    """(3, 3, gates): u, v and outward in the coordinates of the room."""
    size_m: Singles
    """(3, gates): width, height and depth."""
    passes: Singles
    patches: Ints
    """The number of each room's first patch, and of all."""
    cells: Ints
    """The same of working planes."""
    on_patch: Ints
    """The gate on each patch, -1 where there is none."""
    box_m: Singles
    """(3, rooms); nan of what is no box."""
    grids: Grids
    planes: Planes
    prisms: tuple[tuple[int, Prism], ...]


@lru_cache(maxsize=8)
def gates_of(cluster: Cluster) -> Gates:
    sides = [(joint, side) for joint in cluster.joints for side in (0, 1)]
    shapes = [cluster.shapes[joint.rooms[side]] for joint, side in sides]
    holes = [s.holes[j.holes[side]] for (j, side), s in zip(sides, shapes, strict=True)]
    frames = [
        _gate_frame(shape, hole, mirrored=bool(side))
        for (_, side), shape, hole in zip(sides, shapes, holes, strict=True)
    ]
    on_surface = [np.full(len(shape.surfaces), -1) for shape in cluster.shapes]
    for gate, ((joint, side), shape) in enumerate(zip(sides, shapes, strict=True)):
        on_surface[joint.rooms[side]][2 + len(shape.wall_keys) + joint.holes[side]] = gate
    inside = [*map(enclosures.enclosure, cluster.shapes)]
    planes = [*map(enclosures.working_plane, cluster.shapes)]
    patches = np.cumsum([0, *(len(each.mesh.area_m2) for each in inside)])
    cells = np.cumsum([0, *(0 if plane is None else len(plane.area_m2) for plane in planes)])
    boxes = [each if isinstance(each, Box) else None for each in inside]
    return Gates(
        np.array([joint.rooms[side] for joint, side in sides], dtype=np.intp),
        _last(np.array([origin for origin, _ in frames]).reshape(-1, 3)),
        _last(np.array([axes for _, axes in frames]).reshape(-1, 3, 3)),
        _last(np.array([
            (hole.width_m, hole.height_m, joint.depth_m)
            for hole, (joint, _) in zip(holes, sides, strict=True)
        ]).reshape(-1, 3)),
        np.array([joint.passes for joint, _ in sides], np.float32),
        patches,
        cells,
        np.concatenate([
            on[each.mesh.surface] for on, each in zip(on_surface, inside, strict=True)
        ]),
        _last(np.array([box.size_m if box else (np.nan,) * 3 for box in boxes])),
        _all_grids(boxes, patches),
        _planes_of(planes, cells),
        tuple((room, each) for room, each in enumerate(inside) if isinstance(each, Prism)),
    )  # fmt: skip


def _last(each: Floats) -> Singles:
    """The first axis as the last one."""
    return np.ascontiguousarray(np.moveaxis(each, 0, -1), np.float32)


def _gate_frame(shape: Shape, hole: Hole, *, mirrored: bool) -> tuple[Floats, Floats]:
    """In the second room `along` of a wall runs the other way, so that both sides have one u."""
    origin, axes = frame(shape, hole)
    if not mirrored or hole.surface in {FLOOR, CEILING}:
        return origin, axes
    return origin + axes[0] * hole.width_m, axes * np.array([[-1.0], [1.0], [1.0]])


def _all_grids(boxes: list[Box | None], patches: Ints) -> Grids:
    each = [*map(_grids_of, boxes)]
    bins = np.cumsum([0, *(len(grids.cell) for grids in each)])
    return Grids(
        np.concatenate([grids.first + n for grids, n in zip(each, patches, strict=False)]),
        np.concatenate([grids.step for grids in each]),
        np.concatenate([grids.per_m for grids in each], axis=1),
        np.concatenate([grids.begins + n for grids, n in zip(each, bins, strict=False)], axis=1),
        np.concatenate([grids.cell for grids in each]),
        np.concatenate([grids.ends_m for grids in each]),
    )


# Following lines


@dataclass(slots=True, eq=False, repr=False)
class Lines:
    """Lines on their way: where each is, and what it has passed."""

    room: Ints
    at_m: Singles
    """(3, n)."""
    toward: Singles
    """(3, n)."""
    entered: Ints = field(init=False)
    """How many openings."""
    kept: Singles = field(init=False)
    """Of its light, by linings and glass."""
    bounced: Truths = field(init=False)
    """Whether it met a lining."""
    patch: Ints = field(init=False)
    """Where it ends; -1 where it does not."""
    gate: Ints = field(init=False)
    """The opening that it comes to next; -1 where it ends before."""

    def __post_init__(self) -> None:
        count = len(self.room)
        self.entered, self.kept = np.zeros(count, np.intp), np.ones(count, np.float32)
        self.bounced = np.zeros(count, bool)
        self.patch, self.gate = np.full(count, -1), np.full(count, -1)


def lines_from(room: Ints, start_m: Floats, toward: Floats) -> Lines:
    """Of places and directions line by line, (n, 3)."""
    return Lines(room, _last(start_m), _last(toward))


class Crossings(NamedTuple):
    """Lines that come down through working planes: which, in which cell, and as they were."""

    line: Ints
    cell: Ints
    entered: Ints
    kept: Singles


_NONE = np.zeros(0, np.intp)
_NO_CROSSINGS = Crossings(_NONE, _NONE, _NONE, np.zeros(0, np.float32))


def follow(gates: Gates, lines: Lines, active: Ints, *, hold: bool = False) -> Crossings:
    """Take lines to the patches that they end on; what they cross of working planes.

    `hold` stops a line at a further opening that it would pass without having met a lining.
    """
    crossings = [_NO_CROSSINGS]
    for _ in range(MOST_ROOMS):
        active = across(gates, lines, active, crossings)
        if hold:
            active = active[lines.bounced[active]]
        if not len(active):
            break
        enter(gates, lines, active)
    return Crossings(*map(np.concatenate, zip(*crossings, strict=True)))


def across(gates: Gates, lines: Lines, active: Ints, crossings: list[Crossings]) -> Ints:
    """Take lines across the rooms that they are in; those that come to an opening."""
    room = lines.room[active]
    start, toward = lines.at_m.take(active, 1), lines.toward.take(active, 1)
    patch, place = _ends(gates, room, start, toward)
    crossings.append(_crossed(gates.planes, lines, (active, room), (start, place)))
    gate = gates.on_patch[patch]
    lines.at_m[:, active], lines.gate[active] = place, gate
    lines.patch[active] = np.where(gate < 0, patch, -1)
    return active[gate >= 0]


def _ends(gates: Gates, room: Ints, start: Singles, toward: Singles) -> tuple[Ints, Singles]:
    """The patch and the place, (3, n), that each line ends on."""
    if not gates.prisms:
        return _ends_in_boxes(gates, room, start, toward)
    patch, place = np.empty(len(room), np.intp), np.empty_like(start)
    mine = np.flatnonzero(~np.isin(room, [number for number, _ in gates.prisms]))
    patch[mine], place[:, mine] = _ends_in_boxes(
        gates, room[mine], start.take(mine, 1), toward.take(mine, 1)
    )
    for number, prism in gates.prisms:
        mine = np.flatnonzero(room == number)
        rays_m = (each.take(mine, 1).T.astype(np.float64) for each in (start, toward))
        ends, places = prism.ends(*rays_m)
        patch[mine], place[:, mine] = ends + gates.patches[number], places.T
    return patch, place


def _ends_in_boxes(
    gates: Gates, room: Ints, start: Singles, toward: Singles
) -> tuple[Ints, Singles]:
    up, grids = toward > 0.0, gates.grids
    with np.errstate(divide="ignore", invalid="ignore"):
        reach = np.abs((up * gates.box_m.take(room, 1) - start) / toward)
        x, y, z = reach
        beside = np.fmin(x, y)
        place = start + np.fmin(beside, z) * toward
        across_x, level = x <= y, z <= beside
    face = 6 * room + np.where(level, 4 + up[2], np.where(across_x, up[0], 2 + up[1]))
    u = np.where(across_x & ~level, place[1], place[0])
    v = np.where(level, place[1], place[2])
    patch = grids.first[face]
    for i, along in enumerate((u, v)):
        bin_ = (along * grids.per_m[i][face]).astype(np.intp) + grids.begins[i][face]
        step = 1 if i else grids.step[face]
        patch += grids.cell[bin_] + step * (along > grids.ends_m[bin_])
    return patch, place


def _crossed(
    planes: Planes, lines: Lines, these: tuple[Ints, Ints], ends_m: tuple[Singles, Singles]
) -> Crossings:
    """`these` lines and the rooms that they cross, from one end to the other."""
    (start, end), (line, room) = ends_m, these
    down = np.flatnonzero((start[2] > PLANE_M) & (end[2] < PLANE_M))
    (x0, y0, z0), (x1, y1, z1), room = start.take(down, 1), end.take(down, 1), room[down]
    part = (z0 - PLANE_M) / (z0 - z1)
    plan = np.stack([x0 + part * (x1 - x0), y0 + part * (y1 - y0)])
    at = np.floor((plan - planes.low_m.take(room, 1)) * planes.per_m.take(room, 1)).astype(np.intp)
    counts = planes.counts.take(room, 1)
    on = np.flatnonzero(((at >= 0) & (at < counts)).all(0))
    cell = planes.cell[planes.begins[room[on]] + at[0, on] * counts[1, on] + at[1, on]]
    line, cell = line[down[on[cell >= 0]]], cell[cell >= 0]
    return Crossings(line, cell, lines.entered[line], lines.kept[line])


def enter(gates: Gates, lines: Lines, these: Ints) -> None:
    """Take lines that are at `lines.gate` through it, into the room beyond or back."""
    local, way = into_frame(gates, lines, these)
    pass_through(gates, lines, these, (local[:2], way))


def into_frame(gates: Gates, lines: Lines, these: Ints) -> tuple[Singles, Singles]:
    """Lines in the coordinates of `lines.gate`: places and directions, (3, n) each."""
    gate = lines.gate[these]
    axes = gates.axes.take(gate, 2).swapaxes(0, 1)
    at = lines.at_m.take(these, 1) - gates.origin_m.take(gate, 1)
    return mixed(axes, at), mixed(axes, lines.toward.take(these, 1))


def pass_through(gates: Gates, lines: Lines, these: Ints, ray: tuple[Singles, Singles]) -> None:
    """The same of lines of which places, (2, n), and directions are known in its coordinates."""
    (local, way), gate = ray, lines.gate[these]
    kept = _through_lining(local, way, gates.size_m.take(gate, 1))
    back = way[2] < 0.0
    passes = gates.passes[gate]
    lines.entered[these] += 1
    lines.kept[these] *= kept * np.where(back, passes * passes, passes)
    lines.bounced[these] |= kept < 1.0
    np.copysign(way[2], -1.0, out=way[2])
    into = gate ^ ~back
    axes = gates.axes.take(into, 2)
    lines.room[these] = gates.room[into]
    lines.at_m[:, these] = gates.origin_m.take(into, 1) + mixed(axes[:2], local)
    lines.toward[:, these] = mixed(axes, way)


def mixed(axes: Singles, parts: Singles) -> Singles:
    """Of each line the sum of its axes, (parts, 3, n), times its parts, (parts, n): (3, n)."""
    total: Singles = axes[0] * parts[0]
    for axis, part in zip(axes[1:], parts[1:], strict=True):
        total += axis * part
    return total


def _through_lining(local: Singles, way: Singles, size_m: Singles) -> Singles:
    """Move lines through openings, in place; what is kept of them. Some look back in the end."""
    start = local.copy()
    local += way[:2] * (size_m[2] / np.maximum(way[2], TINY))
    (u, v), (width, height, _) = local, size_m
    kept = np.ones(len(u), np.float32)
    inside = np.flatnonzero((u < 0.0) | (v < 0.0) | (u > width) | (v > height))
    place = np.stack([*start.take(inside, 1), np.zeros(len(inside), np.float32)])
    random = np.random.default_rng(len(u))
    for bounce in range(LINING_BOUNCES + 1):
        d, size = way.take(inside, 1), size_m.take(inside, 1)
        with np.errstate(divide="ignore", invalid="ignore"):
            reach = np.where(d > 0.0, size - place, -place) / d
        reach[~np.isfinite(reach)] = np.inf
        axis = reach.argmin(0)
        place = place + np.maximum(reach.min(0), 0.0) * d
        local[:, inside] = np.clip(place[:2], 0.0, size[:2])
        hit = np.flatnonzero((axis < 2) & (bounce < LINING_BOUNCES))  # noqa: PLR2004 - u and v
        inside, place = inside[hit], place[:, hit]
        if not len(inside):
            break
        kept[inside] *= LINING_REFLECTANCE
        way[:, inside] = _off_lining(axis[hit], d[:, hit], random.random((len(inside), 2)))
    return kept


def _off_lining(axis: Ints, came: Singles, uniform: Floats) -> Singles:
    """Directions off a side of the lining that faces back along `axis`."""
    spread = rays.cosine_directions(uniform).T.astype(np.float32)
    inward = -np.sign(came[axis, np.arange(len(axis))]) * spread[2]
    along = axis == 0
    return np.stack([
        np.where(along, inward, spread[0]), np.where(along, spread[0], inward), spread[1],
    ])  # fmt: skip
