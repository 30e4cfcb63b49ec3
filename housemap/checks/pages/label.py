"""A printed LRV that the colour contradicts."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from housemap.checks.examples import one_room
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Change, Check, Example, Limit, Scope
from housemap.checks.words import number, paint_name
from housemap.model.edits import put
from housemap.model.house import House, Paint, Room, SurfacePaints
from housemap.study import Study, Swatch


def contradicted(swatch: Swatch, scope: Scope) -> Iterator[Finding]:
    printed = swatch.entity.lrv
    if printed is None:
        return
    off = abs(printed - swatch.colour.lrv)
    if off > scope.limits["lrv"]:
        is_paint = isinstance(swatch.entity, Paint)
        place = Place("", "", *((swatch.id, "") if is_paint else ("", swatch.id)))
        yield Finding(
            check="label",
            severity="warn",
            places=(place,),
            kind="lrv",
            value=off,
            limit=scope.limits["lrv"],
            unit="LRV",
            parts={"printed": printed, "computed": swatch.colour.lrv},
        )


def tell(finding: Finding, house: House) -> str:
    return (
        f"{paint_name(house, finding.places[0])}: printed LRV {number(finding.parts['printed'])},"
        f" computed {number(finding.parts['computed'])}; measure it or ask for the data"
    )


def changes(finding: Finding, study: Study) -> Iterator[Change]:
    """Dropping the printed value is all that can be done from here."""
    place = finding.places[0]
    name = paint_name(study.house, place)
    yield Change(f"Drop the printed LRV of {name}", partial(_drop, place), 0.0)


def _drop(place: Place, house: House) -> House:
    if place.paint:
        return put(house, "paints", place.paint, replace(house.paints[place.paint], lrv=None))
    finish = house.finishes[place.finish]
    return put(house, "finishes", place.finish, replace(finish, lrv=None))


def _labelled(lrv: float) -> House:
    house = one_room(Room("Hall", paints=SurfacePaints(walls="oat")), oat="5Y 8/1")
    return put(house, "paints", "oat", replace(house.paints["oat"], lrv=lrv))


CHECK = Check(
    id="label",
    title="Printed LRV contradicted",
    help=(
        "The LRV printed for a paint and the one computed from its colour (CIE Y, D65, 10 degree"
        " observer: BS 8493, ASTM E1477) differ by more than print and rounding explain. Within"
        " the limit the printed value is used everywhere, beyond it the computed one. A colour"
        " given for a screen can itself be up to 3 points off for a strong yellow."
    ),
    limits=(Limit("lrv", 3.0, "LRV", "our assumption: twice what charts and rounding explain"),),
    clean=Example("A D1535 value of 8 printed as LRV 58.", _labelled(58.0)),
    caught=Example("The same paint printed as LRV 70.", _labelled(70.0)),
    tell=tell,
    changes=changes,
    of_swatch=contradicted,
)
