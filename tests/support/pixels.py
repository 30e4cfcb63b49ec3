"""A second opinion on the view: every pixel on its own, by a ray through the solid house.

Along each ray the house is a row of stretches: in a room, in the depth of an opening, or in solid
wall. The first floor, ceiling or wall that the ray runs into is what the pixel shows.
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
USUAL_HEIGHT_M = {"doorway": 2.0, "cased": 2.1}
Shown = tuple[str, str]
"""Room and surface."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    start: float
    end: float
    room: str | None
    opening: str | None


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
        rings = [shape.exterior.coords for shape in (*self.rooms.values(), *self.doors.values())]
        self.edges = np.array([edge for ring in rings for edge in pairwise(ring)])

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
                    self._shown(camera, way, stretches, (height / 2 - row - 0.5) / focal)
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
            yield _Stretch(before, float(after), room, door)
            if room is None and door is None:
                return
            before = float(after)
        yield _Stretch(before, np.inf, None, None)

    def _shown(self, camera: Camera, way: Point, stretches: list[_Stretch], slope: float) -> Shown:
        room = camera.room
        before: _Stretch | None = None
        for stretch in stretches:
            z_start = camera.eye_m + slope * stretch.start
            over = self._over(stretch)
            if before and before.room and z_start > over:
                at = (
                    camera.at_m[0] + way[0] * stretch.start,
                    camera.at_m[1] + way[1] * stretch.start,
                )
                return before.room, self._on_wall(before.room, at, z_start)
            if before and before.opening and over <= 0:
                return room, self._reveal(before.opening)
            room = stretch.room or room
            z_end = camera.eye_m + slope * stretch.end
            if z_end < 0:
                return room, "floor"
            if z_end > over:
                return room, self._above(room, stretch)
            before = stretch
        raise AssertionError("a ray left the house")

    def _over(self, stretch: _Stretch) -> float:
        """The height of the ceiling or lintel; none in solid wall."""
        if stretch.room:
            return self._height(stretch.room)
        return self._hole_height(self.house.openings[stretch.opening]) if stretch.opening else -9.0

    def _height(self, room: str) -> float:
        return self.house.rooms[room].height_m or 2.4

    def _hole_height(self, opening: Opening) -> float:
        lower = min(self._height(room) for room in opening.between)
        return min(lower, opening.height_m or USUAL_HEIGHT_M.get(opening.kind, lower))

    def _above(self, room: str, stretch: _Stretch) -> str:
        if stretch.opening:
            return self._reveal(stretch.opening)
        return "sky" if self.house.rooms[room].use == "outdoor" else "ceiling"

    def _reveal(self, opening: str) -> str:
        return "walls" if self.house.openings[opening].kind == "open" else "trim"

    def _on_wall(self, key: str, at: Point, z: float) -> str:
        """By the rules of what lies over what on a wall."""
        room = self.house.rooms[key]
        x, y = at[0] - self.plan.rooms[key].at_m[0], at[1] - self.plan.rooms[key].at_m[1]
        wall, along = min(
            ((wall, *_foot(wall, (x, y))) for wall in walls(room)), key=lambda found: found[2]
        )[:2]
        for window in room.windows.values():
            if window.wall == wall.key:
                aside = max(window.along_m - along, along - window.along_m - window.width_m)
                off = max(aside, window.sill_m - z, z - window.sill_m - window.height_m)
                if off < CASING_M:
                    return "window" if off < 0 else "trim"
        holes = list(self._holes(key, wall.key))
        for opening, start in holes:
            aside = max(start - along, along - start - (opening.width_m or 0.0))
            if max(aside, z - self._hole_height(opening)) < 0:
                return self._beyond(key, opening, z)
            if opening.kind != "open" and max(aside, z - self._hole_height(opening)) < CASING_M:
                return "trim"
        if room.use == "outdoor":
            return "walls" if holes else "sky"
        if z < SKIRTING_M:
            return "trim"
        return f"accent {wall.key}" if wall.key in room.accents else "walls"

    def _beyond(self, key: str, opening: Opening, z: float) -> str:
        """What closes a hole: a door, the steps of a flight up, or nothing that is known."""
        levels = [self.house.rooms[room].level for room in opening.between]
        if opening.kind == "stairs" and self.house.rooms[key].level == min(levels) < max(levels):
            steps = z / 0.18
            is_whole = steps < int(self._hole_height(opening) / 0.18)
            return "tread" if is_whole and (steps % 1) * 0.18 > 0.14 else "riser"
        return "opening" if opening.seen_through else "doors"

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
