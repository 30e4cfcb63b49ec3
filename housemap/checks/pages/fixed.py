"""A paint whose undertone fights with what stays."""

from collections.abc import Iterator

from housemap.checks.changes import repaint_or_relamp
from housemap.checks.clash import clash
from housemap.checks.examples import one_room
from housemap.checks.finding import Finding
from housemap.checks.meetings import walls_and_trim
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.pages import undertone
from housemap.checks.words import both, number, under
from housemap.model.house import House, Room, SurfacePaints
from housemap.study import Coat, PaintedRoom, SeenPair

_SOURCE = "as for undertones that fight; our assumption"
_FINISH_CHROMA_SOURCE = "our assumption: beyond it a finish is a colour of its own"


def in_one_room(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    yield from _between(room, room, scope)


def between_rooms(pair: SeenPair, scope: Scope) -> Iterator[Finding]:
    yield from _between(pair.first, pair.second, scope)
    yield from _between(pair.second, pair.first, scope)


def _between(painted: PaintedRoom, stays: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    finishes = [coat for coat in stays.stays if _leans(coat, scope)]
    for paint in walls_and_trim(painted):
        if paint.swatch.colour.near_neutral:
            for finish in finishes:
                yield from clash(paint, finish, scope, "fixed", "warn")


def _leans(finish: Coat, scope: Scope) -> bool:
    return finish.swatch.colour.notation.chroma <= scope.limits["chroma"]


def tell(finding: Finding, house: House) -> str:
    return (
        f"{both(house, finding)}, which stays: the undertones fight{under(finding)},"
        f" hues {number(finding.value)} deg apart (limit {number(finding.limit)})"
    )


_ROOM = Room("Hall", paints=SurfacePaints(walls="oat"), floor="boards")

CHECK = Check(
    id="fixed",
    title="Against what stays",
    help=(
        "Floor, tile, tops and brick stay when the walls are painted. A wall or trim whose"
        " undertone fights with them, in the room or in view of it, looks wrong whatever else is"
        " right. Judged as undertones that fight; the finish may have an ASTM D1535 chroma up to 6."
    ),
    limits=(
        Limit("hue", 60.0, "deg", _SOURCE),
        Limit("distance", 4.0, "a'b'", _SOURCE),
        Limit("chroma", 6.0, "ASTM D1535 chroma", _FINISH_CHROMA_SOURCE),
    ),
    clean=Example(
        "Yellowish walls over a yellow-brown oak floor.",
        one_room(_ROOM, {"boards": "10YR 6/4"}, oat="5Y 8/1"),
    ),
    caught=Example(
        "Bluish walls over the same oak floor.",
        one_room(_ROOM, {"boards": "10YR 6/4"}, oat="5PB 7/2"),
    ),
    tell=tell,
    changes=repaint_or_relamp,
    judged="in each light",
    cost=undertone.cost,
    of_room=in_one_room,
    of_pair=between_rooms,
)
