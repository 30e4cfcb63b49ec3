"""A sheen that the use of the room does not bear."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from housemap.checks.check import Change, Check, Example, Listed, Scope
from housemap.checks.examples import one_room
from housemap.checks.finding import Finding, Place, plain_finding
from housemap.checks.words import place_name, room_name
from housemap.model.edits import set_sheen
from housemap.model.house import SHEENS, House, Room, Sheen, Surface, SurfacePaints, SurfaceSheens
from housemap.study import PaintedRoom, Study

_WET_USES = ("bathroom", "kitchen")
_TOO_DULL: tuple[Sheen, ...] = ("flat", "matt")


def unfit_sheen(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    del scope
    sheens = room.room.sheens
    if room.room.use in _WET_USES and sheens.walls in _TOO_DULL:
        yield _finding(room, "wet", "walls")
    if sheens.walls and sheens.trim and SHEENS.index(sheens.trim) < SHEENS.index(sheens.walls):
        yield _finding(room, "duller", "trim")


def _finding(room: PaintedRoom, kind: str, surface: Surface) -> Finding:
    coat = room.coats.get(surface)
    place = Place.of(coat) if coat else Place(room.id, surface)
    return plain_finding("sheen", "note", (place,), kind)


def sentence_of(finding: Finding, house: House) -> str:
    place = finding.places[0]
    room, name = house.rooms[place.room], place_name(house, place)
    if finding.kind == "wet":
        return f"{name}: {room.sheens.walls} paint does not last in a {room.use}."
    return f"{name}: {room.sheens.trim} is duller than the {room.sheens.walls} walls."


def changes(finding: Finding, study: Study) -> Iterator[Change]:
    """The least sheen that will do."""
    place = finding.places[0]
    walls = study.house.rooms[place.room].sheens.walls
    sheen = "eggshell" if finding.kind == "wet" or walls is None else walls
    surface: Surface = "walls" if finding.kind == "wet" else "trim"
    label = f"{room_name(study.house, place.room)} {surface} in {sheen} sheen"
    edit = partial(set_sheen, room=place.room, surface=surface, sheen=sheen)
    yield Change(label, edit, 0.0)


_BATHROOM = Room(
    "Hall", use="bathroom", paints=SurfacePaints(walls="oat", trim="oat"),
    sheens=SurfaceSheens(walls="satin", trim="gloss"),
)  # fmt: skip

SHEEN = Check(
    id="sheen",
    title="Sheen will not last",
    help=(
        "Flat and matt paint mark and hold damp. They do not last on the walls of a bathroom or"
        " kitchen; trim takes more knocks than walls and is kept no duller than they are (common"
        " practice, no source)."
    ),
    limits=(),
    clean=Example("A bathroom in satin with gloss trim.", one_room(_BATHROOM, oat="5Y 8/1")),
    caught=Example(
        "The same bathroom in matt.",
        one_room(replace(_BATHROOM, sheens=SurfaceSheens(walls="matt")), oat="5Y 8/1"),
    ),
    looks=(Listed("rooms", unfit_sheen),),
    sentence=sentence_of,
    headline="This sheen will not last",
    caused_by="place",
    changes=changes,
    repaint=False,
    gravest="note",
)
