"""Small houses for the examples of the checks: a hall and a study with one opening between them."""

from collections.abc import Mapping
from dataclasses import replace

from housemap.model.house import (
    ColourSource,
    Finish,
    House,
    Lamp,
    Notation,
    Opening,
    OpeningKind,
    Paint,
    Room,
    Srgb,
    SurfacePaints,
    Window,
)

_LARGE_M = (4.0, 5.0)


def colour(text: str) -> ColourSource:
    """A screen colour where the text starts with "#", else an ASTM D1535 notation."""
    return Srgb(text) if text.startswith("#") else Notation(text)


def paints(**colours: str) -> Mapping[str, Paint]:
    return {name: Paint(name.capitalize(), colour(text)) for name, text in colours.items()}


def one_room(room: Room, finishes: Mapping[str, str] | None = None, **colours: str) -> House:
    """A house of one room, with the paints and finishes it refers to."""
    fixed = {name: Finish(name.capitalize(), colour(c)) for name, c in (finishes or {}).items()}
    return House(rooms={"hall": room}, paints=paints(**colours), finishes=fixed)


def two_rooms(
    hall: str, study: str, kind: OpeningKind = "doorway", *, trim: str | None = None
) -> House:
    """A hall and a study, walls in the colours given and all trim in the third."""
    used = paints(hall=hall, study=study, **({"trim": trim} if trim else {}))
    trim_id = "trim" if trim else None
    rooms = {
        name: Room(name.capitalize(), paints=SurfacePaints(walls=name, trim=trim_id))
        for name in ("hall", "study")
    }
    return House(paints=used, rooms=rooms, openings={"door": Opening(("hall", "study"), kind)})


def with_room(house: House, room_id: str, room: Room) -> House:
    return replace(house, rooms={**house.rooms, room_id: room})


def measured(room: Room) -> Room:
    """The room at 4 by 5 metres and 2.5 high: 20 m2 of ceiling, 45 m2 of wall."""
    return replace(room, size_m=_LARGE_M, height_m=2.5)


def lit_room(walls: str, lamp_kelvin: float) -> House:
    """A measured room with a south window and a lamp, its other surfaces white or oak."""
    room = Room(
        "Hall", paints=SurfacePaints("walls", "white", "white", "white"), floor="oak",
        windows={"south": Window("s", 1.0, 1.4, 1.2, 0.9)},
        lamps={"pendant": Lamp(1800.0, lamp_kelvin)},
    )  # fmt: skip
    return one_room(measured(room), {"oak": "10YR 6/1"}, walls=walls, white="N 9.5/")


_CROWD = ("5Y 8.5/1", "5PB 5/4", "10R 5/6", "5G 6/4", "10YR 7/6", "5P 4/4")


def crowded_hall(colours: int) -> House:
    """An unmeasured hall with five rooms off it in so many colours."""
    names = [f"room-{number}" for number in range(5)]
    rooms = {
        name: Room(name.replace("-", " ").capitalize(), paints=SurfacePaints(walls=name))
        for name in ("hall", *names)
    }
    openings = {name: Opening(("hall", name), "doorway") for name in names}
    used = {"hall": Paint("Hall", colour(_CROWD[0]))}
    for number, name in enumerate(names):
        used[name] = Paint(name, colour(_CROWD[1 + number % colours]))
    return House(paints=used, rooms=rooms, openings=openings)


def loop_of_rooms(off_m: float) -> House:
    """Four rooms in a square, each opening into the next; one opening is measured `off_m` off."""
    square = ("south-west", "south-east", "north-east", "north-west")
    walls = (("e", "w"), ("n", "s"), ("w", "e"), ("s", "n"))
    openings = {}
    for name, after, (wall, to_wall) in zip(square, square[1:] + square[:1], walls, strict=True):
        openings[f"{name}-{after}"] = Opening(
            (name, after), "doorway", wall=wall, along_m=1.0, to_wall=to_wall,
            to_along_m=1.0 + (off_m if name == "south-west" else 0.0), width_m=0.8,
        )  # fmt: skip
    rooms = {name: measured(Room(name.capitalize())) for name in square}
    return House(rooms=rooms, openings=openings)
