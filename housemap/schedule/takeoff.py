"""Areas to be painted, measured as a painter's bill is: by IS 1200 (India's code of measurement).

Walls are gross less deductions (Part 13:1994, clause 3). Doors count flat area times a coefficient
for each side (Part 15:1987, Table 1). Trim is length times girth.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from housemap.model.geometry import floor_area_m2, opening_height_m, perimeter_m, walls
from housemap.model.house import House, Opening, Room, Surface
from housemap.plan.house_graph import graph_of

UNDEDUCTED_M2 = 0.5
"""A hole up to this size is not deducted."""
ONE_FACE_M2 = 3.0
"""A hole up to this size is deducted from one face of its wall only, above it from both."""
DOOR_COEFFICIENT, PANELLED_COEFFICIENT = 1.2, 1.3
"""A flush door, and a panelled one, each side (IS 1200 Part 15:1987, Table 1). The file does not
say which doors are panelled: all are taken as flush, and the schedule says so."""
SKIRTING_GIRTH_M = 0.12
CASING_GIRTH_M = 0.10
"""Common practice, no source: the painted face and edge of a plain skirting and of a door casing
or window board."""


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening or window in a room's wall; `faces` counts the rooms that have it."""

    area_m2: float
    width_m: float
    height_m: float
    faces: int
    to_floor: bool


def deducted_m2(area_m2: float, faces: int = 2) -> float:
    """What a hole takes off all the faces of its wall together (IS 1200 Part 13:1994, clause 3)."""
    if area_m2 <= UNDEDUCTED_M2:
        return 0.0
    return area_m2 if area_m2 <= ONE_FACE_M2 else area_m2 * faces


def surface_areas_m2(house: House, room_id: str) -> Mapping[str, float] | None:
    """Area to paint by surface ("walls", "accent n", "ceiling", "trim", "doors").

    None where the room's floor or height is not measured: it is never counted as nothing.
    """
    room = house.rooms[room_id]
    floor, around = floor_area_m2(room), perimeter_m(room)
    if floor is None or around is None or room.height_m is None:
        return None
    holes = tuple(_holes(house, room_id))
    accents = dict(_accents(room, room.height_m))
    deducted = sum(deducted_m2(hole.area_m2, hole.faces) / hole.faces for hole in holes)
    plain = around * room.height_m - sum(accents.values()) - deducted
    areas = {"walls": max(plain, 0.0), "ceiling": floor, "trim": _trim_m2(around, holes)}
    areas |= {f"accent {wall}": area for wall, area in accents.items()}
    areas["doors"] = _doors_m2(house, room_id)
    return areas


def _accents(room: Room, height_m: float) -> Iterator[tuple[str, float]]:
    """Accent walls are measured solid, so that one more tin is never short of a wall."""
    for wall in walls(room):
        if wall.key in room.accents:
            yield wall.key, wall.length_m * height_m


def _holes(house: House, room_id: str) -> Iterator[Hole]:
    for window in house.rooms[room_id].windows.values():
        area = window.width_m * window.height_m
        yield Hole(area, window.width_m, window.height_m, faces=1, to_floor=False)
    for opening in _openings(house, room_id):
        width, height = opening.width_m or 0.0, opening_height_m(house, opening) or 0.0
        yield Hole(width * height, width, height, faces=2, to_floor=True)


def _openings(house: House, room_id: str) -> Iterator[Opening]:
    openings = graph_of(house).openings_of(room_id).values()
    return (opening for opening in openings if opening.kind != "stairs")


def _trim_m2(around_m: float, holes: tuple[Hole, ...]) -> float:
    """Skirting between the openings, casings at the sides and head of every hole."""
    skirting = around_m - sum(hole.width_m for hole in holes if hole.to_floor)
    casings = sum(2 * hole.height_m + hole.width_m for hole in holes)
    return max(skirting, 0.0) * SKIRTING_GIRTH_M + casings * CASING_GIRTH_M


def _doors_m2(house: House, room_id: str) -> float:
    """The room's own side of every door leaf."""
    return sum(
        DOOR_COEFFICIENT * (door.width_m or 0.0) * (opening_height_m(house, door) or 0.0)
        for door in _openings(house, room_id)
        if door.kind == "doorway"
    )


def surface_of(measured: str) -> Surface:
    """The surface whose sheen and coats hold for a measured one: an accent wall is a wall."""
    surfaces: Mapping[str, Surface] = {"ceiling": "ceiling", "trim": "trim", "doors": "doors"}
    return surfaces.get(measured, "walls")
