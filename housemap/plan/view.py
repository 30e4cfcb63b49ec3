"""The first-person view: for each pixel the room and surface seen, and a shade; numpy.

One ray a column runs over the floor plan from part to part and through the openings. Where it
meets a wall, the wall's bands become rows: at depth d (measured along the heading) a height z is
seen at row H/2 - (z - eye) f / d, with f the width over 2 tan(field / 2). What is nearer narrows
the rows that are left for what is behind. Rows and columns are taken at pixel centres, so the
picture is the one that a ray through each pixel's centre gives.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin, tan
from typing import NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from housemap.model.house import Point
from housemap.plan.elevations import OPENING, SKY, Band, Elevations, Side, Zone
from housemap.plan.free_space import PartKey, Passage, part_at
from housemap.plan.house_graph import EYE_M
from housemap.plan.sightings import DEPTH

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Scalar = TypeVar("Scalar", bound=np.generic)

FADE_PER_M = 0.012
FADE_TO = 0.88
"""What is further off is a little darker, down to this factor, so that depth reads (our choice)."""


class Face(NamedTuple):
    """What a pixel shows."""

    room: str
    surface: str
    """walls ceiling trim doors floor window opening sky riser tread, or "accent" and the wall's
    key.
    """
    wall: str | None
    """The key of the wall that it is on, or was cut into; None for floor and ceiling."""


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """A picture: `faces[face[row, column]]` is seen, darker by the factor `shade[row, column]`."""

    faces: tuple[Face, ...]
    face: NDArray[np.int16]
    """Shape (height, width), the top row first."""
    shade: NDArray[np.float32]
    """0..1; leave it out for the paints as they are."""
    depth_m: NDArray[np.float32]
    """Along the heading."""

    def parts(self, count: int) -> "tuple[View, ...]":
        """The pictures that stand side by side in this one."""
        cut = (np.split(each, count, axis=1) for each in (self.face, self.shade, self.depth_m))
        return tuple(View(self.faces, *part) for part in zip(*cut, strict=True))

    def shares(self) -> Mapping[tuple[str, str], float]:
        """The part of the picture that each room's surface takes, the largest first."""
        counts = np.bincount(self.face.ravel(), minlength=len(self.faces)) / self.face.size
        found: dict[tuple[str, str], float] = defaultdict(float)
        for face, share in zip(self.faces, counts, strict=True):
            found[face.room, face.surface] += float(share)
        return dict(sorted(found.items(), key=lambda item: (-item[1], item[0])))


@dataclass(frozen=True, slots=True)
class Lens:
    """The picture's size in pixels and its focal length in pixels; the horizon is its middle."""

    width: int
    height: int
    focal: float
    eye_m: float

    def row(self, z_m: float | Floats, depth_m: Floats) -> Ints:
        """The first row whose centre lies below a height at a depth; they broadcast."""
        rows = self.height / 2 - 0.5 - (z_m - self.eye_m) * self.focal / depth_m
        within = np.minimum(np.maximum(rows, -1), self.height + 1)
        return np.ceil(within).astype(np.intp)


class Runs(NamedTuple):
    """Some columns, each from one row down to another (left out)."""

    columns: Ints
    top: Ints
    bottom: Ints


class Canvas:
    """Collects runs of pixels and puts them together."""

    def __init__(self, lens: Lens) -> None:
        self.lens = lens
        self._faces: dict[Face, int] = {}
        self._columns: list[Ints] = []
        self._tops: list[Ints] = []
        self._bottoms: list[Ints] = []
        self._depths: list[Floats] = []
        self._runs: list[tuple[int, int, float, float]] = []
        """Face, number of columns, shade, height of a level surface over the eye (else 0)."""
        self._no_depth = np.zeros(lens.width)

    def upright(self, runs: Runs, face: Face, shade: float, depth_m: Floats) -> None:
        """A wall or what is on it, at its depth."""
        self._add(runs, face, shade, 0.0, depth_m)

    def level(self, runs: Runs, face: Face, shade: float, z_m: float) -> None:
        """A floor, ceiling or soffit, at its height; the rows give its depth."""
        depth = self._no_depth[: len(runs.columns)]
        self._add(runs, face, shade, z_m - self.lens.eye_m, depth)

    def _add(self, runs: Runs, face: Face, shade: float, over_m: float, depth_m: Floats) -> None:
        self._columns.append(runs.columns)
        self._tops.append(runs.top)
        self._bottoms.append(runs.bottom)
        self._depths.append(depth_m)
        number = self._faces.setdefault(face, len(self._faces))
        self._runs.append((number, len(runs.columns), shade, over_m))

    def view(self) -> View:
        """The picture; every pixel must have been given once."""
        faces, counts, shades, overs = (np.array(each) for each in zip(*self._runs, strict=True))
        top = np.concatenate(self._tops)
        length = np.maximum(np.concatenate(self._bottoms) - top, 0)
        first = np.concatenate(self._columns) + self.lens.width * top
        run = np.repeat(np.arange(len(length)), length)
        within = np.arange(len(run)) - (np.cumsum(length) - length)[run]
        pixel = first[run] + self.lens.width * within
        kind = np.repeat(np.arange(len(counts)), counts)[run]
        rows = pixel // self.lens.width
        over = overs[kind]
        depth = np.concatenate(self._depths)[run]
        is_level = over != 0
        below = self.lens.height / 2 - 0.5 - rows[is_level]
        depth[is_level] = over[is_level] * self.lens.focal / below
        shade = shades[kind] * np.maximum(1 - FADE_PER_M * depth, FADE_TO)
        return View(
            faces=tuple(self._faces),
            face=self._spread(pixel, faces[kind].astype(np.int16)),
            shade=self._spread(pixel, shade.astype(np.float32)),
            depth_m=self._spread(pixel, depth.astype(np.float32)),
        )

    def _spread(self, pixel: Ints, values: NDArray[Scalar]) -> NDArray[Scalar]:
        flat = np.zeros(self.lens.width * self.lens.height, dtype=values.dtype)
        flat[pixel] = values
        return flat.reshape(self.lens.height, self.lens.width)


FIELD_DEG = 80.0
NEAREST_M = 1e-6
FLOOR_SHADE, CEILING_SHADE, REVEAL_SHADE, ACROSS_SHADE = 0.96, 0.98, 0.9, 0.94
"""Walls that run north to south are darker by the last than those that run east to west, and
levels and reveals by the others, so that edges between equal paints can be seen (our choice)."""

_ROUNDING = 1e-9

Vectors = NDArray[np.complex128]
"""Plane vectors as x + yi."""


STOOPED = 0.8
"""No higher than this part of a room is the eye of who stands in it: under stairs one stoops."""


@dataclass(frozen=True, slots=True)
class Camera:
    """Where one stands and looks."""

    room: str
    at_m: Point
    toward_deg: float
    """Clockwise from plan-north."""
    field_deg: float = FIELD_DEG
    """From the left edge of the picture to the right one."""
    eye_m: float = EYE_M


def look(elevations: Elevations, camera: Camera, width: int, height: int) -> View | None:
    """The picture of square pixels that the camera sees; None where it stands outside its room."""
    return look_about(elevations, camera, (0.0,), width, height)


def look_about(
    elevations: Elevations, camera: Camera, turns_deg: Sequence[float], width: int, height: int
) -> View | None:
    """Pictures of one size from one place, side by side: the camera turned by each angle."""
    start = part_at(elevations.space, camera.room, camera.at_m)
    if start is None:
        return None
    count = width * len(turns_deg)
    eye_m = min(camera.eye_m, STOOPED * elevations.height_m(camera.room))
    lens = Lens(count, height, width / 2 / tan(radians(camera.field_deg) / 2), eye_m)
    ways = [_way(radians(camera.toward_deg + turn), width, lens.focal) for turn in turns_deg]
    top, bottom = np.zeros(count, dtype=np.intp), np.full(count, height, dtype=np.intp)
    walk = _Walk(elevations, complex(*camera.at_m), lens)
    walk.into((start,), 0, _Rays(np.arange(count), np.concatenate(ways), top, bottom))
    return walk.canvas.view()


def _way(turn: float, width: int, focal: float) -> Vectors:
    """The rays of a picture's columns at depth 1."""
    ahead, right = complex(sin(turn), cos(turn)), complex(cos(turn), -sin(turn))
    aside = (np.arange(width) + 0.5 - width / 2) / focal
    return (ahead + right * aside).astype(np.complex128)


@dataclass(slots=True)
class _Rays:
    """Columns that are still open between two rows; `way` is the ray at depth 1."""

    columns: Ints
    way: Vectors
    top: Ints
    bottom: Ints

    def only(self, keep: NDArray[np.bool_] | Ints) -> "_Rays":
        return _Rays(self.columns[keep], self.way[keep], self.top[keep], self.bottom[keep])

    def clip(self, rows: Ints) -> Ints:
        return np.minimum(np.maximum(rows, self.top), self.bottom)


@dataclass(slots=True)
class _Met:
    """Rays that meet one zone of a wall, and how far on."""

    parts: tuple[PartKey, ...]
    openings: int
    side: Side
    rays: _Rays
    depth: Floats

    @property
    def room(self) -> str:
        return self.parts[-1][0]


class _Walk:
    """Follows rays through a house and puts what they meet on the canvas."""

    def __init__(self, elevations: Elevations, eye: complex, lens: Lens) -> None:
        self._elevations = elevations
        self._eye = eye
        self._lens = lens
        self.canvas = Canvas(lens)

    def into(self, parts: tuple[PartKey, ...], openings: int, rays: _Rays) -> None:
        """Follows rays that are in the last part to where they leave it."""
        sides = self._elevations.of(parts[-1])
        starts = np.array([complex(*side.segment_m[0]) for side in sides])
        runs = np.array([complex(*side.segment_m[1]) for side in sides]) - starts
        edge, depth, position = _leave(starts - self._eye, runs, rays.way)
        for i in np.flatnonzero(np.bincount(edge)):
            here = np.flatnonzero(edge == i)
            for zone, among in _by_zone(sides[i], position[here]):
                group = here[among]
                met = _Met(parts, openings, sides[i], rays.only(group), depth[group])
                if zone.gap and zone.gap.to not in parts:
                    self.into((*parts, zone.gap.to), openings, met.rays)
                else:
                    self._wall(met, zone)

    def _wall(self, met: _Met, zone: Zone) -> None:
        """Ceiling, the wall's bands from the top, floor."""
        rays, lens, canvas = met.rays, self._lens, self.canvas
        height = self._elevations.height_m(met.room)
        over = Face(met.room, SKY if self._elevations.is_outdoors(met.room) else "ceiling", None)
        heights = np.array([height, *(band.low_m for band in zone.bands)])
        top, *bottoms = rays.clip(lens.row(heights[:, None], met.depth))
        canvas.level(Runs(rays.columns, rays.top, top), over, CEILING_SHADE, height)
        for band, bottom in zip(zone.bands, bottoms, strict=True):
            if band.passages:
                window = _Rays(rays.columns, rays.way, top, bottom)
                self._hole(_Met(met.parts, met.openings, met.side, window, met.depth), band)
            else:
                face = Face(met.room, band.surface, met.side.wall)
                runs = Runs(rays.columns, top, bottom)
                canvas.upright(runs, face, _shade(met.side), met.depth)
            top = bottom
        self._floor(met, top, rays.bottom)

    def _hole(self, met: _Met, band: Band) -> None:
        """Through an opening, or against its sides where it is as deep as the wall."""
        passages = _from_right(band.passages)
        right, left = complex(*passages[0].rights[-1]), complex(*passages[-1].lefts[-1])
        depth, share = self._at(right, left, met.rays.way)
        run = left - right
        ends = [_share(run, complex(*each.rights[-1]) - right) for each in passages[1:]]
        which = np.searchsorted(ends, share, side="right")
        which[share < -_ROUNDING] = -1
        which[share > 1 + _ROUNDING] = len(passages)
        for i in np.unique(which):
            group = np.flatnonzero(which == i)
            part = replace(met, rays=met.rays.only(group), depth=met.depth[group])
            if i < 0:
                self._reveal(part, band, complex(*passages[0].rights[0]), right)
            elif i == len(passages):
                self._reveal(part, band, complex(*passages[-1].lefts[0]), left)
            else:
                self._beyond(part, band, passages[i], np.maximum(depth[group], part.depth))

    def _at(self, right: complex, left: complex, way: Vectors) -> tuple[Floats, Floats]:
        """Where rays meet a line: at which depth, and at which share of its length from `right`."""
        run = left - right
        depth = _depths(np.array(right - self._eye), np.array(run), way)
        aside = np.copysign(np.inf, _dot(np.array(run), way))
        with np.errstate(invalid="ignore"):
            share = _dot(np.array(run), self._eye + depth * way - right) / abs(run) ** 2
        return depth, np.where(np.isfinite(depth), share, aside)

    def _beyond(self, met: _Met, band: Band, passage: Passage, depth: Floats) -> None:
        """The soffit, what the next part shows, and the threshold."""
        rays = met.rays
        top, bottom = self._levels(met, band, depth)
        if met.openings == DEPTH or passage.to in met.parts:
            face = Face(met.room, OPENING, met.side.wall)
            self.canvas.upright(Runs(rays.columns, top, bottom), face, 1.0, depth)
            return
        open_ = np.flatnonzero(bottom > top)
        if len(open_):
            window = _Rays(rays.columns, rays.way, top, bottom).only(open_)
            self.into((*met.parts, passage.to), met.openings + 1, window)

    def _reveal(self, met: _Met, band: Band, near: complex, far: complex) -> None:
        """Against the thickness of the wall beside an opening."""
        run, way = far - near, met.rays.way
        slant = _dot(np.array(run * -1j), way)
        with np.errstate(divide="ignore", invalid="ignore"):
            depth = _dot(np.array(run * -1j), np.array(near - self._eye)) / slant
        depth = np.where(np.isfinite(depth), np.maximum(depth, met.depth), met.depth)
        top, bottom = self._levels(met, band, depth)
        face = Face(met.room, band.surface, met.side.wall)
        self.canvas.upright(Runs(met.rays.columns, top, bottom), face, REVEAL_SHADE, depth)

    def _levels(self, met: _Met, band: Band, depth: Floats) -> tuple[Ints, Ints]:
        """Paints soffit and threshold as far as a depth; what is open between them."""
        rays = met.rays
        top = rays.clip(self._lens.row(band.high_m, depth))
        bottom = np.maximum(rays.clip(self._lens.row(band.low_m, depth)), top)
        soffit = Face(met.room, band.surface, met.side.wall)
        self.canvas.level(Runs(rays.columns, rays.top, top), soffit, REVEAL_SHADE, band.high_m)
        self._floor(met, bottom, rays.bottom)
        return top, bottom

    def _floor(self, met: _Met, top: Ints, bottom: Ints) -> None:
        face = Face(met.room, "floor", None)
        self.canvas.level(Runs(met.rays.columns, top, bottom), face, FLOOR_SHADE, 0.0)


def _leave(starts: Vectors, runs: Vectors, way: Vectors) -> tuple[Ints, Floats, Floats]:
    """Over which edge of a part rays leave it, how deep, and where along that edge.

    `starts` are as seen from the eye. Of edges on one line it is the one that the ray meets.
    """
    depths = _depths(starts[:, None], runs[:, None], way)
    with np.errstate(invalid="ignore"):
        hits = depths * way
        positions = _dot((runs / np.abs(runs))[:, None], hits - starts[:, None])
        past = np.maximum(-positions, positions - np.abs(runs)[:, None])
        misses = np.where(np.isfinite(depths), depths + np.maximum(past, 0.0), np.inf)
    edge = np.argmin(misses, axis=0)
    ray = np.arange(len(edge))
    return edge, np.maximum(depths[edge, ray], NEAREST_M), positions[edge, ray]


def _by_zone(side: Side, position: Floats) -> Iterator[tuple[Zone, Ints]]:
    """The zones that are met, and by which of the rays."""
    if len(side.zones) == 1:
        yield side.zones[0], np.arange(len(position))
        return
    ends = [zone.end_m for zone in side.zones[:-1]]
    which = np.searchsorted(ends, position, side="right")
    for i in np.flatnonzero(np.bincount(which)):
        yield side.zones[i], np.flatnonzero(which == i)


def _from_right(passages: Sequence[Passage]) -> list[Passage]:
    """The passages of one hole, in the order of their far ends from right to left."""
    right, left = complex(*passages[0].rights[-1]), complex(*passages[0].lefts[-1])
    return sorted(passages, key=lambda each: _share(left - right, complex(*each.rights[-1])))


def _share(run: complex, offset: complex) -> float:
    return (run.conjugate() * offset).real / abs(run) ** 2


def _depths(to_start: Vectors, run: Vectors, way: Vectors) -> Floats:
    """The depth at which rays leave over the line of an edge; infinite where they do not."""
    outward = run * -1j
    leaving = _dot(outward, way)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(leaving > 0, _dot(outward, to_start) / leaving, np.inf)


def _dot(a: Vectors, b: Vectors) -> Floats:
    return np.real(np.conj(a) * b)


def _shade(side: Side) -> float:
    """By the way the wall runs, between 1 for east to west and ACROSS_SHADE."""
    (ax, ay), (bx, by) = side.segment_m
    along = (bx - ax) ** 2 / ((bx - ax) ** 2 + (by - ay) ** 2)
    return ACROSS_SHADE + (1 - ACROSS_SHADE) * along
