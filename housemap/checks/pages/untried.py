"""A paint bought for a room in which no sample of it was kept."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

from housemap.checks.examples import measured, one_room
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import number, paint_name, room_name
from housemap.model.geometry import walls
from housemap.model.house import House, Room, Sample, SurfacePaints
from housemap.model.samples import come_to
from housemap.study import Coat, PaintedRoom

_DECIDED = frozenset({"kept", "rejected"})
"""What was rejected is told by the check of that name."""


def untried(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    for coat, area_m2 in _areas(room):
        tried = come_to(s for s in room.samples if s.paint == coat.swatch.id)
        if area_m2 > scope.limits["area"] and tried not in _DECIDED:
            yield Finding(
                check="untried",
                severity="note",
                places=(Place.of(coat),),
                kind="area",
                value=area_m2,
                limit=scope.limits["area"],
                unit="m2",
            )


def _areas(room: PaintedRoom) -> Iterator[tuple[Coat, float]]:
    """Each paint of walls, accent walls and ceiling with its area, at its largest surface."""
    if room.areas is None or room.room.height_m is None:
        return
    height_m = room.room.height_m
    length_m = {wall.key: wall.length_m for wall in walls(room.room)}
    parts = [(coat, length_m[coat.surface.split()[1]] * height_m) for coat in room.accents]
    accented_m2 = sum(area for _, area in parts)
    if wall := room.coats.get("walls"):
        parts.append((wall, max(room.areas.wall_net_m2 - accented_m2, 0.0)))
    if ceiling := room.coats.get("ceiling"):
        parts.append((ceiling, room.areas.floor_m2))
    by_paint: defaultdict[str, list[tuple[Coat, float]]] = defaultdict(list)
    for coat, area in parts:
        by_paint[coat.swatch.id].append((coat, area))
    for same in by_paint.values():
        yield max(same, key=lambda part: part[1])[0], sum(area for _, area in same)


def tell(finding: Finding, house: House) -> str:
    place = finding.places[0]
    return (
        f"{paint_name(house, place)} is to cover {number(finding.value)} m2 of"
        f" {room_name(house, place.room)} and no sample of it was kept there"
    )


_HALL = measured(Room("Hall", paints=SurfacePaints(walls="oat")))
_UNTRIED = one_room(_HALL, oat="5Y 8/1")

CHECK = Check(
    id="untried",
    title="No sample kept",
    help=(
        "A screen is a poor judge of paint, and a chart little better. Put a tester on the wall,"
        " look at it by day and by lamp, write down what was seen, and buy only then (common"
        " practice, no source). A sample with the verdict keep in that room clears this."
    ),
    limits=(Limit("area", 10.0, "m2", "common practice: below it a mistake costs little"),),
    clean=Example(
        "A tester was put up in the hall and kept.",
        replace(_UNTRIED, samples={"oat-hall": Sample("oat", "hall", verdict="keep")}),
    ),
    caught=Example("45 m2 of wall and no tester.", _UNTRIED),
    tell=tell,
    of_room=untried,
)
