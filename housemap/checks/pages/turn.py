"""A colour that turns between day and evening."""

from collections.abc import Iterator, Mapping
from math import dist

import numpy as np

from housemap.checks.changes import repaint
from housemap.checks.costs import cost_of_values
from housemap.checks.examples import lit_room
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import number, place_name
from housemap.colorimetry.arrays import Floats, Truths
from housemap.model.house import House
from housemap.study import PaintedRoom, SeenColour


def turning(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    walls = room.coats.get("walls")
    seen = scope.study.lighting.seen
    day, evening = seen[room.id, "day"], seen[room.id, "evening"]
    if walls is None or day is None or evening is None:
        return
    yield from _turns(Place.of(walls), day.colours[walls], evening.colours[walls], scope)


def _turns(place: Place, day: SeenColour, evening: SeenColour, scope: Scope) -> Iterator[Finding]:
    shift = dist(day.ucs, evening.ucs)
    families = day.undertone.family, evening.undertone.family
    turned = families[0] != families[1] and "none" not in families
    kind = "family" if turned and shift <= scope.limits["shift"] else "shift"
    if shift > scope.limits[kind]:
        yield Finding(
            check="turn",
            severity="note",
            places=(place,),
            kind=kind,
            value=shift,
            limit=scope.limits[kind],
            unit="CAM16-UCS",
            words=(day.undertone.name, evening.undertone.name),
            light="evening",
        )


def shift_costs(shift: Floats, turned: Truths, limits: Mapping[str, float]) -> Floats:
    """What shifts cost; `turned` where the family changes from one hue to another."""
    whole = np.where(shift > limits["shift"], cost_of_values("note", shift, limits["shift"]), 0.0)
    family = turned & (shift > limits["family"]) & (shift <= limits["shift"])
    return np.where(family, cost_of_values("note", shift, limits["family"]), whole)


def tell(finding: Finding, house: House) -> str:
    day, evening = finding.words
    return (
        f"{place_name(house, finding.places[0])} reads as {day} by day and as {evening} in the"
        f" evening, {number(finding.value)} apart: try it on the wall by lamplight"
    )


CHECK = Check(
    id="turn",
    title="Turns with the light",
    help=(
        "The wall colour as seen by day and by lamp, each by an eye adapted to that light"
        " (CIECAM16, CIE 248:2022): its undertone visibly changes from one hue family to another,"
        " or it shifts by more than the limit. Often that is wanted; it should not be a surprise."
    ),
    limits=(
        Limit("shift", 6.0, "CAM16-UCS", "our assumption: plain to see"),
        Limit("family", 2.0, "CAM16-UCS", "our assumption: less is a border crossed, not a turn"),
    ),
    clean=Example(
        "A grey under a window and a lamp of nearly daylight colour.",
        lit_room("N 8/", lamp_kelvin=6000.0),
    ),
    caught=Example(
        "A pale blue green that a warm lamp turns to yellow.",
        lit_room("5BG 8/1", lamp_kelvin=2700.0),
    ),
    tell=tell,
    changes=repaint,
    judged="in depth",
    of_room=turning,
)
