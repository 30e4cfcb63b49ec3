"""The areas of a measured room, taken off as a painter's bill is: by IS 1200.

Walls are gross less deductions (Part 13:1994, clause 3). Doors and windows count their flat area
times a coefficient for each side (Part 15:1987, Table 1). Trim is length times girth. Parts of a
room (panelling, a radiator, a papered or tiled piece of wall) have areas of their own, and what
lies on a wall is taken off that wall.
"""

from collections.abc import Iterable, Iterator, Mapping
from math import inf
from typing import NamedTuple

from housemap.model.geometry import (
    floor_area_m2,
    opening_area_m2,
    opening_height_m,
    perimeter_m,
    wall_of,
    walls,
    window_area_m2,
)
from housemap.model.grouping import grouped
from housemap.model.house import House, Opening, Part, PartKind, Room, Surface, part_surface

DEDUCTED_ABOVE_M2, ONE_FACE_M2 = 0.5, 3.0
"""A hole up to the first size is not deducted from its wall; up to the second, from one of its
faces; a larger one from both (IS 1200 Part 13:1994, clause 3)."""
DOOR_COEFFICIENT, PANELLED_COEFFICIENT, GLAZED_COEFFICIENT = 1.2, 1.3, 0.8
"""A flush door, a panelled one, and glazed timber, each side (IS 1200 Part 15:1987, Table 1)."""
SKIRTING_GIRTH_M = 0.12
CASING_GIRTH_M = 0.10
"""Common practice, no source: the painted face and edge of a plain skirting and of a door casing
or window board."""
RADIATOR_HEIGHT_M, RADIATOR_LENGTH_M, RADIATOR_FACES = 0.6, 1.0, 2
PANELLING_HEIGHT_M = 1.0
DOOR_M2 = 0.8 * 2.0
"""Where a part gives no area: a radiator's usual size, painted in front and behind; panelling and
tile to the height of a chair rail; a usual door leaf (common practice, no source)."""

ON_WALL: frozenset[PartKind] = frozenset({"panelling", "paper", "tile"})
"""Parts that take the place of some wall."""


class Hole(NamedTuple):
    """An opening or window in a room's wall; `faces` counts the rooms indoors that have it."""

    area_m2: float
    width_m: float
    height_m: float
    faces: int
    to_floor: bool


def part_of(room: Room, surface: str) -> Part | None:
    kind, _, key = surface.partition(" ")
    return room.parts.get(key) if kind == "part" else None


def deducted_m2(area_m2: float, faces: int = 2) -> float:
    """What a hole takes off its wall in each of the rooms that have it.

    Where one face is deducted and both are alike, half of it in each room: the faces of a hole
    have the same reveals here, and nothing is added for these.
    """
    if area_m2 <= DEDUCTED_ABOVE_M2:
        return 0.0
    return area_m2 if area_m2 > ONE_FACE_M2 else area_m2 / faces


class _Site(NamedTuple):
    """A room with the openings in its walls."""

    house: House
    room: Room
    openings: tuple[Opening, ...]

    @property
    def holes(self) -> Iterator[Hole]:
        for window in self.room.windows.values():
            area = window_area_m2(window)
            yield Hole(area, window.width_m, window.height_m, faces=1, to_floor=False)
        for opening in self.openings:
            area, width = opening_area_m2(self.house, opening), opening.width_m or 0.0
            height = opening_height_m(self.house, opening) or 0.0
            outdoors = any(self.house.rooms[of].use == "outdoor" for of in opening.between)
            yield Hole(area, width, height, faces=1 if outdoors else 2, to_floor=True)

    @property
    def leaves_m2(self) -> list[float]:
        """Of the doors, the smallest first."""
        doors = (opening for opening in self.openings if opening.kind == "doorway")
        return sorted(opening_area_m2(self.house, door) for door in doors)

    def skirting_m(self, around_m: float) -> float:
        """Its length: around the room, between the openings."""
        return max(around_m - sum(hole.width_m for hole in self.holes if hole.to_floor), 0.0)


class RoomAreas(NamedTuple):
    floor_m2: float
    wall_m2: float
    """Perimeter times height."""
    wall_net_m2: float
    """What is there: less each window and opening that is deducted, whole."""
    volume_m3: float
    to_paint_m2: Mapping[str, float]
    """By surface ("walls", "accent n", "ceiling", "trim", "doors", "part rail"); without the parts
    that give no measure and have no usual one."""


def room_areas(house: House, room_id: str, openings: Iterable[Opening]) -> RoomAreas | None:
    """None where the floor or height is not measured: a room is never counted as nothing."""
    room = house.rooms[room_id]
    floor, around = floor_area_m2(room), perimeter_m(room)
    if floor is None or around is None or room.height_m is None:
        return None
    site = _Site(house, room, tuple(each for each in openings if each.kind != "stairs"))
    wall = around * room.height_m
    holes = [*site.holes]
    net = wall - sum(deducted_m2(hole.area_m2, faces=1) for hole in holes)
    billed = wall - sum(deducted_m2(hole.area_m2, hole.faces) for hole in holes)
    parts = _parts_m2(site)
    to_paint = {
        **_walls_m2(room, parts, billed),
        "ceiling": floor,
        "trim": _trim_m2(site, around),
        "doors": _doors_m2(site),
        **{part_surface(key): area for key, area in parts.items()},
    }
    return RoomAreas(floor, wall, max(net, 0.0), floor * room.height_m, to_paint)


def areas_of_rooms(house: House) -> Mapping[str, RoomAreas | None]:
    ways = house.openings.values()
    openings = grouped((room, opening) for opening in ways for room in opening.between)
    return {room: room_areas(house, room, openings.get(room, ())) for room in house.rooms}


def _walls_m2(room: Room, parts: Mapping[str, float], billed: float) -> Mapping[str, float]:
    """The plain walls, and each accent wall measured solid, so that no tin is short of it."""
    height = room.height_m or 0.0
    solid = {wall.key: wall.length_m * height for wall in walls(room) if wall.key in room.accents}
    on_walls = {part.wall for part in room.parts.values() if part.kind in ON_WALL}
    covered = sum(_on_wall_m2(room, parts, wall) for wall in on_walls - {*solid})
    found = {"walls": max(billed - sum(solid.values()) - covered, 0.0)}
    for wall, area in solid.items():
        found[f"accent {wall}"] = max(area - _on_wall_m2(room, parts, wall), 0.0)
    return found


def _parts_m2(site: _Site) -> Mapping[str, float]:
    """By the id of the part."""
    parts: dict[str, float] = {}
    for key, part in site.room.parts.items():
        flat = _usual_m2(site, part) if part.area_m2 is None else part.area_m2
        if flat is not None:
            parts[key] = flat * _COEFFICIENTS.get(part.kind, 1.0)
    return parts


def _trim_m2(site: _Site, around_m: float) -> float:
    """Skirting between the openings, where it is no part of its own, and casings of every hole."""
    own = any(part.kind == "skirting" for part in site.room.parts.values())
    casings = sum(2 * hole.height_m + hole.width_m for hole in site.holes)
    board = 0.0 if own else site.skirting_m(around_m)
    return board * SKIRTING_GIRTH_M + casings * CASING_GIRTH_M


def _doors_m2(site: _Site) -> float:
    """The room's own side of every door leaf, without those that are parts of the room."""
    parts = site.room.parts.values()
    panelled = sum(part.count for part in parts if part.kind == "panelled-door")
    return DOOR_COEFFICIENT * sum(site.leaves_m2[panelled:])


_COEFFICIENTS: Mapping[PartKind, float] = {
    "panelled-door": PANELLED_COEFFICIENT, "panelling": PANELLED_COEFFICIENT,
    "window": GLAZED_COEFFICIENT, "radiator": RADIATOR_FACES,
}  # fmt: skip


def _usual_m2(site: _Site, part: Part) -> float | None:
    """Of a part that gives no area; None where its kind has no usual one."""
    room = site.room
    match part.kind:
        case "skirting":
            around = perimeter_m(room)
            length = part.length_m or (None if around is None else site.skirting_m(around))
            return None if length is None else length * SKIRTING_GIRTH_M
        case "window":
            on = (each for each in room.windows.values() if part.wall in {None, each.wall})
            return sum(map(window_area_m2, on)) or None
        case "radiator":
            return part.count * (part.length_m or RADIATOR_LENGTH_M) * RADIATOR_HEIGHT_M
        case "panelled-door":
            leaves = site.leaves_m2[: part.count]
            return sum(leaves) + (part.count - len(leaves)) * DOOR_M2
        case "panelling" | "paper" | "tile":  # to rail height along a length, else all of a wall
            wall = wall_of(room, part.wall) if part.wall else None
            long, high = part.length_m, min(PANELLING_HEIGHT_M, room.height_m or inf)
            if long is None and wall:
                long, high = wall.length_m, room.height_m or 0.0
            return long * high if long and high else None
    return None


def _on_wall_m2(room: Room, parts_m2: Mapping[str, float], wall: str | None) -> float:
    """The flat area that parts take of a wall; without a wall, of the room's walls at large."""
    return sum(
        flat_m2(room.parts[key], area)
        for key, area in parts_m2.items()
        if room.parts[key].kind in ON_WALL and room.parts[key].wall == wall
    )


def flat_m2(part: Part, painted_m2: float) -> float:
    """What a part takes of its wall: without the edges, backs and panels that are painted."""
    return painted_m2 / _COEFFICIENTS.get(part.kind, 1.0)


def surface_of(measured: str) -> Surface:
    """The surface whose sheen and coats hold for a measured one: an accent wall is a wall."""
    surfaces: Mapping[str, Surface] = {"ceiling": "ceiling", "trim": "trim", "doors": "doors"}
    return surfaces.get(measured, "walls")


def surface_of_part(part: Part) -> Surface:
    """The surface whose paint line a part takes: joinery and metal as trim, a wall's as walls."""
    if part.kind in {"paper", "tile", "other"}:
        return "walls"
    return "doors" if part.kind == "panelled-door" else "trim"
