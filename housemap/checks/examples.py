"""Small houses for the examples of the checks: a hall and a study with one opening between them."""

from collections.abc import Mapping
from dataclasses import replace

from housemap.model.colour import ColourSource, Notation, Srgb
from housemap.model.house import Finish, House, Opening, OpeningKind, Paint, Room, SurfacePaints

_LARGE_M = (4.0, 5.0)


def colour(text: str) -> ColourSource:
    """A screen colour where the text starts with "#", else an ASTM D1535 notation."""
    return Srgb(text) if text.startswith("#") else Notation(text)


def paints(**colours: str) -> Mapping[str, Paint]:
    return {name: Paint(name.capitalize(), colour(text)) for name, text in colours.items()}


def one_room(room: Room, finishes: Mapping[str, str] | None = None, **colours: str) -> House:
    """A house of one room, with the paints and finishes it refers to."""
    stays = {name: Finish(name.capitalize(), colour(c)) for name, c in (finishes or {}).items()}
    return House(rooms={"hall": room}, paints=paints(**colours), finishes=stays)


def two_rooms(
    hall: str, study: str, kind: OpeningKind = "doorway", *, trim: str | None = None
) -> House:
    """A hall and a study, walls in the colours given and all trim in the third."""
    used = paints(hall=hall, study=study, **({"trim": trim} if trim else {}))
    trim_id = "trim" if trim else None
    return House(
        paints=used,
        rooms={
            name: Room(name.capitalize(), paints=SurfacePaints(walls=name, trim=trim_id))
            for name in ("hall", "study")
        },
        openings={"door": Opening(("hall", "study"), kind)},
    )


def with_room(house: House, room_id: str, room: Room) -> House:
    return replace(house, rooms={**house.rooms, room_id: room})


def measured(room: Room) -> Room:
    """The room at 4 by 5 metres and 2.5 high: 20 m2 of ceiling, 45 m2 of wall."""
    return replace(room, size_m=_LARGE_M, height_m=2.5)
