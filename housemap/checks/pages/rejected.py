"""A paint on a surface of a room in which a sample of it was rejected."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from housemap.checks.examples import measured, one_room
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Change, Check, Example, Scope
from housemap.checks.words import place_name, room_name
from housemap.model.edits import paint_on
from housemap.model.house import House, Room, Sample, SurfacePaints
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
            yield Finding("rejected", "warn", tuple(Place.of(coat) for coat in coats))


def tell(finding: Finding, house: House) -> str:
    place = finding.places[0]
    others = [p.surface for p in finding.places[1:]]
    more = f", {', '.join(others)}" if others else ""
    return (
        f"{place_name(house, place)}{more}: a sample of it was rejected there{_why(place, house)}"
    )


def _why(place: Place, house: House) -> str:
    """What was seen, as in ": a little green by noon"."""
    found = samples_of(house, place.paint, place.room)
    seen = [sample.seen for sample in found if sample.verdict == "reject" and sample.seen]
    return f": {seen[-1].rstrip('.')}" if seen else ""


def changes(finding: Finding, study: Study) -> Iterator[Change]:
    """The paints whose samples were kept in the room, on the same surfaces."""
    room, was = finding.places[0].room, study.paint(finding.places[0].paint)
    tried = dict.fromkeys(s.paint for s in study.house.samples.values() if s.room == room)
    for paint in tried:
        if tried_in(study.house, paint, room) == "kept":
            swatch = study.paint(paint)
            label = f"{room_name(study.house, room)}: {swatch.name}, which was kept there"
            size = study.difference(was, swatch).ucs
            yield Change(label, partial(_repaint, finding.places, paint), size)


def _repaint(places: tuple[Place, ...], paint: str, house: House) -> House:
    for place in places:
        house = paint_on(house, place.room, place.surface, paint)
    return house


_HALL = measured(Room("Hall", paints=SurfacePaints(walls="oat")))
_REJECTED = Sample("oat", "hall", verdict="reject", seen="green by noon")
_CAUGHT = replace(one_room(_HALL, oat="5Y 8/1"), samples={"oat-1": _REJECTED})
_KEPT = Sample("oat", "hall", verdict="keep", seen="quiet once the lamp was changed")

CHECK = Check(
    id="rejected",
    title="Rejected on the wall",
    help=(
        "Somebody stood before a sample of this paint in this room and did not want it. What is"
        " seen on the wall outweighs anything computed. Of several samples the newest that was"
        " kept or rejected decides; one without a date counts as older."
    ),
    limits=(),
    clean=Example(
        "It was rejected, looked at again, and kept.",
        replace(_CAUGHT, samples={"oat-1": _REJECTED, "oat-2": _KEPT}),
    ),
    caught=Example("The sample was rejected and the paint is still on the walls.", _CAUGHT),
    tell=tell,
    changes=changes,
    of_room=rejected,
)
