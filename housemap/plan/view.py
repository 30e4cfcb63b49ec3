"""The first-person view: for each pixel the room and surface seen, and a shade; numpy.

One ray a column runs over the floor plan from part to part and through the openings. Where it
meets a wall, the wall's bands become rows: at depth d (measured along the heading) a height z is
seen at row H/2 - (z - eye) f / d, with f the width over 2 tan(field / 2). What is nearer narrows
the rows that are left for what is behind. Rows and columns are taken at pixel centres, so the
picture is the one that a ray through each pixel's centre gives. A smooth picture sends two rays,
along both sides of each column, and cuts a column where something begins or ends within it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin, tan
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.model.geometry import box_of, direction
from housemap.model.house import Point
from housemap.plan.elevations import OPENING, SKY, Band, Elevations, Recess, Side, Zone
from housemap.plan.free_space import PartKey, Passage, part_at
from housemap.plan.house_graph import EYE_M
from housemap.plan.raster import FAR_ROWS, Canvas, Face, Floats, Ints, Lens, Strips, Vectors, View
from housemap.plan.sightings import DEPTH
from housemap.plan.solids import Body, Frame, Solid, blocks_in, drawn_over, flights_in, may_be_seen

FIELD_DEG = 80.0
NEAREST_M = 1e-6
FLOOR_SHADE, CEILING_SHADE, REVEAL_SHADE, ACROSS_SHADE = 0.96, 0.98, 0.9, 0.94
"""Walls that run north to south are darker by the last than those that run east to west, and
levels and reveals by the others, so that edges between equal paints can be seen (our choice)."""

_ROUNDING = 1e-9

STOOPED = 0.8
"""No higher than this part of a room is the eye of who stands in it: under stairs one stoops."""


class Camera(NamedTuple):
    room: str
    at_m: Point
    toward_deg: float
    """Clockwise from plan-north."""
    field_deg: float = FIELD_DEG
    """From the left edge of the picture to the right one."""
    eye_m: float = EYE_M


def eye_height_m(elevations: Elevations, camera: Camera) -> float:
    return min(camera.eye_m, STOOPED * elevations.height_m(camera.room))


def frame_of(elevations: Elevations, camera: Camera, view: View) -> Frame:
    """Of a single picture."""
    height, width = view.face.shape
    focal = width / 2 / tan(radians(camera.field_deg) / 2)
    lens = Lens(width, height, focal, eye_height_m(elevations, camera))
    return Frame(lens, complex(*camera.at_m), complex(*direction(camera.toward_deg)), 0, width)


def look(
    elevations: Elevations, camera: Camera, width: int, height: int, *, smooth: bool = False,
    bodies: Sequence[Body] = (),
) -> View | None:  # fmt: skip
    """The picture of square pixels that the camera sees; None where it stands outside its room.

    A smooth one also says how much of the pixels along edges each face covers, and its floors have
    the lines of their boards or tiles. `bodies` stand in the rooms besides furniture.
    """
    view = look_about(elevations, camera, (0.0,), width, height, smooth=smooth, bodies=bodies)
    if view is None or not smooth:
        return view
    return with_floor_patterns(elevations, frame_of(elevations, camera, view), view)


def look_about(
    elevations: Elevations, camera: Camera, turns_deg: Sequence[float], width: int, height: int,
    *, smooth: bool = False, bodies: Sequence[Body] = (),
) -> View | None:  # fmt: skip
    """Pictures of one size from one place, side by side: the camera turned by each angle."""
    start = part_at(elevations.space, camera.room, camera.at_m)
    if start is None:
        return None
    count = width * len(turns_deg)
    focal = width / 2 / tan(radians(camera.field_deg) / 2)
    lens = Lens(count, height, focal, eye_height_m(elevations, camera))
    sides = (0.0, 1.0) if smooth else (0.5,)
    turns = [radians(camera.toward_deg + turn) for turn in turns_deg]
    way = np.stack(
        [np.concatenate([_way(turn, width, lens.focal, side) for turn in turns]) for side in sides]
    )
    column = np.arange(count)
    edge = column.astype(np.float64)
    shape = len(sides), count
    strips = Strips(
        column, edge + sides[0], edge + sides[-1], way,
        np.full(shape, -FAR_ROWS), np.full(shape, FAR_ROWS),
    )  # fmt: skip
    walk = _Walk(elevations, complex(*camera.at_m), lens)
    walk.into((start,), 0, strips)
    view = walk.canvas.view()
    shown = dict.fromkeys(face.room for face in view.faces)
    solids: list[Solid] = []
    for find in (flights_in, blocks_in):
        solids += [solid for room in shown for solid in find(elevations, room)]
    solids += [body for body in bodies if body.room in shown]
    for i, turn in enumerate(turns):
        ahead = complex(sin(turn), cos(turn))
        frame = Frame(lens, complex(*camera.at_m), ahead, i * width, width)
        for solid in solids:
            if not isinstance(solid, Body) or may_be_seen(frame, solid, view.depth_m):
                view = drawn_over(view, frame, solid, smooth=smooth)
    return view


def _way(turn: float, width: int, focal: float, side: float) -> Vectors:
    """The rays of a picture's columns at depth 1; `side` from 0, the left one, to 1."""
    ahead, right = complex(sin(turn), cos(turn)), complex(cos(turn), -sin(turn))
    aside = (np.arange(width) + side - width / 2) / focal
    return (ahead + right * aside).astype(np.complex128)


@dataclass(slots=True)
class _Met:
    """Strips that meet one zone of a wall, and how far on."""

    parts: tuple[PartKey, ...]
    openings: int
    side: Side
    strips: Strips
    depth: Floats
    """(k, n)."""

    @property
    def room(self) -> str:
        return self.parts[-1][0]

    def only(self, keep: Ints) -> "_Met":
        return replace(self, strips=self.strips.only(keep), depth=self.depth.take(keep, 1))


class _Walk:
    """Follows rays through a house and puts what they meet on the canvas."""

    def __init__(self, elevations: Elevations, eye: complex, lens: Lens) -> None:
        self._elevations = elevations
        self._eye = eye
        self._lens = lens
        self.canvas = Canvas(lens)

    def into(self, parts: tuple[PartKey, ...], openings: int, strips: Strips) -> None:
        """Follows rays that are in the last part to where they leave it."""
        sides = self._elevations.of(parts[-1])
        strips = strips.split(self._elevations.uprights(parts[-1]) - self._eye)
        starts = np.array([complex(*side.segment_m[0]) for side in sides])
        runs = np.array([complex(*side.segment_m[1]) for side in sides]) - starts
        edge, depth, position = _leave(starts - self._eye, runs, strips)
        for i in np.flatnonzero(np.bincount(edge)):
            here = np.flatnonzero(edge == i)
            for zone, among in _by_zone(sides[i], position[here]):
                group = here[among]
                met = _Met(parts, openings, sides[i], strips.only(group), depth.take(group, 1))
                if zone.gap and zone.gap.to not in parts:
                    self.into((*parts, zone.gap.to), openings, met.strips)
                else:
                    self._wall(met, zone)

    def _wall(self, met: _Met, zone: Zone) -> None:
        """Ceiling, the wall's bands from the top, floor."""
        strips, height = met.strips, self._elevations.height_m(met.room)
        outdoors = self._elevations.house.rooms[met.room].use == "outdoor"
        over = Face(met.room, SKY if outdoors else "ceiling", None)
        top = strips.clip(self._lens.line(height, met.depth))
        self.canvas.level(strips.between(strips.top, top), over, CEILING_SHADE, height)
        bottom = self._bands(met, zone, top)
        self._floor(met, Face(met.room, "floor", None), 0.0, bottom)

    def _bands(self, met: _Met, zone: Zone, top: Floats) -> Floats:
        """What is on a stretch of wall, from a line down; the line where it ends."""
        lows = np.array([band.low_m for band in zone.bands])
        bottoms = met.strips.clip(self._lens.line(lows[:, None, None], met.depth))
        for band, bottom in zip(zone.bands, bottoms, strict=True):
            window = met.strips.between(top, bottom)
            if band.ways:
                self._hole(replace(met, strips=window), band)
            else:
                face = Face(met.room, band.surface, met.side.wall)
                self.canvas.upright(window, face, _shade(met.side), met.depth)
            top = bottom
        return top

    def _hole(self, met: _Met, band: Band) -> None:
        """Through an opening or into a recess, or against its sides."""
        ways = _from_right(band.ways)
        right, left = complex(*ways[0].rights[-1]), complex(*ways[-1].lefts[-1])
        depth, share = self._at(right, left, met.strips)
        run = left - right
        ends = [_share(run, complex(*each.rights[-1]) - right) for each in ways[1:]]
        which = np.searchsorted(ends, share, side="right")
        which[share < -_ROUNDING] = -1
        which[share > 1 + _ROUNDING] = len(ways)
        for i in np.unique(which):
            group = np.flatnonzero(which == i)
            part, way = met.only(group), ways[min(max(i, 0), len(ways) - 1)]
            far = np.maximum(depth.take(group, 1), part.depth)
            if i < 0:
                self._reveal(part, band, way, complex(*way.rights[0]), right)
            elif i == len(ways):
                self._reveal(part, band, way, complex(*way.lefts[0]), left)
            elif isinstance(way, Recess):
                self._back(replace(part, depth=far), band, way, share[group] * abs(run))
            else:
                self._beyond(part, band, way, far)

    def _at(self, right: complex, left: complex, strips: Strips) -> tuple[Floats, Floats]:
        """Where rays meet a line: at which depth, and at which share of its length from `right`.

        The share is that of the middle of each strip.
        """
        run, way = left - right, strips.middle
        depth = _depths(np.array(right - self._eye), np.array(run), strips.way)
        middle = _depths(np.array(right - self._eye), np.array(run), way)
        aside = np.copysign(np.inf, _dot(np.array(run), way))
        with np.errstate(invalid="ignore"):
            share = _dot(np.array(run), self._eye + middle * way - right) / abs(run) ** 2
        return depth, np.where(np.isfinite(middle), share, aside)

    def _beyond(self, met: _Met, band: Band, passage: Passage, depth: Floats) -> None:
        """The soffit, what the next part shows, and the threshold."""
        window = self._levels(met, band, passage, depth)
        if met.openings == DEPTH or passage.to in met.parts:
            face = Face(met.room, OPENING, met.side.wall)
            self.canvas.upright(window, face, 1.0, depth)
            return
        open_ = np.flatnonzero((window.bottom > window.top).any(axis=0))
        if len(open_):
            self.into((*met.parts, passage.to), met.openings + 1, window.only(open_))

    def _back(self, met: _Met, band: Band, recess: Recess, position: Floats) -> None:
        """The end of a recess, at so many metres from its right."""
        window = self._levels(met, band, recess, met.depth)
        for zone, among in _by_zone(recess.back, position):
            part = replace(met, side=recess.back._replace(wall=met.side.wall), strips=window)
            self._bands(part.only(among), zone, window.only(among).top)

    def _reveal(
        self, met: _Met, band: Band, way: Passage | Recess, near: complex, far: complex
    ) -> None:
        """Against the thickness of the wall beside an opening."""
        run, rays = far - near, met.strips.way
        slant = _dot(np.array(run * -1j), rays)
        with np.errstate(divide="ignore", invalid="ignore"):
            depth = _dot(np.array(run * -1j), np.array(near - self._eye)) / slant
        depth = np.where(np.isfinite(depth), np.maximum(depth, met.depth), met.depth)
        face = Face(met.room, band.surface, met.side.wall)
        self.canvas.upright(self._levels(met, band, way, depth), face, REVEAL_SHADE, depth)

    def _levels(self, met: _Met, band: Band, way: Passage | Recess, depth: Floats) -> Strips:
        """Paints soffit and threshold as far as a depth; what is open between them."""
        strips = met.strips
        low_m, floor = (way.low_m, way.floor) if isinstance(way, Recess) else (0.0, "floor")
        top = strips.clip(self._lens.line(band.high_m, depth))
        bottom = np.maximum(strips.clip(self._lens.line(low_m, depth)), top)
        soffit = Face(met.room, band.surface, met.side.wall)
        above = strips.between(strips.top, top)
        self.canvas.level(above, soffit, REVEAL_SHADE, band.high_m)
        under = Face(met.room, floor, met.side.wall if floor == "trim" else None)
        self._floor(met, under, low_m, bottom)
        return strips.between(top, bottom)

    def _floor(self, met: _Met, face: Face, z_m: float, top: Floats) -> None:
        below = met.strips.between(top, met.strips.bottom)
        self.canvas.level(below, face, FLOOR_SHADE, z_m)


def _leave(starts: Vectors, runs: Vectors, strips: Strips) -> tuple[Ints, Floats, Floats]:
    """Over which edge of a part strips leave it, how deep (k, n), and where along that edge.

    `starts` are as seen from the eye. Of edges on one line it is the one that the middle meets.
    """
    way = strips.middle
    depths = _depths(starts[:, None], runs[:, None], way)
    with np.errstate(invalid="ignore"):
        hits = depths * way
        positions = _dot((runs / np.abs(runs))[:, None], hits - starts[:, None])
        past = np.maximum(-positions, positions - np.abs(runs)[:, None])
        misses = np.where(np.isfinite(depths), depths + np.maximum(past, 0.0), np.inf)
    edge = np.argmin(misses, axis=0)
    strip = np.arange(len(edge))
    met = depths[edge, strip]
    if len(strips.way) > 1:
        sides = _depths(starts[edge], runs[edge], strips.way)
        met = np.where(np.isfinite(sides), sides, met)
    else:
        met = met[None]
    return edge, np.maximum(met, NEAREST_M), positions[edge, strip]


def _by_zone(side: Side, position: Floats) -> Iterator[tuple[Zone, Ints]]:
    """The zones that are met, and by which of the rays."""
    if len(side.zones) == 1:
        yield side.zones[0], np.arange(len(position))
        return
    ends = [zone.end_m for zone in side.zones[:-1]]
    which = np.searchsorted(ends, position, side="right")
    for i in np.flatnonzero(np.bincount(which)):
        yield side.zones[i], np.flatnonzero(which == i)


def _from_right(ways: Sequence[Passage | Recess]) -> list[Passage | Recess]:
    """The ways out of one hole, in the order of their far ends from right to left."""
    right, left = complex(*ways[0].rights[-1]), complex(*ways[0].lefts[-1])
    return sorted(ways, key=lambda each: _share(left - right, complex(*each.rights[-1])))


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


# Floors: boards and tiles as faint lines, averaged over what each pixel covers of the floor (a box
# filter, in closed form), so that they fade with distance. The words of a floor's name say which
# lines it has; sizes are common practice, no source.

BOARDS = frozenset({"board", "boards", "plank", "planks", "parquet", "laminate"})
TILES = frozenset({"tile", "tiles", "slate", "stone", "terrazzo", "quarry", "flags", "flagstones"})
BOARD_M, TILE_M, JOINT_M = 0.14, 0.33, 0.006
JOINT_SHADE = 0.82
"""Joints are darker than the floor by this (our choice)."""


class Pattern(NamedTuple):
    """Lines at equal distances, in metres; 0 for none."""

    east_m: float
    """From line to line on the way to plan-east."""
    north_m: float


def pattern_of(elevations: Elevations, room: str) -> Pattern | None:
    """Boards run along the longer side of a room; None for a floor without lines."""
    house, floor = elevations.house, elevations.house.rooms[room].floor
    words = house.finishes[floor].name.lower().replace(",", " ").split() if floor else ()
    if not TILES.isdisjoint(words):
        return Pattern(TILE_M, TILE_M)
    if BOARDS.isdisjoint(words):
        return None
    west, south, east, north = box_of(elevations.plan.rooms[room].outline_m)
    return Pattern(0.0, BOARD_M) if east - west >= north - south else Pattern(BOARD_M, 0.0)


def with_floor_patterns(elevations: Elevations, frame: Frame, view: View) -> View:
    """The view with the lines of its floors in its shade."""
    patterns = {
        number: pattern
        for number, face in enumerate(view.faces)
        if face.surface == "floor" and (pattern := pattern_of(elevations, face.room))
    }
    if not patterns:
        return view
    shade, flat = view.shade.copy(), view.face.ravel()
    for number, pattern in patterns.items():
        pixel = np.flatnonzero(flat == number)
        at_m = frame.points(pixel, view.depth_m.ravel()[pixel])
        east, north = frame.footprint_m(view.depth_m.ravel()[pixel])
        ways = (at_m[0], east, pattern.east_m), (at_m[1], north, pattern.north_m)
        for place, wide, step in ways:
            if step:
                shade.ravel()[pixel] *= 1 - (1 - JOINT_SHADE) * joint_share(place, wide, step)
    return replace(view, shade=shade)


def joint_share(
    place_m: NDArray[np.float32], wide_m: NDArray[np.float32], step_m: float
) -> NDArray[np.float32]:
    """The part of a stretch round each place that joints take up, one every `step_m`."""
    step, joint = np.float32(step_m), np.float32(JOINT_M)

    def joints_to(at: NDArray[np.float32]) -> NDArray[np.float32]:
        """How much joint there is from 0 to a place."""
        whole = np.floor(at / step)
        return np.asarray(whole * joint + np.minimum(at - whole * step, joint), dtype=np.float32)

    half = np.asarray(wide_m / 2, dtype=np.float32)
    start, end = np.subtract(place_m, half), np.add(place_m, half)
    return np.asarray(np.subtract(joints_to(end), joints_to(start)) / wide_m)
