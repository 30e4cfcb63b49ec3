"""What samples on the wall say: a paint that was rejected, or one that nobody has approved yet."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from typing import cast

import numpy as np

from housemap.checks.check import Change, Check, Example, Limit, Listed, Scope
from housemap.checks.examples import measured, one_room
from housemap.checks.finding import NOTE, Finding, Place, excess_costs, plain_finding
from housemap.checks.words import paint_name, place_name, room_name, surface_name
from housemap.model.edits import paint_on
from housemap.model.geometry import walls
from housemap.model.house import House, Room, Sample, Surface, SurfacePaints
from housemap.model.samples import come_to, samples_of, tried_in
from housemap.study import Coat, PaintedRoom, Study


def rejected(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    """One finding a paint, at every surface that it is on."""
    del scope
    on: dict[str, list[Coat]] = {}
    for coat in (*room.coats.values(), *room.accents):
        on.setdefault(coat.swatch.id, []).append(coat)
    for paint, coats in on.items():
        if come_to(s for s in room.samples if s.paint == paint) == "rejected":
            yield plain_finding("rejected", "warn", tuple(Place.of(coat) for coat in coats))


def tell_rejected(finding: Finding, house: House) -> str:
    place = finding.places[0]
    others = [surface_name(house, p.room, p.surface) for p in finding.places[1:]]
    more = f" and {', '.join(others)}" if others else ""
    samples = samples_of(house, place.paint, place.room)
    seen = [sample.seen for sample in samples if sample.verdict == "reject" and sample.seen]
    why = f": {seen[-1].rstrip('.')}" if seen else ""
    return f"{place_name(house, place)}{more}: a sample of it was rejected here{why}."


def rejected_changes(finding: Finding, study: Study) -> Iterator[Change]:
    """The paints whose samples were approved in the room, on the same surfaces."""
    room, was = finding.places[0].room, study.paint(finding.places[0].paint)
    tried = dict.fromkeys(s.paint for s in study.house.samples.values() if s.room == room)
    for paint in tried:
        if tried_in(study.house, paint, room) == "kept":
            swatch = study.paint(paint)
            label = f"{room_name(study.house, room)}: {swatch.name}, approved there"
            size = study.difference(was, swatch).ucs
            yield Change(label, partial(_repaint, finding.places, paint), size)


def _repaint(places: tuple[Place, ...], paint: str, house: House) -> House:
    for place in places:
        house = paint_on(house, place.room, place.surface, paint)
    return house


_HALL = measured(Room("Hall", paints=SurfacePaints(walls="oat")))
_UNTRIED = one_room(_HALL, oat="5Y 8/1")
_REJECTED = Sample("oat", "hall", verdict="reject", seen="green by noon")
_CAUGHT = replace(_UNTRIED, samples={"oat-1": _REJECTED})
_KEPT = Sample("oat", "hall", verdict="keep", seen="quiet once the lamp was changed")

REJECTED = Check(
    id="rejected",
    title="Rejected on the wall",
    help=(
        "Somebody stood before a sample of this paint in this room and rejected it. What is seen on"
        " the wall outweighs anything computed. Of several samples the newest that was approved or"
        " rejected decides; one without a date counts as older."
    ),
    limits=(),
    clean=Example(
        "It was rejected, looked at again, and approved.",
        replace(_CAUGHT, samples={"oat-1": _REJECTED, "oat-2": _KEPT}),
    ),
    caught=Example("The sample was rejected and the paint is still on the walls.", _CAUGHT),
    looks=(Listed("rooms", rejected),),
    sentence=tell_rejected,
    headline="{0} was rejected on the wall",
    caused_by="place",
    changes=rejected_changes,
)

_DECIDED = frozenset({"kept", "rejected"})
"""What was rejected is reported by the check of that name."""


def untried(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    limit = scope.limits["area"]
    for coat, area_m2 in () if room.is_kept else _areas(room):
        tried = come_to(s for s in room.samples if s.paint == coat.swatch.id)
        if area_m2 > limit and tried not in _DECIDED:
            places, cost = (Place.of(coat),), float(excess_costs(NOTE, np.array(area_m2), limit))
            yield Finding("untried", "note", places, "area", area_m2, limit, "m2", cost=cost)


def _areas(room: PaintedRoom) -> Iterator[tuple[Coat, float]]:
    """Each paint of walls, accent walls and ceiling with its area, at its largest surface."""
    if room.areas is None or room.room.height_m is None:
        return
    height_m = room.room.height_m
    length_m = {wall.key: wall.length_m for wall in walls(room.room)}
    parts = [(coat, length_m[coat.surface.split()[1]] * height_m) for coat in room.accents]
    left_m2 = max(room.areas.wall_net_m2 - sum(area for _, area in parts), 0.0)
    for surface, area in (("walls", left_m2), ("ceiling", room.areas.floor_m2)):
        if coat := room.coats.get(cast("Surface", surface)):
            parts.append((coat, area))
    for paint in dict.fromkeys(coat.swatch.id for coat, _ in parts):
        same = [part for part in parts if part[0].swatch.id == paint]
        yield max(same, key=lambda part: part[1])[0], sum(area for _, area in same)


def tell_untried(finding: Finding, house: House) -> str:
    place = finding.places[0]
    return (
        f"{room_name(house, place.room)}: no sample of {paint_name(house, place)} approved yet,"
        f" for {finding.value:.0f} m²."
    )


UNTRIED = Check(
    id="untried",
    title="No sample approved yet",
    help=(
        "A screen is a poor judge of paint, and a chart little better. Put a sample up, look at it"
        " by day and by lamp, and write down what was seen. Buy only then (common practice, no"
        " source). A sample approved in that room clears this."
    ),
    limits=(Limit("area", 10.0, "m2", "common practice: below it a mistake costs little"),),
    clean=Example(
        "A sample was put up in the hall and approved.",
        replace(_UNTRIED, samples={"oat-hall": Sample("oat", "hall", verdict="keep")}),
    ),
    caught=Example("45 m2 of wall and no sample.", _UNTRIED),
    looks=(Listed("rooms", untried),),
    sentence=tell_untried,
    headline="No sample of {0} approved yet",
    advice="Press s to put a sample up, look at it by day and by lamp, and approve it there.",
    repaint=False,
    caused_by="paint",
    gravest="note",
    to_do=True,
)
