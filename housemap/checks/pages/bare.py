"""A room in view that has no paint yet."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from housemap.checks.examples import two_rooms, with_room
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Change, Check, Example, Scope
from housemap.checks.words import room_name
from housemap.model.edits import assign
from housemap.model.house import House, SurfacePaints
from housemap.study import Study, View


def bare_room(view: View, scope: Scope) -> Iterator[Finding]:
    del scope
    room = view.room
    if view.seen and "walls" not in room.coats and room.room.use != "outdoor":
        yield Finding(check="bare", severity="note", places=(Place(room.id, "walls"),))


def tell(finding: Finding, house: House) -> str:
    return f"{room_name(house, finding.places[0].room)} is in view and its walls have no paint yet"


def changes(finding: Finding, study: Study) -> Iterator[Change]:
    """Each wall paint of the house, those already in view first."""
    room = finding.places[0].room
    views = study.views[room].seen
    in_view = [seen.room.coats["walls"].swatch.id for seen in views if "walls" in seen.room.coats]
    for paint_id in dict.fromkeys((*in_view, *study.house.paints)):
        name = study.house.paints[paint_id].name
        label = f"Paint {room_name(study.house, room)} walls in {name}"
        yield Change(label, partial(_paint, room, paint_id), 0.0)


def _paint(room: str, paint_id: str, house: House) -> House:
    return assign(house, room, "walls", paint_id)


_BOTH = two_rooms("5Y 8/1", "5Y 7/1")

CHECK = Check(
    id="bare",
    title="Not painted yet",
    help=(
        "A room that is seen from another has no wall paint yet, so nothing that is judged about"
        " the view is final."
    ),
    limits=(),
    clean=Example("Hall and study both have their paint.", _BOTH),
    caught=Example(
        "The study off the hall has none.",
        with_room(_BOTH, "study", replace(_BOTH.rooms["study"], paints=SurfacePaints())),
    ),
    tell=tell,
    changes=changes,
    of_view=bare_room,
)
