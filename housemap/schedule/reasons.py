"""Why each colour is where it is, and what is still to be decided, in words for the client."""

import re
from collections.abc import Iterator, Sequence

from housemap.checks import Cause
from housemap.checks.words import MOST_ROOMS, listed, room_name
from housemap.colorimetry.undertone import NEUTRAL
from housemap.model.geometry import cardinal, facing_deg
from housemap.model.grouping import grouped
from housemap.model.house import House, OpeningKind
from housemap.model.text import counted
from housemap.schedule import wording
from housemap.schedule.document import Schedule
from housemap.schedule.quantities import Line
from housemap.schedule.systems import QUESTIONS
from housemap.study import Swatch

LIGHT_LRV, PALE_LRV, BLACK_LRV = 55.0, 75.0, 15.0
"""A colour of halls that keeps the light, near-white trim, near-black joinery: common practice,
no source."""
STEP_LRV, CLEAR_LRV = 5.0, 15.0
"""A smaller step of LRV counts as none here (our assumption); from the second on trim is clearly
apart from its walls (common practice, no source)."""
SAME_HUE_DEG = 20.0
"""Between hues that are one to the eye, in the a'b' plane of CAM16-UCS (our assumption)."""
_ORDER = ("walls", "accent", "trim", "doors", "part", "ceiling")
"""By the first of these that a paint is on its reason goes."""


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
        rooms = rooms_in_doubt(schedule, paint)
        doubt = f" Not settled yet in {_names(schedule.house, rooms)}: see below." if rooms else ""
        yield f"{name}, LRV {own.lrv:.0f}: {said}.{more}{doubt}"


def _of_kind(schedule: Schedule, own: Swatch, main: Swatch, on: tuple[str, Sequence[Line]]) -> str:
    kind, lines = on
    rooms = tuple(dict.fromkeys(line.room for line in lines))
    match kind:
        case "walls" if main.id == own.id:
            return _of_main(schedule, own, rooms)
        case "walls":
            return _of_walls(schedule, own, main, rooms)
        case "accent" | "part":
            return _of_accent(schedule, own, lines[0])
        case "ceiling":
            return f"the ceilings, so that light comes back into {_names(schedule.house, rooms)}"
    return _of_woodwork(schedule, own, rooms)


def _names(house: House, rooms: Sequence[str]) -> str:
    return listed([room_name(house, room) for room in rooms], MOST_ROOMS, "rooms")


def _also(schedule: Schedule, kind: str, lines: Sequence[Line]) -> str:
    """As in "the trim of Stairs"; doors of an outdoor room are the outside of those of a house."""
    house, exits = schedule.house, schedule.study.graph.exits
    rooms = tuple(dict.fromkeys(line.room for line in lines))
    if kind in {"accent", "part"}:
        return listed([_place(house, line) for line in lines], MOST_ROOMS, "walls and parts")
    if kind == "doors" and all(house.rooms[room].use == "outdoor" for room in rooms):
        inside = tuple(dict.fromkeys(each.to for room in rooms for each in exits(room)))
        return f"the outside of the door to {_names(house, inside)}"
    return f"the {kind}{'s' if kind == 'ceiling' else ''} of {_names(house, rooms)}"


def _place(house: House, line: Line) -> str:
    """As in "the south wall of Study"."""
    surface = wording.surface(house, line.room, line.surface).removesuffix(" (accent)")
    return f"the {surface} of {room_name(house, line.room)}"


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
    lean = f"leaning {one.family}" if strength == NEUTRAL else f"a {one.family}"
    both, turned = {one.temperature, two.temperature}, abs(one.hue_deg - two.hue_deg)
    if one.family == "none":
        words = "a grey that hardly leans"
    elif two.family == "none":
        words = f"{lean} beside a grey that hardly leans"
    elif min(turned, 360.0 - turned) <= SAME_HUE_DEG:
        step = "" if strength == beside else ", stronger" if strength > beside else ", quieter"
        words = f"of the same {'undertone' if strength == beside == NEUTRAL else 'hue'}{step}"
    elif "neutral" in both or "green" in {one.family, two.family}:
        words = f"{lean} beside its {two.family}"
    elif len(both) == 1:
        words = f"{lean} beside its {two.family}, both {one.temperature}"
    else:
        words = f"{lean}, {one.temperature} against its {two.temperature} {two.family}"
    return words


def _of_accent(schedule: Schedule, own: Swatch, line: Line) -> str:
    """Beside the other walls of its room."""
    walls = schedule.house.rooms[line.room].paints.walls
    where = _place(schedule.house, line)
    if walls is None or walls == own.id:
        return where
    beside = schedule.swatch(walls)
    return f"{where}, {_depth(own, beside)} beside it, {relation(own, beside)}"


def _of_woodwork(schedule: Schedule, own: Swatch, rooms: Sequence[str]) -> str:
    """Whether it is set off from the walls of its rooms goes by the LRV of both."""
    house, named = schedule.house, _names(schedule.house, rooms)
    if own.lrv < PALE_LRV:
        dark = own.lrv <= BLACK_LRV
        return f"woodwork {'near black' if dark else 'in a colour of its own'} ({named})"
    walls = {room: house.rooms[room].paints.walls for room in rooms}
    lrvs = {room: schedule.swatch(paint).lrv for room, paint in walls.items() if paint}
    near = [room for room, lrv in lrvs.items() if own.lrv - lrv < CLEAR_LRV]
    but = f", but not in {_names(house, near)}" if near else ""
    return f"woodwork near white ({named}), clearly lighter than the walls{but}"


# What is still to be decided

OF_RECORDS = frozenset({"label", "closing", "gamut"})
"""Checks of what was written down: nothing to a client."""
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


_TO_CLIENT = {
    "the client wants": "you asked for", "the client keeps": "you keep",
    "the client asked": "you asked",
}  # fmt: skip
"""Words of a sentence about the client, as one says them to the client."""


def as_said_to_client(text: str) -> str:
    for theirs, yours in _TO_CLIENT.items():
        text = text.replace(theirs, yours)
    return text
