"""An outline cut into convex parts, so that a straight line crosses each part once at most.

At every inward corner the outline is cut along the shorter continuation of the two walls that
meet there; what joins two parts is then a full-width gap (the method of Chazelle & Dobkin's
naive decomposition, 1985: at most one part more than there are inward corners).
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from housemap.model.house import Point
from housemap.model.polygon import edges
from housemap.plan.vectors import Segment, cross, dot, minus, plus, scaled, unit

TOUCH_M = 1e-7
"""Closer than this, points are one."""

Ring = list[tuple[Point, int]]
"""Corners with the tag of the edge that starts there: the outline's edge, or -1 - cut."""


@dataclass(frozen=True, slots=True)
class Part:
    """A convex piece of a floor."""

    points: tuple[Point, ...]
    """Counter-clockwise."""
    walls: tuple[int | None, ...]
    """The outline's edge that each edge lies on; None where it is a gap to another part."""


@dataclass(frozen=True, slots=True)
class Gap:
    """What joins two parts of one floor, by their places in the list of parts."""

    a: int
    b: int
    segment_m: Segment


def convex_parts(outline: Sequence[Point]) -> tuple[tuple[Part, ...], tuple[Gap, ...]]:
    """The parts of a counter-clockwise outline that does not cross itself, and their gaps."""
    rings = list(_cut([(point, tag) for tag, point in enumerate(outline)], [0]))
    parts = tuple(
        Part(
            tuple(point for point, _ in ring),
            tuple(tag if tag >= 0 else None for _, tag in ring),
        )
        for ring in rings
    )
    return parts, tuple(_gaps(rings))


def _cut(ring: Ring, cuts: list[int]) -> Iterator[Ring]:
    """Cuts until no corner points inward; `cuts` holds the number of cuts made so far."""
    corner = next((i for i in range(len(ring)) if _points_inward(ring, i)), None)
    ends = [] if corner is None else [*_cut_ends(ring, corner)]
    if corner is None or not ends:
        yield ring
        return
    cuts[0] += 1
    tag = -cuts[0]
    _, edge, end = min(ends)
    (here, here_tag), (_, edge_tag) = ring[corner], ring[edge]
    rest = _between(ring, corner + 1, edge)
    other = _between(ring, edge + 1, corner - 1)
    yield from _cut(_tidy([(here, here_tag), *rest, (end, tag)]), cuts)
    yield from _cut(_tidy([(here, tag), (end, edge_tag), *other]), cuts)


def _points_inward(ring: Ring, i: int) -> bool:
    before, here, after = ring[i - 1][0], ring[i][0], ring[(i + 1) % len(ring)][0]
    return cross(unit(minus(here, before)), unit(minus(after, here))) < -TOUCH_M


def _cut_ends(ring: Ring, i: int) -> Iterator[tuple[float, int, Point]]:
    """Length of the cut, the edge it ends on and the point there, for both walls continued."""
    here = ring[i][0]
    for neighbour in (ring[i - 1][0], ring[(i + 1) % len(ring)][0]):
        direction = unit(minus(here, neighbour))
        hits = [
            (hit, edge)
            for edge in range(len(ring))
            if edge not in (i, (i - 1) % len(ring))
            and (hit := _hit(here, direction, (ring[edge][0], ring[(edge + 1) % len(ring)][0])))
        ]
        if hits:
            length, edge = min(hits)
            yield length, edge, plus(here, scaled(direction, length))


def _hit(start: Point, direction: Point, edge: Segment) -> float | None:
    """How far along `direction` the edge is met; None where it is not, or runs the same way."""
    run = minus(edge[1], edge[0])
    slant = cross(direction, run)
    if abs(slant) < TOUCH_M:
        return None
    to_edge = minus(edge[0], start)
    length, share = cross(to_edge, run) / slant, cross(to_edge, direction) / slant
    slack = TOUCH_M / max(abs(run[0]), abs(run[1]), TOUCH_M)
    return length if length > TOUCH_M and -slack <= share <= 1 + slack else None


def _between(ring: Ring, first: int, last: int) -> Ring:
    """The corners from `first` to `last` (both included), counted round the ring."""
    return [ring[(first + k) % len(ring)] for k in range((last - first) % len(ring) + 1)]


def _tidy(ring: Ring) -> Ring:
    """Without edges of no length."""
    after = [*ring[1:], *ring[:1]]
    return [
        corner for corner, other in zip(ring, after, strict=True) if not _same(corner[0], other[0])
    ]


def _same(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) < TOUCH_M and abs(a[1] - b[1]) < TOUCH_M


def _gaps(rings: Sequence[Ring]) -> Iterator[Gap]:
    """Where two parts share some of a cut."""
    by_cut: dict[int, list[tuple[int, Segment]]] = defaultdict(list)
    for part, ring in enumerate(rings):
        for (_, tag), edge in zip(ring, edges(tuple(point for point, _ in ring)), strict=True):
            if tag < 0:
                by_cut[tag].append((part, edge))
    for sides in by_cut.values():
        for k, (a, edge) in enumerate(sides):
            for b, other in sides[k + 1 :]:
                shared = overlap(edge, other)
                if a != b and shared and dot(_run(edge), _run(other)) < 0:
                    yield Gap(a, b, shared)


def _run(segment: Segment) -> Point:
    return minus(segment[1], segment[0])


def overlap(a: Segment, b: Segment) -> Segment | None:
    """What two segments on one line share, running as `a` does; None where that has no length."""
    along = unit(_run(a))
    if any(abs(cross(along, minus(end, a[0]))) > TOUCH_M * 10 for end in b):
        return None
    low, high = sorted(dot(along, minus(end, a[0])) for end in b)
    start, stop = max(0.0, low), min(dot(along, _run(a)), high)
    if stop - start <= TOUCH_M:
        return None
    return plus(a[0], scaled(along, start)), plus(a[0], scaled(along, stop))
