"""What samples on the wall say: a paint that was rejected, or one that nobody has approved yet."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial
from math import dist

import numpy as np

from housemap.checks.check import Change, Check, Example, Limit, Listed, Scope
from housemap.checks.examples import measured, one_room
from housemap.checks.finding import NOTE, Finding, Place, excess_costs, plain_finding
from housemap.checks.words import paint_name, place_name, room_name, surface_name
from housemap.model.edits import paint_on
from housemap.model.grouping import grouped
from housemap.model.house import House, Room, Sample, SurfacePaints
from housemap.model.samples import (
    CHECK,
    LARGE_M2,
    ONE_LIGHT,
    Tried,
    come_to,
    samples_of,
    tried_in,
    trying,
    tryings,
)
from housemap.study import PaintedRoom, Study


def rejected(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    """One finding a paint, at every surface for which it was rejected."""
    del scope
    coats = (Place.of(coat) for coat in (*room.coats.values(), *room.accents))
    on = grouped((place.paint, place) for place in coats if _tried(room, place) == "rejected")
    for places in on.values():
        yield plain_finding("rejected", "warn", tuple(places))


def _tried(room: PaintedRoom, place: Place) -> Tried:
    at = trying(place.paint, place.room, place.surface)
    return come_to(s for s in room.samples if at in tryings(s))


def tell_rejected(finding: Finding, house: House) -> str:
    place = finding.places[0]
    others = [surface_name(house, p.room, p.surface) for p in finding.places[1:]]
    more = f" and {', '.join(others)}" if others else ""
    samples = samples_of(house, place.paint, place.room, place.surface)
    seen = [sample.seen for sample in samples if sample.verdict == "reject" and sample.seen]
    why = f": {seen[-1].rstrip('.')}" if seen else ""
    return f"{place_name(house, place)}{more}: a sample of it was rejected here{why}."


def rejected_changes(finding: Finding, study: Study) -> Iterator[Change]:
    """The paints whose samples were approved in the room, on the same surfaces."""
    first = finding.places[0]
    room, was = first.room, study.paint(first.paint)
    tried = dict.fromkeys(s.paint for s in study.house.samples.values() if s.room == room)
    for paint in tried:
        if tried_in(study.house, paint, room, first.surface) == "kept":
            swatch = study.paint(paint)
            label = f"{room_name(study.house, room)}: {swatch.name}, approved there"
            size = dist(was.colour.ucs, swatch.colour.ucs)
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
        "Somebody stood before a sample of this paint in this room and rejected it: for its"
        " walls, its ceiling or its woodwork, as the sample says. What is seen outweighs anything"
        " computed. Of several samples the newest that was approved or rejected decides; one"
        " without a date counts as older."
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


def untried(_rooms: Mapping[str, PaintedRoom], scope: Scope) -> Iterator[Finding]:
    limit = scope.limits["area"]
    for each in scope.study.samples_to_see:
        places, area = (Place(each.room, each.surface, each.paint),), each.area_m2
        if each.light is not None:
            continue
        if area is None:
            yield plain_finding(CHECK, "note", places)
        else:
            cost = float(excess_costs(NOTE, np.array(area), limit))
            yield Finding(CHECK, "note", places, "area", area, limit, "m2", cost=cost)


_SEEN: Mapping[Tried, str] = {
    "unsure": "the sample of {} was left unsure: look at it again",
    "put up": "the sample of {} is up and not judged yet",
}


def one_light(_rooms: Mapping[str, PaintedRoom], scope: Scope) -> Iterator[Finding]:
    for each in scope.study.samples_to_see:
        if each.light is not None:
            place = Place(each.room, each.surface, each.paint)
            yield plain_finding(ONE_LIGHT, "note", (place,), each.light)


def tell_one_light(finding: Finding, house: House) -> str:
    [place] = finding.places
    both = ("by day", "by lamplight") if finding.kind == "evening" else ("by lamplight", "by day")
    room, paint = room_name(house, place.room), paint_name(house, place)
    return f"{room}: {paint} was approved {both[0]}; look at it {both[1]} too."


def tell_untried(finding: Finding, house: House) -> str:
    place = finding.places[0]
    said = _SEEN.get(
        tried_in(house, place.paint, place.room, place.surface), "no sample of {} approved yet"
    )
    area = "" if finding.value is None else f", for {finding.value:.0f} m²"
    return f"{room_name(house, place.room)}: {said.format(paint_name(house, place))}{area}."


UNTRIED = Check(
    id=CHECK,
    title="No sample approved yet",
    help=(
        "A screen is a poor judge of paint, and a chart little better. Put a sample up, look at it"
        " by day and by lamplight, and write down what was seen. Buy only then (common practice, no"
        " source). A paint that covers much of a room is approved in that room, any other paint"
        " once in the house."
    ),
    limits=(Limit("area", LARGE_M2, "m2", "common practice: below it a mistake costs little"),),
    clean=Example(
        "A sample was put up in the hall and approved.",
        replace(_UNTRIED, samples={"oat-hall": Sample("oat", "hall", verdict="keep")}),
    ),
    caught=Example("45 m2 of wall and no sample.", _UNTRIED),
    looks=(Listed("houses", untried),),
    sentence=tell_untried,
    headline="No sample of {0} approved yet",
    advice="Press s to put a sample up, look at it by day and by lamplight, and approve it there.",
    repaint=False,
    caused_by="paint",
    gravest="note",
    to_do=True,
)

_BY_DAY = Sample("oat", "hall", light="day", verdict="keep")
_BY_LAMP = replace(_BY_DAY, light="evening")

LIGHTS = Check(
    id=ONE_LIGHT,
    title="Approved in one light only",
    help=(
        "A paint that is right by day may be wrong by lamplight, and the other way round. What was"
        " approved by the one is looked at by the other before it is bought (common practice, no"
        " source). A sample that does not say by which light it was seen counts for both."
    ),
    limits=(),
    clean=Example(
        "It was approved by day, then by lamplight.",
        replace(_UNTRIED, samples={"oat-1": _BY_DAY, "oat-2": _BY_LAMP}),
    ),
    caught=Example(
        "It was approved by day; nobody has looked at it by lamplight.",
        replace(_UNTRIED, samples={"oat-1": _BY_DAY}),
    ),
    looks=(Listed("houses", one_light),),
    sentence=tell_one_light,
    headline="{0} approved in one light only",
    advice="Look at the sample in the other light; press s, then enter, to write down the verdict.",
    repaint=False,
    caused_by="paint",
    gravest="note",
    to_do=True,
)
