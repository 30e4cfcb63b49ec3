"""What light needs to know of a room: the model's Room, colours as arrays, its openings."""

from collections.abc import Mapping
from dataclasses import field
from typing import Literal, NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.model.frozen import frozen
from housemap.model.geometry import Box, box_of, floor_outline_m, opening_height_m
from housemap.model.house import House, Opening, Point, Room

VOID_M = (1.0, 2.8)
"""Width and length of a stairwell that nobody measured. It is taken along the longer side of where
both rooms lie over each other, by its east or north wall; south or west of it a landing is left, as
long as the stairs are wide where there is room (as building rules ask; our assumption)."""
VOID_GAP_M = 0.1
"""From the wall."""

Closed = Literal["open", "glass", "door"]


@frozen(eq=False)
class SurfaceColour:
    """The colour on a surface: reflectance in 41 bands 0..1, and the LRV that checks use."""

    reflectance: Floats
    lrv: float

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, SurfaceColour):
            return NotImplemented
        return self.lrv == other.lrv and np.array_equal(self.reflectance, other.reflectance)

    def __hash__(self) -> int:
        return hash(self.lrv)


@frozen()
class RoomColours:
    """None where no paint or finish is chosen; accents by wall."""

    walls: SurfaceColour | None = None
    ceiling: SurfaceColour | None = None
    floor: SurfaceColour | None = None
    trim: SurfaceColour | None = None
    doors: SurfaceColour | None = None
    accents: Mapping[str, SurfaceColour] = field(default_factory=dict)


class RoomOpening(NamedTuple):
    """An opening as it lies in one room; `wall`, `along_m` or a size None where not measured."""

    name: str
    wall: str | None
    """Or "ceiling" or "floor", where stairs come through: `along_m` and `sill_m` are then x and y
    of the near corner, `width_m` and `height_m` run the same ways."""
    along_m: float | None
    width_m: float | None
    height_m: float | None
    closed: Closed = "open"
    sill_m: float = 0.0
    depth_m: float = 0.0
    """Of its lining: the thickness of the wall."""
    most_m: Point | None = None
    """Its width and height on the other side, where they are cut to fit a wall."""
    outdoors: bool = False
    """Whether it leads outdoors: unless its door is shut, daylight comes in as by a window."""


class RoomInputs(NamedTuple):
    room: Room
    colours: RoomColours = RoomColours()
    openings: tuple[RoomOpening, ...] = ()
    north_deg: float = 0.0
    latitude_deg: float | None = None
    ground: float = 0.2
    """Reflectance of the ground outside."""


def inputs_of(
    house: House, room_id: str, paints: Mapping[str, SurfaceColour],
    finishes: Mapping[str, SurfaceColour], openings: Mapping[str, Opening],
) -> RoomInputs:  # fmt: skip
    """A room of a house as inputs; `openings` are those of the room."""
    room = house.rooms[room_id]
    on = {surface: paints[paint] for surface, paint in room.paints.chosen()}
    accents = {wall: paints[accent.paint] for wall, accent in room.accents.items()}
    colours = RoomColours(
        on.get("walls"), on.get("ceiling"), finishes[room.floor] if room.floor else None,
        on.get("trim"), on.get("doors"), accents,
    )  # fmt: skip
    sky = house.north_deg, house.latitude_deg, house.ground
    return RoomInputs(room, colours, openings_of(house, room_id, openings), *sky)


def openings_of(
    house: House, room_id: str, openings: Mapping[str, Opening]
) -> tuple[RoomOpening, ...]:
    """The openings of a room, each where the file says that it lies in this room."""
    found = (_in_room(house, room_id, name, opening) for name, opening in sorted(openings.items()))
    return tuple(opening for opening in found if opening)


def _in_room(house: House, room_id: str, name: str, opening: Opening) -> RoomOpening | None:
    if opening.kind == "stairs" and opening.wall is None and opening.to_wall is None:
        return _stair_void(house, room_id, name, opening)
    first = opening.between[0] == room_id
    wall, along = (
        (opening.wall, opening.along_m) if first else (opening.to_wall, opening.to_along_m)
    )
    closed: Closed = "open" if opening.seen_through else "door"
    return RoomOpening(
        name, wall, along, opening.width_m, opening_height_m(house, opening),
        "glass" if opening.kind == "glazed" else closed, depth_m=house.wall_thickness_m,
        outdoors=any(house.rooms[room].use == "outdoor" for room in opening.between),
    )  # fmt: skip


def _stair_void(house: House, room_id: str, name: str, opening: Opening) -> RoomOpening | None:
    """The hole in the ceiling below and the floor above; None between rooms of one level."""
    first, second = (house.rooms[room] for room in opening.between)
    if first.level == second.level:
        return None
    overlap = _overlap(first, second)
    if overlap is None:
        return RoomOpening(name, None, None, None, None)
    x0, y0, x1, y1 = overlap
    room, other = (first, second) if room_id == opening.between[0] else (second, first)
    at = room.at_m if room.at_m and other.at_m else (0.0, 0.0)
    wide = opening.width_m or VOID_M[0]
    if y1 - y0 >= x1 - x0:
        width, length = min(wide, x1 - x0), min(VOID_M[1], y1 - y0)
        x, y = max(x1 - VOID_GAP_M - width, x0), min(y0 + width, y1 - length)
    else:
        width, length = min(VOID_M[1], x1 - x0), min(wide, y1 - y0)
        x, y = min(x0 + length, x1 - width), max(y1 - VOID_GAP_M - length, y0)
    side = "ceiling" if room.level < other.level else "floor"
    size = width, length
    return RoomOpening(name, side, x - at[0], *size, "open", y - at[1], house.wall_thickness_m)


def _overlap(first: Room, second: Room) -> Box | None:
    """Where the boxes of two rooms lie over each other; unpinned ones by their own origins."""
    pinned, boxes = first.at_m is not None and second.at_m is not None, []
    for room in (first, second):
        outline = floor_outline_m(room)
        if outline is None:
            return None
        x, y = (room.at_m if pinned else None) or (0.0, 0.0)
        _, _, width, length = box_of(outline)
        boxes.append((x, y, x + width, y + length))
    (x0, y0, x1, y1), (x2, y2, x3, y3) = boxes
    low, high = (max(x0, x2), max(y0, y2)), (min(x1, x3), min(y1, y3))
    return (*low, *high) if low[0] < high[0] and low[1] < high[1] else None
