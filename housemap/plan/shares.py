"""How much of the other rooms one sees from each standing point of a room; numpy.

From a point in a convex part, the bearings that pass a chain of passages are one wedge: it runs
from the leftmost of their right ends to the rightmost of their left ends. So a share is exact at
each point; only the points are a sample.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import atan2, degrees, pi

import numpy as np
from numpy.typing import NDArray

from housemap.model.house import Point
from housemap.model.polygon import edges
from housemap.plan.space import PartKey, Passage, Space, SpacePart
from housemap.plan.stands import Floats, standing_points
from housemap.plan.ways import DEPTH

_EDGE_M2 = 1e-9
"""A cross product below this counts as none."""

Vectors = NDArray[np.complex128]
"""Plane vectors as x + yi: conj(a) * b has their dot product and, as imaginary part, the cross."""
Indices = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Stand:
    """A standing point, the bearing to look in, and the share of the full circle seen there."""

    at_m: Point
    toward_deg: float
    """Clockwise from plan-north: 90 looks to plan-east."""
    share: float


@dataclass(frozen=True, slots=True)
class Together:
    """Rooms seen at once from a standing point, the room stood in not among them."""

    at_m: Point
    rooms: frozenset[str]


@dataclass(frozen=True, slots=True)
class Views:
    """What one sees from the standing points of one room."""

    shares: Mapping[str, float]
    """Mean over the points, by room seen."""
    best: Mapping[str, Stand]
    together: tuple[Together, ...]
    """The largest sets of rooms seen at once; none lies within another."""


@dataclass(frozen=True, slots=True)
class _Wedges:
    """The bearings between two directions at some of the points, all of which enter `room`."""

    room: str
    points: Indices
    right: Vectors
    """The direction of the wedge's right side, at each of the points."""
    share: Floats
    """Of the full circle."""


def views(space: Space, room: str) -> Views:
    points = standing_points(space.rooms[room])
    wedges = _wedges(space, room, points)
    seen = {each.room: np.zeros(len(points)) for each in wedges}
    for each in wedges:
        seen[each.room][each.points] += each.share
    return Views(
        shares={other: float(share.mean()) for other, share in seen.items()},
        best={other: _best(points, wedges, other, share) for other, share in seen.items()},
        together=_together(points, seen),
    )


def bearing_deg(x: float, y: float) -> float:
    """Clockwise from plan-north, 0 to 360."""
    return degrees(atan2(x, y)) % 360


def _best(points: Floats, wedges: Iterable[_Wedges], room: str, shares: Floats) -> Stand:
    """The point that sees most of a room, looking to the middle of its widest wedge."""
    best = int(np.argmax(np.round(shares, 9)))
    here = [
        (float(each.share[i]), complex(each.right[i]))
        for each in wedges
        if each.room == room
        for i in np.flatnonzero(each.points == best)
    ]
    share, right = max(here, key=lambda wedge: wedge[0])
    toward = right * np.exp(1j * pi * share)  # half-way from its right side to its left
    x, y = points[best]
    return Stand((float(x), float(y)), bearing_deg(toward.real, toward.imag), float(shares[best]))


def _together(points: Floats, seen: Mapping[str, Floats]) -> tuple[Together, ...]:
    rooms = sorted(seen)
    if not rooms:
        return ()
    table = np.stack([seen[room] > 0 for room in rooms], axis=-1)
    sets, first = np.unique(table, axis=0, return_index=True)
    order = sorted(range(len(sets)), key=lambda i: (-int(sets[i].sum()), int(first[i])))
    found: list[Together] = []
    for i in order:
        here = frozenset(room for room, is_seen in zip(rooms, sets[i], strict=True) if is_seen)
        if here and not any(here <= other.rooms for other in found):
            x, y = points[first[i]]
            found.append(Together((float(x), float(y)), here))
    return tuple(found)


def _wedges(space: Space, room: str, points: Floats) -> list[_Wedges]:
    found: list[_Wedges] = []
    where = points[:, 0] + 1j * points[:, 1]
    waiting = np.ones(len(points), dtype=np.bool_)
    for i, part in enumerate(space.rooms[room].parts):
        here = np.flatnonzero(waiting & _within(part, where))
        waiting[here] = False
        if len(here):
            _follow(space, found, _Bundle(((room, i),), (room,), here, where[here]))
    return found


def _within(part: SpacePart, where: Vectors) -> NDArray[np.bool_]:
    inside = np.ones(len(where), dtype=np.bool_)
    for (ax, ay), (bx, by) in edges(part.points):
        inside &= _cross(complex(bx - ax, by - ay), where - complex(ax, ay)) >= -_EDGE_M2
    return inside


def _cross(a: Vectors | complex, b: Vectors) -> Floats:
    return np.imag(np.conj(a) * b)


@dataclass(slots=True)
class _Bundle:
    """What some points still see at the end of a chain of parts."""

    parts: tuple[PartKey, ...]
    rooms: tuple[str, ...]
    """The own one and those that openings led to."""
    points: Indices
    where: Vectors
    right: Vectors | None = None
    left: Vectors | None = None


def _follow(space: Space, found: list[_Wedges], bundle: _Bundle) -> None:
    """Depth first over the passages; adds to `found`."""
    for passage in space.part(bundle.parts[-1]).passages:
        if passage.to in bundle.parts or (passage.opening and len(bundle.rooms) > DEPTH):
            continue
        right, left = _narrowed(bundle, passage)
        across = np.conj(right) * left
        # Standing on the line of a gap one looks through it half a turn wide.
        wide = (np.abs(across.imag) <= _EDGE_M2) & (across.real < 0)
        keep = np.flatnonzero((across.imag > _EDGE_M2) | wide)
        if not len(keep):
            continue
        points, right, left = bundle.points[keep], right[keep], left[keep]
        room = passage.to[0]
        if passage.opening and room not in bundle.rooms:
            share = np.abs(np.angle(across[keep])) / (2 * pi)
            found.append(_Wedges(room, points, right, share))
        rooms = (*bundle.rooms, room) if passage.opening else bundle.rooms
        parts = (*bundle.parts, passage.to)
        _follow(space, found, _Bundle(parts, rooms, points, bundle.where[keep], right, left))


def _narrowed(bundle: _Bundle, passage: Passage) -> tuple[Vectors, Vectors]:
    """The wedges of the bundle, no wider than the passage."""
    right, left = bundle.right, bundle.left
    for end in passage.rights:
        to_end = complex(*end) - bundle.where
        right = to_end if right is None else np.where(_cross(right, to_end) > 0, to_end, right)
    for end in passage.lefts:
        to_end = complex(*end) - bundle.where
        left = to_end if left is None else np.where(_cross(left, to_end) < 0, to_end, left)
    assert right is not None
    assert left is not None
    return right, left
