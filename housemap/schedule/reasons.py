"""Why each colour is where it is, and what is still to be decided, in words for the client."""

import re
from collections.abc import Iterator, Mapping, Sequence

from housemap.checks import Cause
from housemap.checks.words import MOST_ROOMS, listed, room_name
from housemap.colorimetry.undertone import NEUTRAL
from housemap.model.geometry import cardinal, facing_deg
from housemap.model.grouping import grouped
from housemap.model.house import House, OpeningKind
from housemap.model.text import counted
from housemap.plan.floor_plan import short_wall_name
from housemap.schedule import wording
from housemap.schedule.document import Schedule
from housemap.schedule.quantities import Line
from housemap.study import Swatch

LIGHT_LRV, PALE_LRV, BLACK_LRV = 55.0, 75.0, 15.0
"""A colour of halls that keeps the light, near-white trim, near-black joinery: common practice,
no source."""
STEP_LRV, CLEAR_LRV = 5.0, 15.0
"""A smaller step of LRV counts as none here (our assumption); from the second on trim is clearly
apart from its walls (common practice, no source)."""
SAME_HUE_DEG = 20.0
"""Between hues that are one to the eye, in the a'b' plane of CAM16-UCS (our assumption)."""

Uses = Mapping[str, Sequence[Line]]
"""What a paint goes on: lines by the kind of surface ("walls", "accent", "part", "trim" ...)."""


def reasons(schedule: Schedule) -> Iterator[str]:
    """Why each paint is where it is, those of most walls first."""
    lines = grouped((line.paint, line) for line in schedule.quantities.lines)
    uses = {
        paint: grouped((line.surface.partition(" ")[0], line) for line in of)
        for paint, of in lines.items()
    }
    on_walls = (paint for paint in schedule.numbers if "walls" in uses[paint])
    main = next(map(schedule.swatch, on_walls), None)
    for paint in sorted(schedule.numbers, key=lambda paint: "walls" not in uses[paint]):
        own, on = schedule.swatch(paint), uses[paint]
        name = f"{wording.paint(schedule.house, paint)}, {own.colour.undertone.words}"
        first, *others = [kind for kind in _ORDER if kind in on]
        said = _of_kind(schedule, own, main or own, (first, on[first]))
        also = listed([_also(schedule, kind, on[kind]) for kind in others])
        more = f" Also on {also}." if also else ""
        yield f"{name}, LRV {own.lrv:.0f}: {said}.{more}{_doubt(schedule, paint)}"


def _of_kind(schedule: Schedule, own: Swatch, main: Swatch, on: tuple[str, Sequence[Line]]) -> str:
    kind, lines = on
    match kind:
        case "walls" if main.id == own.id:
            return _of_main(schedule, own, _rooms(lines))
        case "walls":
            return _of_walls(schedule, own, main, _rooms(lines))
        case "accent" | "part":
            return _of_accent(schedule, own, lines[0])
        case "ceiling":
            return f"the ceilings, so that light comes back into {_named(schedule, lines)}"
    return _of_woodwork(schedule, own, lines)


_ORDER = ("walls", "accent", "trim", "doors", "part", "ceiling")


def _rooms(lines: Sequence[Line]) -> Sequence[str]:
    return tuple(dict.fromkeys(line.room for line in lines))


def _named(schedule: Schedule, lines: Sequence[Line]) -> str:
    return _names(schedule.house, _rooms(lines))


def _names(house: House, rooms: Sequence[str]) -> str:
    return listed([room_name(house, room) for room in rooms], MOST_ROOMS, "rooms")


def _also(schedule: Schedule, kind: str, lines: Sequence[Line]) -> str:
    """As in "the trim of Stairs"; doors of an outdoor room are the outside of those of a house."""
    house, exits = schedule.house, schedule.study.graph.exits
    if kind in {"accent", "part"}:
        return listed([_place(house, line) for line in lines], MOST_ROOMS, "walls and parts")
    outside = [line.room for line in lines if house.rooms[line.room].use == "outdoor"]
    if kind == "doors" and len(outside) == len(lines):
        inside = tuple(dict.fromkeys(each.to for room in outside for each in exits(room)))
        return f"the outside of the door to {_names(house, inside)}"
    return f"the {kind}{'s' if kind == 'ceiling' else ''} of {_named(schedule, lines)}"


def _place(house: House, line: Line) -> str:
    """As in "the south wall of Study"."""
    kind, _, key = line.surface.partition(" ")
    name = short_wall_name(house, line.room, key) if kind == "accent" else None
    name = name or wording.surface(house, line.room, line.surface)
    return f"the {name} of {room_name(house, line.room)}"


def _of_main(schedule: Schedule, own: Swatch, rooms: Sequence[str]) -> str:
    """Of the colour on most wall."""
    held = [schedule.house.rooms[room] for room in rooms]
    joins = any(room.role == "backbone" or room.use in {"hall", "stair"} for room in held)
    what = "the colour that joins the rooms" if joins else "the colour of most walls"
    light = ", light enough to carry daylight on" if own.lrv >= LIGHT_LRV else ""
    beyond = len({to for _, to in _ways_out(schedule, rooms)})
    opens = f", from which {counted(beyond, 'other room')} open{'s' * (beyond == 1)}"
    return f"{what}{light}. {_names(schedule.house, rooms)}{opens if beyond else ''}"


def _of_walls(schedule: Schedule, own: Swatch, main: Swatch, rooms: Sequence[str]) -> str:
    """How it stands to the main colour, and what its rooms are like."""
    accent = any(schedule.house.rooms[room].role == "accent" for room in rooms)
    beside = f"{_depth(own, main)}, {relation(own, main)}"
    there = "; ".join(_of_place(schedule, rooms, deeper=main.lrv - own.lrv > STEP_LRV))
    where = _names(schedule.house, rooms)
    return f"{'an accent on purpose, ' * accent}{beside}. {where}{f': {there}' if there else ''}"


def _depth(own: Swatch, other: Swatch) -> str:
    step = own.lrv - other.lrv
    how = "as light as" if abs(step) <= STEP_LRV else "deeper than" if step < 0 else "lighter than"
    return f"{how} {other.name}"


def _ways_out(schedule: Schedule, rooms: Sequence[str]) -> Sequence[tuple[OpeningKind, str]]:
    """The openings from these rooms to others indoors."""
    house, graph = schedule.house, schedule.study.graph
    return [
        (graph.openings[each.opening].kind, each.to)
        for room in rooms
        for each in graph.exits(room)
        if each.to not in rooms and house.rooms[each.to].use != "outdoor"
    ]


def _of_place(schedule: Schedule, rooms: Sequence[str], *, deeper: bool) -> Iterator[str]:
    """How rooms are parted from the others indoors, and from where their daylight comes."""
    house, ways = schedule.house, _ways_out(schedule, rooms)
    open_to = tuple(dict.fromkeys(to for kind, to in ways if kind != "doorway"))
    if open_to:
        yield f"open to {_names(house, open_to)}, and seen from there"
    elif ways:
        yield "behind a door, so it may be deeper" if deeper else "behind a door"
    facing = {
        facing_deg(house.rooms[room], window.wall, house.north_deg)
        for room in rooms
        for window in house.rooms[room].windows.values()
    }
    sides = {cardinal(each) for each in facing if each is not None}
    if not facing:
        yield "without a window, so seen by lamplight"
    elif len(sides) == 1:
        yield f"daylight from the {sides.pop()}"


def relation(own: Swatch, other: Swatch) -> str:
    """How the hue of a colour goes with that of another, in a few words."""
    one, two = own.colour.undertone, other.colour.undertone
    strength, beside = own.colour.strength, other.colour.strength
    if one.family == "none":
        return "a grey that hardly leans"
    lean = f"leaning {one.family}" if strength == NEUTRAL else f"a {one.family}"
    if two.family == "none":
        return f"{lean} beside a grey that hardly leans"
    if abs((one.hue_deg - two.hue_deg + 180.0) % 360.0 - 180.0) <= SAME_HUE_DEG:
        if strength == beside:
            return "of the same undertone" if strength == NEUTRAL else "of the same hue"
        return f"of the same hue, {'stronger' if strength > beside else 'quieter'}"
    both = {one.temperature, two.temperature}
    if both == {"warm", "cool"}:
        return f"{lean}, {one.temperature} against its {two.temperature} {two.family}"
    alike = len(both) == 1 and "neutral" not in both and "green" not in {one.family, two.family}
    return f"{lean} beside its {two.family}{f', both {one.temperature}' if alike else ''}"


def _of_accent(schedule: Schedule, own: Swatch, line: Line) -> str:
    """Beside the other walls of its room."""
    walls = schedule.house.rooms[line.room].paints.walls
    where = _place(schedule.house, line)
    if walls is None or walls == own.id:
        return where
    beside = schedule.swatch(walls)
    return f"{where}, {_depth(own, beside)} beside it, {relation(own, beside)}"


def _of_woodwork(schedule: Schedule, own: Swatch, lines: Sequence[Line]) -> str:
    """Whether it is set off from the walls of its rooms goes by the LRV of both."""
    house, named = schedule.house, _named(schedule, lines)
    if own.lrv <= BLACK_LRV:
        return f"woodwork near black, dark on purpose ({named})"
    if own.lrv < PALE_LRV:
        return f"woodwork in a colour of its own ({named})"
    walls = {room: house.rooms[room].paints.walls for room in _rooms(lines)}
    near = [
        room for room, paint in walls.items()
        if paint and own.lrv - schedule.swatch(paint).lrv < CLEAR_LRV
    ]  # fmt: skip
    but = f", but not in {_names(house, near)}" if near else ""
    return f"woodwork near white ({named}), clearly lighter than the walls{but}"


# What is still to be decided

OF_RECORDS = frozenset({"label", "closing", "gamut"})
"""Checks of what was written down: nothing to a client."""
QUESTIONS: Mapping[str, str] = {
    "jar": "{rooms}: from one to the other the colour changes strongly. Do you want it so?",
    "stop": "{rooms} meet without an edge. Where shall the colour change?",
    "undertone": "{paints} pull apart where they are seen together ({rooms})."
    " Shall one of them change?",
    "near-miss": "{paints} are nearly the same ({rooms}). May it be one of them?",
    "fixed": "{paints} beside the {kept} that you keep ({rooms}): do you like them together?",
    "rejected": "{paints} did not please on the wall ({rooms}). Which colour instead?",
    "backbone": "{rooms}: in {paints} the way through the house is dark. Do you want it so?",
    "dim": "{rooms}: in {paints} it is dark there by day. Do you want it so?",
    "crowd": "{rooms}: many colours are seen at once from there. Shall there be fewer?",
    "trim": "{rooms}: the woodwork is neither like the walls nor clearly lighter or darker."
    " Which shall it be?",
    "edge": "{rooms}: edges are hard to see there with low vision. Shall they stand out more?",
    "lone": "{paints} ({rooms}) comes back nowhere in view. Do you like it so?",
    "sheen": "{rooms}: the paint chosen does not last there. May it be a washable one?",
    "bare": "{rooms}: which colour shall the walls have?",
    "turn": "{paints} looks different by lamplight ({rooms}). Will you look at it in the evening?",
}  # fmt: skip
"""What is asked of a client where a check finds something."""
_FIGURES = re.compile(r" \([^()]*\d[^()]*\)$", re.MULTILINE)
"""The figures at the end of a finding."""


def unsettled(schedule: Schedule) -> Iterator[Cause]:
    """What speaks against the colours as they are, except notes; and walls without a colour."""
    for matter in schedule.matters:
        if matter.check == "bare" or (matter.severity != "note" and matter.check not in OF_RECORDS):
            yield matter


def questions(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for matter in unsettled(schedule):
        asked = QUESTIONS.get(matter.check)
        if asked is None:
            words = as_said_to_client(_FIGURES.sub("", matter.describe(house)))
            yield f"{words} Do you want it so?"
            continue
        places = [place for finding in matter.findings for place in finding.places]
        kept = dict.fromkeys(house.finishes[p.finish].name for p in places if p.finish)
        paints = [house.paints[paint].name for paint in matter.paints]
        yield asked.format(
            rooms=_names(house, matter.rooms), paints=listed(paints), kept=listed([*kept])
        )


def rooms_in_doubt(schedule: Schedule, paint: str | None = None) -> Sequence[str]:
    """The rooms of which something is open, or those where it is about a paint."""
    found = (
        place.room
        for matter in unsettled(schedule)
        for finding in matter.findings
        for place in finding.places
        if paint in {None, place.paint}
    )
    return tuple(dict.fromkeys(found))


def _doubt(schedule: Schedule, paint: str) -> str:
    rooms = rooms_in_doubt(schedule, paint)
    return f" Not settled yet in {_names(schedule.house, rooms)}: see below." if rooms else ""


_TO_CLIENT = {
    "the client wants": "you asked for", "the client keeps": "you keep",
    "the client asked": "you asked",
}  # fmt: skip
"""Words of a sentence about the client, as one says them to the client."""


def as_said_to_client(text: str) -> str:
    for theirs, yours in _TO_CLIENT.items():
        text = text.replace(theirs, yours)
    return text
