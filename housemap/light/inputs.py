"""What light needs to know of a room: the model's Room, colours as arrays, its openings."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from housemap.colorimetry.arrays import Floats
from housemap.model.geometry import opening_height_m
from housemap.model.house import House, Opening, Room

Closed = Literal["open", "glass", "door"]


@dataclass(frozen=True, slots=True, eq=False)
class SurfaceColour:
    """The colour on a surface: reflectance in 41 bands 0..1, and the LRV that checks use."""

    reflectance: Floats
    lrv: float


@dataclass(frozen=True, slots=True)
class RoomColours:
    """None where no paint or finish is chosen; accents by wall."""

    walls: SurfaceColour | None = None
    ceiling: SurfaceColour | None = None
    floor: SurfaceColour | None = None
    trim: SurfaceColour | None = None
    doors: SurfaceColour | None = None
    accents: Mapping[str, SurfaceColour] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RoomOpening:
    """An opening as it lies in one room; `wall`, `along_m` or a size None where not measured."""

    name: str
    wall: str | None
    along_m: float | None
    width_m: float | None
    height_m: float | None
    closed: Closed = "open"


@dataclass(frozen=True, slots=True)
class RoomInputs:
    room: Room
    colours: RoomColours = RoomColours()
    openings: tuple[RoomOpening, ...] = ()
    north_deg: float = 0.0
    latitude_deg: float | None = None


def inputs_of(
    house: House,
    room_id: str,
    paints: Mapping[str, SurfaceColour],
    finishes: Mapping[str, SurfaceColour],
    openings: Mapping[str, Opening],
) -> RoomInputs:
    """A room of a house as inputs; `openings` are those of the room."""
    room = house.rooms[room_id]
    on = {surface: paints[paint] for surface, paint in room.paints.chosen()}
    return RoomInputs(
        room,
        RoomColours(
            on.get("walls"), on.get("ceiling"), finishes[room.floor] if room.floor else None,
            on.get("trim"), on.get("doors"),
            {wall: paints[accent.paint] for wall, accent in room.accents.items()},
        ),
        openings_of(house, room_id, openings),
        house.north_deg,
        house.latitude_deg,
    )  # fmt: skip


def openings_of(
    house: House, room_id: str, openings: Mapping[str, Opening]
) -> tuple[RoomOpening, ...]:
    """The openings of a room but stairs, each where the file says it lies in this room's walls."""
    return tuple(
        _in_room(house, room_id, name, opening)
        for name, opening in openings.items()
        if opening.kind != "stairs"
    )


def _in_room(house: House, room_id: str, name: str, opening: Opening) -> RoomOpening:
    first = opening.between[0] == room_id
    wall, along = (
        (opening.wall, opening.along_m) if first else (opening.to_wall, opening.to_along_m)
    )
    height = opening_height_m(house, opening)
    return RoomOpening(name, wall, along, opening.width_m, height, _closed(opening))


def _closed(opening: Opening) -> Closed:
    if opening.kind == "glazed":
        return "glass"
    return "open" if opening.seen_through else "door"
