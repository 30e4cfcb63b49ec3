"""A second opinion on sight, by other means: free space by shapely, and straight lines by number.

Free space is the union of the rooms and of the openings one sees through. A line is cut where it
meets any edge; the middle of each piece tells whether the piece is free and which room it is in.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon, contains_xy, prepare, union_all

from housemap.model.house import House
from housemap.plan.floor_plan import Plan
from housemap.plan.sightings import DEPTH

Floats = NDArray[np.float64]
FAR_M = 200.0
CHUNK = 2000
"""Lines worked on at once."""


class FreeSpace:
    """The floors of a placed house, and what lies in the openings between them."""

    def __init__(self, house: House, plan: Plan) -> None:
        self.rooms = {key: Polygon(room.outline_m) for key, room in plan.rooms.items()}
        doors = [
            Polygon((*placed.near_m, *placed.far_m[::-1])).buffer(1e-9, join_style="mitre")
            for key, placed in plan.openings.items()
            if house.openings[key].seen_through
        ]
        self.free = union_all([*self.rooms.values(), *doors])
        for shape in (*self.rooms.values(), self.free):
            prepare(shape)
        shapes = [*self.rooms.values(), *doors]
        rings = [np.asarray(shape.exterior.coords) for shape in shapes]
        self.starts = np.concatenate([ring[:-1] for ring in rings])
        self.ends = np.concatenate([ring[1:] for ring in rings])

    def runs(self, origins: Floats, directions: Floats) -> set[tuple[str, ...]]:
        """The rooms on each free stretch of any of the lines, in the order met.

        Lines reach FAR_M both ways from their origins, both of shape (n, 2).
        """
        middles = self._middles(origins, directions)
        free = contains_xy(self.free, middles[..., 0], middles[..., 1])
        room_of = np.full(free.shape, -1)
        for k, shape in enumerate(self.rooms.values()):
            room_of[free & contains_xy(shape, middles[..., 0], middles[..., 1])] = k
        stretch = np.cumsum(~free, axis=-1)
        names = tuple(self.rooms)
        found: dict[tuple[int, int], list[str]] = {}
        for line, piece in zip(*np.nonzero(room_of >= 0), strict=True):
            met = found.setdefault((int(line), int(stretch[line, piece])), [])
            room = names[room_of[line, piece]]
            if not met or met[-1] != room:
                met.append(room)
        return {tuple(met) for met in found.values()}

    def entered(self, eye: Floats, directions: Floats) -> dict[str, NDArray[np.bool_]]:
        """Whether each ray from the eye enters each room before it meets a wall."""
        middles = self._middles(np.broadcast_to(eye, directions.shape), directions, start=0.0)
        free = contains_xy(self.free, middles[..., 0], middles[..., 1])
        reached = np.logical_and.accumulate(free, axis=-1)
        return {
            key: (reached & contains_xy(shape, middles[..., 0], middles[..., 1])).any(axis=-1)
            for key, shape in self.rooms.items()
        }

    def _middles(self, origins: Floats, directions: Floats, start: float = -FAR_M) -> Floats:
        """The middles of the pieces of each line, shape (n, pieces, 2)."""
        run = self.ends - self.starts
        to_edge = self.starts - origins[:, None]
        slant = _cross(directions[:, None], run)
        with np.errstate(divide="ignore", invalid="ignore"):
            along = _cross(to_edge, run) / slant
            share = _cross(to_edge, directions[:, None]) / slant
        hit = (share >= -1e-12) & (share <= 1 + 1e-12) & (along > start)
        most = int(hit.sum(axis=-1).max(initial=0))
        cuts = np.sort(np.where(hit, along, FAR_M), axis=-1)[:, :most]
        first = np.full((len(cuts), 1), start)
        cuts = np.concatenate([first, cuts, np.full((len(cuts), 1), FAR_M)], axis=-1)
        middles = (cuts[:, 1:] + cuts[:, :-1]) / 2
        return np.asarray(origins[:, None] + middles[..., None] * directions[:, None])

    def seen_pairs(self, corners: Floats, aside_m: float = 1e-6) -> set[frozenset[str]]:
        """The pairs of rooms that some line joins, by the lines that nearly touch two corners.

        Wherever rooms see each other, the lines between them are bounded by such lines; moving
        one aside by a micrometre at each end gives a line inside.
        """
        i, j = np.triu_indices(len(corners), 1)
        apart = np.linalg.norm(corners[i] - corners[j], axis=-1) > 1e-6
        a, b = corners[i[apart]], corners[j[apart]]
        along = (b - a) / np.linalg.norm(b - a, axis=-1, keepdims=True)
        aside = aside_m * np.stack([-along[:, 1], along[:, 0]], axis=-1)
        pairs: set[frozenset[str]] = set()
        for at_a in (-1, 1):
            for at_b in (-1, 1):
                start, end = a + at_a * aside, b + at_b * aside
                along = (end - start) / np.linalg.norm(end - start, axis=-1, keepdims=True)
                for k in range(0, len(start), CHUNK):
                    for met in self.runs(start[k : k + CHUNK], along[k : k + CHUNK]):
                        pairs |= set(_near_pairs(met))
        return pairs

    def corners(self) -> Floats:
        return np.unique(np.round(np.concatenate([self.starts, self.ends]), 9), axis=0)


def _near_pairs(met: Sequence[str]) -> Iterator[frozenset[str]]:
    """Pairs with at most DEPTH openings between them."""
    for (i, a), (j, b) in combinations(enumerate(met), 2):
        if a != b and j - i <= DEPTH:
            yield frozenset((a, b))


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def shares_by_rays(space: FreeSpace, points: Floats, rays: int) -> Mapping[str, Floats]:
    """The part of evenly spread rays that enters each room, from each of the points."""
    angles = (np.arange(rays) + 0.5) * 2 * np.pi / rays
    directions = np.stack([np.cos(angles), np.sin(angles)], axis=-1)
    found = [space.entered(point, directions) for point in points]
    return {key: np.array([each[key].mean() for each in found]) for key in space.rooms}
