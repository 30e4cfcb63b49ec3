"""What was written down: a printed LRV, a colour no screen shows, measurements, who sees whom."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from housemap.checks.check import Change, Check, Example, Limit, Listed, Scope
from housemap.checks.examples import loop_of_rooms, one_room
from housemap.checks.finding import WARN, Finding, Place, excess_costs, plain_finding
from housemap.checks.words import MOST_ROOMS, listed, number, paint_name, room_name
from housemap.model.edits import put
from housemap.model.house import House, Opening, Paint, Room, SurfacePaints
from housemap.model.lengths import format_length
from housemap.model.samples import approved_paints
from housemap.plan.blocked_windows import blocked_windows
from housemap.plan.floor_plan import plan_side, wall_side
from housemap.plan.free_space import space_of
from housemap.plan.house_graph import HouseGraph
from housemap.plan.placing import Plan
from housemap.plan.sightings import contradicted, ways
from housemap.study import Study, Swatch


def wrong_label(swatch: Swatch, scope: Scope) -> Iterator[Finding]:
    printed = swatch.entity.lrv
    if printed is None:
        return
    off, limit = abs(printed - swatch.colour.lrv), scope.limits["lrv"]
    if off > limit:
        is_paint = isinstance(swatch.entity, Paint)
        place = Place("", "", *((swatch.id, "") if is_paint else ("", swatch.id)))
        parts = {"printed": printed, "computed": swatch.colour.lrv}
        cost = float(excess_costs(WARN, np.array(off), limit))
        yield Finding("label", "warn", (place,), "lrv", off, limit, "LRV", parts, cost=cost)


def tell_label(finding: Finding, house: House) -> str:
    return (
        f"{paint_name(house, finding.places[0])}: the card says LRV"
        f" {number(finding.parts['printed'])}, its colour gives"
        f" {number(finding.parts['computed'])}.{_where_it_is(finding.places[0], house)}"
    )


def _where_it_is(place: Place, house: House) -> str:
    """As in " It is in Hall and Study."."""
    rooms = [
        room.name
        for room in house.rooms.values()
        if place.paint in (paint for _, paint in room.painted())
        or (place.finish and place.finish in (room.floor, *room.fixed))
    ]
    return f" It is in {listed(rooms, MOST_ROOMS, 'rooms')}." if rooms else ""


def label_changes(finding: Finding, study: Study) -> Iterator[Change]:
    """Dropping the printed value is all that can be done from here."""
    place = finding.places[0]

    def drop(house: House) -> House:
        if place.paint:
            return put(house, "paints", place.paint, replace(house.paints[place.paint], lrv=None))
        finish = house.finishes[place.finish]
        return put(house, "finishes", place.finish, replace(finish, lrv=None))

    yield Change(f"Drop the printed LRV of {paint_name(study.house, place)}", drop, 0.0)


def _labelled(lrv: float) -> House:
    house = one_room(Room("Hall", paints=SurfacePaints(walls="oat")), oat="5Y 8/1")
    return put(house, "paints", "oat", replace(house.paints["oat"], lrv=lrv))


LABEL = Check(
    id="label",
    title="LRV on the card looks wrong",
    help=(
        "The LRV printed for a paint differs from the one computed from its colour (CIE Y, D65, 10"
        " degree observer: BS 8493, ASTM E1477), by more than rounding explains. Within"
        " the limit the printed value is used everywhere, beyond it the computed one. A colour"
        " given for a screen can itself be up to 4 points off for a strong yellow or blue."
    ),
    limits=(Limit("lrv", 3.0, "LRV", "our assumption: twice what charts and rounding explain"),),
    clean=Example("A D1535 value of 8 printed as LRV 58.", _labelled(58.0)),
    caught=Example("The same paint printed as LRV 70.", _labelled(70.0)),
    looks=(Listed("swatches", wrong_label),),
    sentence=tell_label,
    headline="The LRV on the card of {0} looks wrong",
    advice="Measure it, or ask the maker, and correct it with e. Until then drop it.",
    caused_by="place",
    changes=label_changes,
)


def not_shown(swatch: Swatch, scope: Scope) -> Iterator[Finding]:
    if not isinstance(swatch.entity, Paint) or swatch.colour.in_srgb:
        return
    if swatch.id not in approved_paints(scope.study.house):
        yield plain_finding("gamut", "note", (Place("", "", swatch.id),))


def tell_gamut(finding: Finding, house: House) -> str:
    place = finding.places[0]
    up = any(sample.paint == place.paint for sample in house.samples.values())
    see = "look at its sample" if up else "put a sample up to see it"
    return f"{paint_name(house, place)} is stronger than a screen can show: {see}."


_ROOM = Room("Hall", paints=SurfacePaints(walls="marigold"))

GAMUT = Check(
    id="gamut",
    title="Beyond the screen",
    help=(
        "A screen cannot show this colour. It is drawn as the nearest one of the same hue with less"
        " strength. Every number is that of the true colour; trust only a sample. Method:"
        " outside sRGB (IEC 61966-2-1)."
    ),
    limits=(),
    clean=Example("An oat that any screen shows.", one_room(_ROOM, marigold="5Y 8/1")),
    caught=Example("A marigold that none does.", one_room(_ROOM, marigold="2.5Y 8/16")),
    looks=(Listed("swatches", not_shown),),
    sentence=tell_gamut,
    headline="{0} is stronger than a screen can show",
    advice="Press s to put a sample up: an approved sample clears this.",
    caused_by="place",
    gravest="note",
)


def contradictions_in(
    house: House, graph: HouseGraph, plan: Plan, limit: float
) -> Iterator[Finding]:
    """Loops that do not close by more than `limit` metres, overlaps, walls that do not meet, rooms
    on two levels joined by no stairs, windows where none can be, and sightlines that the
    measurements rule out.
    """  # noqa: D205 - one sentence
    for closing in plan.closings:
        if closing.error_m > limit:
            places = _rooms(house.openings[closing.opening].between)
            cost = float(excess_costs(WARN, np.array(closing.error_m), limit))
            yield Finding("closing", "warn", places, "loop", closing.error_m, limit, "m", cost=cost)
    for pair in plan.overlaps:
        yield plain_finding("closing", "warn", _rooms(pair), "overlap")
    for unmet in plan.unmet:
        between = house.openings[unmet.opening].between
        finding = plain_finding("closing", "warn", _rooms(between), "facing")
        words = [(contact.wall, contact.to_wall) for contact in unmet.contacts[:1]]
        apart = {"apart": unmet.apart_m} if unmet.apart_m else {}
        yield replace(finding, parts=apart, words=words[0] if words else ())
    for opening in house.openings.values():
        if _lacks_stairs(house, opening):
            yield plain_finding("closing", "warn", _rooms(opening.between), "levels")
    for each in blocked_windows(house, plan):
        places = _rooms(filter(None, (each.room, each.other, each.door)))
        kind = "behind" if each.behind else "doors" if each.door else "window"
        finding = plain_finding("closing", "warn", places, kind)
        yield replace(finding, words=(each.wall,))
    if graph.sightlines:
        for key in contradicted(graph, plan, ways(space_of(house, plan))):
            between = house.sightlines[key].between
            yield plain_finding("closing", "note", _rooms(between), "sightline")


def _lacks_stairs(house: House, opening: Opening) -> bool:
    """Whether one would walk through a floor; a stairwell or a garden has doors on any level."""
    one, other = (house.rooms[room] for room in opening.between)
    walked = opening.kind in {"doorway", "cased", "glazed"}
    return walked and one.level != other.level and not {one.use, other.use} & {"stair", "outdoor"}


def _rooms(between: Iterable[str]) -> tuple[Place, ...]:
    return tuple(Place(room, "") for room in between)


def tell_closing(finding: Finding, house: House) -> str:
    rooms = " and ".join(room_name(house, room) for room in finding.rooms)
    if finding.kind in {"behind", "doors", "window"}:
        return _tell_window(finding, house)
    if finding.kind == "overlap":
        return f"{rooms} overlap on the plan: check their sizes and positions."
    if finding.kind == "levels":
        return (
            f"{rooms} are on two levels: is it stairs that join them? Correct the kind or a level."
        )
    if finding.kind == "facing":
        text = f"{rooms}: the two walls of their opening do not meet."
        return " ".join(filter(None, (text, _what_meets(finding, house), "Check both walls.")))
    if finding.kind == "sightline":
        return f"{rooms}: a sightline is recorded, but by the measurements there is none."
    return (
        f"Measurements around {rooms} do not add up by {finding.value:.2f} m."
        f" Measure the opening between them again. (limit {finding.limit:.2f} m)"
    )


def _tell_window(finding: Finding, house: House) -> str:
    """Whatever says that it is elsewhere is as likely to be wrong as the window or door."""
    room, *others = (house.rooms[each] for each in finding.rooms)
    place = f"{plan_side(room, finding.words[0], house.north_deg)} of {room.name}"
    if finding.kind == "behind":
        return f"{others[0].name} lies behind a window in the {place}. Check both."
    if finding.kind == "doors":
        return f"Two doors overlap in the {place}: to {others[0].name} and {others[-1].name}."
    over = f"the door to {others[0].name}" if others else "another window"
    return f"A window in the {place} lies over {over}. Measure both again."


def _what_meets(finding: Finding, house: House) -> str:
    first, second = (house.rooms[room] for room in finding.rooms)
    if "apart" in finding.parts:
        apart = format_length(finding.parts["apart"], house.units)
        return f"The rooms lie {apart} apart."
    if not finding.words:
        return ""
    own, other = map(wall_side, (first, second), finding.words, (house.north_deg,) * 2)
    return f"The {own} of {first.name} meets the {other} of {second.name}."


def _contradictions(plan: Plan, scope: Scope) -> Iterator[Finding]:
    return contradictions_in(scope.study.house, scope.study.graph, plan, scope.limits["loop"])


CLOSING = Check(
    id="closing",
    title="Measurements do not add up",
    help=(
        "Walking through openings round a circle of rooms must lead back to where one began. What"
        " is left over is spread over the openings by least squares, as in a surveyor's traverse;"
        " above the limit the opening most likely mis-measured is named. Listed here"
        " too: rooms that overlap, and walls of an opening that do not meet. So are rooms on two"
        " levels joined by no stairs, and sightlines that the measurements rule out. So are doors"
        " that overlap, and windows over a door, over another window, or before a room: glass"
        " there is a glazed opening."
    ),
    limits=(Limit("loop", 0.10, "m", "common practice: a tape held by one person"),),
    clean=Example("Four rooms in a circle whose measures close.", loop_of_rooms(0.0)),
    caught=Example("The same with one doorway measured 0.4 m off.", loop_of_rooms(0.4)),
    looks=(Listed("plans", _contradictions),),
    sentence=tell_closing,
    headline="Measurements do not add up",
    caused_by="place",
)
