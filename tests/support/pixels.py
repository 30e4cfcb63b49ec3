"""A second opinion on the view: every pixel on its own, by a ray through the solid house.

Along each ray the house is a row of stretches: in a room, in the depth of an opening, in the recess
of a window or a stairwell, or in solid wall. The first floor, ceiling or wall that the ray runs
into is what the pixel shows, if no step of a flight comes before it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin, tan

import numpy as np
from shapely import Point as ShapelyPoint
from shapely import Polygon

from housemap.model.geometry import Wall, walls
from housemap.model.house import House, Opening, Point
from housemap.plan.floor_plan import Plan
from housemap.plan.view import Camera

CASING_M, SKIRTING_M = 0.07, 0.1
RECESS_M, SASH_M, PANE_M = 0.1, 0.05, 1.0
RISE_M, GOING_M, DOWN = 0.18, 0.25, 13
USUAL_HEIGHT_M = {"doorway": 2.0, "cased": 2.1}
Shown = tuple[str, str]
"""Room and surface."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    start: float
    end: float
    room: str | None
    opening: str | None
    recess: "_Recess | None" = None


@dataclass(frozen=True, slots=True)
class _Recess:
    """What lies behind a wall, between two heights, as far as one can look into it."""

    shape: Polygon
    low: float
    bottom: float
    """Of its floor; lower than `low` where stairs lead down."""
    high: float
    start: Point
    along: Point
    width: float
    is_window: bool

    def end(self, at: Point, z: float) -> str:
        """What is seen of it at its far end, or on its sides."""
        if not self.is_window:
            return "walls"
        x = (at[0] - self.start[0]) * self.along[0] + (at[1] - self.start[1]) * self.along[1]
        y = (at[0] - self.start[0]) * self.along[1] - (at[1] - self.start[1]) * self.along[0]
        is_side = abs(abs(y) - RECESS_M) > 1e-6
        is_glass = not is_side and _in_pane(x, self.width, z - self.low, self.high - self.low)
        return "window" if is_glass else "trim"


@dataclass(frozen=True, slots=True)
class _Flight:
    """Steps as solid boxes: the foot's right end, the way along and across, and their measures."""

    room: str
    foot: Point
    away: Point
    across: Point
    width: float
    going: float
    steps: int

    def met(self, eye: Point, eye_m: float, way: Point, slope: float) -> tuple[float, str] | None:
        """How far on a ray meets a step, and what of it."""
        off = (eye[0] - self.foot[0], eye[1] - self.foot[1])
        t0, v0 = _dot(off, self.away), _dot(off, self.across)
        t1, v1 = _dot(way, self.away), _dot(way, self.across)
        if t1 <= 0:
            return None
        found = []
        for step in range(abs(self.steps)):
            top = (step + 1) * RISE_M * (1 if self.steps > 0 else -1)
            spans = [((step * self.going - t0) / t1, ((step + 1) * self.going - t0) / t1)]
            if abs(v1) > 1e-12:
                a, b = sorted((-v0 / v1, (self.width - v0) / v1))
                spans.append((a, b))
            start, end = max(a for a, _ in spans), min(b for _, b in spans)
            if end <= max(start, 0.05):
                continue
            if eye_m + slope * start < top and self.steps > 0:
                found.append((start, "riser"))
            elif eye_m + slope * start >= top > eye_m + slope * end:
                found.append(((top - eye_m) / slope, "tread"))
        return min(found, default=None)


def _in_pane(x: float, width: float, z: float, height: float) -> bool:
    """Whether a place on a sash is glass."""
    count = max(1, -int(-width // PANE_M))
    sash = min(SASH_M, width / count / 4, height / 4)
    wide = (width - sash) / count
    return 0 < x < count * wide and x % wide > sash and sash < z < height - sash


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]


class SolidHouse:
    """One level of a placed house to shoot rays through."""

    def __init__(self, house: House, plan: Plan, level: int = 0) -> None:
        self.house = house
        self.plan = plan
        self.rooms = {
            k: Polygon(r.outline_m) for k, r in plan.rooms.items() if r.sized and r.level == level
        }
        self.doors = {
            key: Polygon((*placed.near_m, *placed.far_m[::-1]))
            for key, placed in plan.openings.items()
            if placed.measured
            and house.openings[key].between[0] in self.rooms
            and house.openings[key].seen_through
            and (house.openings[key].height_m or 9.0) > 1.6
        }
        self.recesses: list[tuple[str, _Recess]] = []
        self.flights: list[_Flight] = []
        for key in self.rooms:
            self._windows(key)
            self._stairs(key)
        wells = [recess.shape for _, recess in self.recesses]
        shapes = (*self.rooms.values(), *self.doors.values(), *wells)
        rings = [shape.exterior.coords for shape in shapes]
        self.edges = np.array([edge for ring in rings for edge in pairwise(ring)])

    def _windows(self, key: str) -> None:
        room = self.house.rooms[key]
        by_key = {wall.key: wall for wall in walls(room)}
        for window in room.windows.values():
            ends = window.along_m, window.along_m + window.width_m
            deep = min(RECESS_M, self.house.wall_thickness_m)
            low, high = window.sill_m, window.sill_m + window.height_m
            self._recess(key, by_key[window.wall], ends, deep, (low, low, high), is_window=True)

    def _stairs(self, key: str) -> None:
        room = self.house.rooms[key]
        for wall in walls(room):
            for opening, start in self._holes(key, wall.key):
                if opening.kind != "stairs":
                    continue
                high, down = self._hole_height(opening), not self._leads_up(key, opening)
                ends = start, start + (opening.width_m or 0.0)
                if down or room.use != "stair":
                    steps = -DOWN if down else int(high / RISE_M)
                    heights = 0.0, min(steps * RISE_M, 0.0), high
                    deep = abs(steps) * GOING_M
                    self._recess(key, wall, ends, deep, heights, is_window=False)
                    going, back = GOING_M, 0.0
                else:
                    steps = int(self._height(key) / RISE_M)
                    deep = max(_foot(wall, corner)[1] for corner in self._own_corners(key))
                    going = min(GOING_M, 0.94 * deep / steps)
                    back = going * steps
                self._flight(key, wall, ends, (going, steps, back))

    def _own_corners(self, key: str) -> list[Point]:
        west, south = self.plan.rooms[key].at_m
        return [(x - west, y - south) for x, y in self.rooms[key].exterior.coords]

    def _leads_up(self, key: str, opening: Opening) -> bool:
        levels = [self.house.rooms[room].level for room in opening.between]
        return self.house.rooms[key].level == min(levels) < max(levels)

    def _placed(self, key: str, wall: Wall, along: float) -> tuple[Point, Point, Point]:
        """A place on a wall, the way along the wall and the way out."""
        run = ((wall.end_m[0] - wall.start_m[0]) / wall.length_m,
               (wall.end_m[1] - wall.start_m[1]) / wall.length_m)  # fmt: skip
        west, south = self.plan.rooms[key].at_m
        at = wall.start_m[0] + along * run[0] + west, wall.start_m[1] + along * run[1] + south
        out = (run[1], -run[0])
        middle = (wall.start_m[0] + wall.end_m[0]) / 2, (wall.start_m[1] + wall.end_m[1]) / 2
        probe = ShapelyPoint(middle[0] + west + out[0] * 0.01, middle[1] + south + out[1] * 0.01)
        return at, run, (-out[0], -out[1]) if self.rooms[key].contains(probe) else out

    def _recess(
        self, key: str, wall: Wall, ends: Point, deep: float, heights: tuple[float, float, float],
        *, is_window: bool,
    ) -> None:  # fmt: skip
        a, run, out = self._placed(key, wall, ends[0])
        b = self._placed(key, wall, ends[1])[0]
        far = [(x + out[0] * deep, y + out[1] * deep) for x, y in (b, a)]
        shape = Polygon([a, b, *far]).buffer(1e-9, join_style="mitre")
        low, bottom, high = heights
        self.recesses.append(
            (key, _Recess(shape, low, bottom, high, a, run, ends[1] - ends[0], is_window))
        )

    def _flight(
        self, key: str, wall: Wall, ends: Point, measures: tuple[float, int, float]
    ) -> None:
        going, steps, back = measures
        a, run, out = self._placed(key, wall, ends[0])
        foot = a[0] - out[0] * back, a[1] - out[1] * back
        self.flights.append(_Flight(key, foot, out, run, ends[1] - ends[0], going, steps))

    def picture(self, camera: Camera, width: int, height: int) -> list[list[Shown]]:
        """What each pixel shows, row by row."""
        focal = width / 2 / tan(radians(camera.field_deg) / 2)
        turn = radians(camera.toward_deg)
        columns = []
        for column in range(width):
            aside = (column + 0.5 - width / 2) / focal
            way = (sin(turn) + cos(turn) * aside, cos(turn) - sin(turn) * aside)
            stretches = list(self._stretches(camera, way))
            columns.append(
                [
                    self._first(camera, way, stretches, (height / 2 - row - 0.5) / focal)
                    for row in range(height)
                ]
            )
        return [list(row) for row in zip(*columns, strict=True)]

    def _stretches(self, camera: Camera, way: Point) -> Iterator[_Stretch]:
        eye = np.array(camera.at_m)
        start, run = self.edges[:, 0] - eye, self.edges[:, 1] - self.edges[:, 0]
        with np.errstate(divide="ignore", invalid="ignore"):
            slant = way[0] * run[:, 1] - way[1] * run[:, 0]
            depth = (start[:, 0] * run[:, 1] - start[:, 1] * run[:, 0]) / slant
            share = (start[:, 0] * way[1] - start[:, 1] * way[0]) / slant
        met = np.unique(np.round(depth[(share >= -1e-9) & (share <= 1 + 1e-9) & (depth > 0)], 9))
        before = 0.0
        for after in met:
            middle = ShapelyPoint(eye + np.array(way) * (before + after) / 2)
            room = next((k for k, shape in self.rooms.items() if shape.contains(middle)), None)
            door = next((k for k, shape in self.doors.items() if shape.contains(middle)), None)
            well = next((r for _, r in self.recesses if r.shape.contains(middle)), None)
            yield _Stretch(before, float(after), room, door, None if room or door else well)
            if room is None and door is None and well is None:
                return
            before = float(after)
        yield _Stretch(before, np.inf, None, None)

    def _first(self, camera: Camera, way: Point, stretches: list[_Stretch], slope: float) -> Shown:
        depth, shown = self._shown(camera, way, stretches, slope)
        for flight in self.flights:
            met = flight.met(camera.at_m, camera.eye_m, way, slope)
            if met and met[0] < depth - 1e-6:
                depth, shown = met[0], (flight.room, met[1])
        return shown

    def _shown(
        self, camera: Camera, way: Point, stretches: list[_Stretch], slope: float
    ) -> tuple[float, Shown]:
        """What the house without its stairs shows, and how far off."""
        room = camera.room
        before: _Stretch | None = None
        for stretch in stretches:
            z_start = camera.eye_m + slope * stretch.start
            over, under = self._over(stretch), self._under(stretch, before)
            at = camera.at_m[0] + way[0] * stretch.start, camera.at_m[1] + way[1] * stretch.start
            if before and before.room and self._meets_sash(before.room, stretch, at, z_start):
                return stretch.start, (before.room, "trim")
            if before and before.room and not under <= z_start <= over:
                return stretch.start, (before.room, self._on_wall(before.room, at, z_start))
            if before and before.recess:
                return stretch.start, (room, before.recess.end(at, z_start))
            if before and before.opening and over <= 0:
                return stretch.start, (room, self._reveal(before.opening))
            room = stretch.room or room
            z_end = camera.eye_m + slope * stretch.end
            floor = stretch.recess.bottom if stretch.recess else 0.0
            if z_end < floor:
                is_sill = stretch.recess and stretch.recess.is_window
                return (floor - camera.eye_m) / slope, (room, "trim" if is_sill else "floor")
            if z_end > over:
                return (over - camera.eye_m) / slope, (room, self._above(room, stretch))
            before = stretch
        raise AssertionError("a ray left the house")

    def _meets_sash(self, key: str, stretch: _Stretch, at: Point, z: float) -> bool:
        """Of a glazed opening, in the wall of the room that one comes from."""
        if not stretch.opening or self.house.openings[stretch.opening].kind != "glazed":
            return False
        opening = self.house.openings[stretch.opening]
        wall, along = self._wall_at(key, at)
        start = next(start for each, start in self._holes(key, wall.key) if each is opening)
        height = self._hole_height(opening)
        return z < height and not _in_pane(along - start, opening.width_m or 0.0, z, height)

    def _wall_at(self, key: str, at: Point) -> tuple[Wall, float]:
        x, y = at[0] - self.plan.rooms[key].at_m[0], at[1] - self.plan.rooms[key].at_m[1]
        feet = ((wall, *_foot(wall, (x, y))) for wall in walls(self.house.rooms[key]))
        return min(feet, key=lambda found: found[2])[:2]

    def _under(self, stretch: _Stretch, before: _Stretch | None) -> float:
        """The sill of a recess where a ray comes in."""
        is_entry = stretch.recess and before and before.room
        return stretch.recess.low if stretch.recess and is_entry else -1e9

    def _over(self, stretch: _Stretch) -> float:
        """The height of the ceiling or lintel; none in solid wall."""
        if stretch.room:
            return self._height(stretch.room)
        if stretch.recess:
            return stretch.recess.high
        if not stretch.opening:
            return -9.0
        opening = self.house.openings[stretch.opening]
        return self._hole_height(opening) - (SASH_M if opening.kind == "glazed" else 0.0)

    def _height(self, room: str) -> float:
        return self.house.rooms[room].height_m or 2.4

    def _hole_height(self, opening: Opening) -> float:
        lower = min(self._height(room) for room in opening.between)
        return min(lower, opening.height_m or USUAL_HEIGHT_M.get(opening.kind, lower))

    def _above(self, room: str, stretch: _Stretch) -> str:
        if stretch.opening:
            return self._reveal(stretch.opening)
        if stretch.recess:
            return "trim" if stretch.recess.is_window else "walls"
        return "sky" if self.house.rooms[room].use == "outdoor" else "ceiling"

    def _reveal(self, opening: str) -> str:
        return "walls" if self.house.openings[opening].kind == "open" else "trim"

    def _on_wall(self, key: str, at: Point, z: float) -> str:
        """By the rules of what lies over what on a wall."""
        room = self.house.rooms[key]
        wall, along = self._wall_at(key, at)
        for window in room.windows.values():
            if window.wall == wall.key:
                aside = max(window.along_m - along, along - window.along_m - window.width_m)
                off = max(aside, window.sill_m - z, z - window.sill_m - window.height_m)
                if off < CASING_M:
                    return "trim"
        holes = list(self._holes(key, wall.key))
        for opening, start in holes:
            if opening.kind == "stairs" and room.use == "stair" and self._leads_up(key, opening):
                continue
            aside = max(start - along, along - start - (opening.width_m or 0.0))
            if max(aside, z - self._hole_height(opening)) < 0:
                return "opening" if opening.seen_through else "doors"
            if opening.kind != "open" and max(aside, z - self._hole_height(opening)) < CASING_M:
                return "trim"
        if room.use == "outdoor":
            return "walls" if holes else "sky"
        if z < SKIRTING_M:
            return "trim"
        return f"accent {wall.key}" if wall.key in room.accents else "walls"

    def _holes(self, key: str, wall: str) -> Iterator[tuple[Opening, float]]:
        for opening in self.house.openings.values():
            if opening.between[0] == key and opening.wall == wall:
                yield opening, opening.along_m or 0.0
            if opening.between[1] == key and opening.to_wall == wall:
                yield opening, opening.to_along_m or 0.0


def _foot(wall: Wall, at: Point) -> tuple[float, float]:
    """Where along a wall a point lies, and how far from it."""
    (ax, ay), (bx, by) = wall.start_m, wall.end_m
    run = ((bx - ax) / wall.length_m, (by - ay) / wall.length_m)
    along = (at[0] - ax) * run[0] + (at[1] - ay) * run[1]
    inside = min(max(along, 0.0), wall.length_m)
    foot = (ax + run[0] * inside, ay + run[1] * inside)
    return along, ((at[0] - foot[0]) ** 2 + (at[1] - foot[1]) ** 2) ** 0.5
