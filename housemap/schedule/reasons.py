"""Why each colour is where it is, and what is still to be decided, in words for the client."""

import re
from collections.abc import Iterator, Sequence

from housemap.checks import Cause
from housemap.checks.words import MOST_ROOMS, listed, room_name
from housemap.colorimetry.undertone import NEUTRAL
from housemap.model.geometry import cardinal, facing_deg
from housemap.model.grouping import grouped
from housemap.model.house import House, OpeningKind
from housemap.model.wishes import kept_rooms
from housemap.schedule import wording
from housemap.schedule.document import Schedule
from housemap.schedule.quantities import Line
from housemap.schedule.systems import QUESTIONS
from housemap.study import Swatch

LIGHT_LRV, PALE_LRV, DARK_LRV = 55.0, 75.0, 15.0
"""A colour of halls that keeps the light, near-white trim, dark joinery: common practice, no
source."""
STEP_LRV, CLEAR_LRV = 5.0, 15.0
"""A smaller step of LRV counts as none here (our assumption); from the second on trim is clearly
apart from its walls (common practice, no source)."""
SAME_HUE_DEG = 20.0
"""Between hues that are one to the eye, in the a'b' plane of CAM16-UCS (our assumption)."""
LINKS = 3
"""So many rooms open from one that links them (our assumption)."""
_ORDER = ("walls", "accent", "trim", "doors", "part", "ceiling")
"""By the first of these that a paint is on its reason goes."""


def reasons(schedule: Schedule) -> Iterator[str]:
    """Why each paint is where it is, those on walls first."""
    lines = grouped((line.paint, line) for line in schedule.quantities.lines)
    uses = {paint: grouped((_kind(line), line) for line in of) for paint, of in lines.items()}
    on_walls = [paint for paint in schedule.numbers if "walls" in uses[paint]]
    linking = (p for p in on_walls if any(_links(schedule, ln.room) for ln in uses[p]["walls"]))
    main = next(linking, next(iter(on_walls), ""))
    for paint in dict.fromkeys((*filter(None, (main,)), *on_walls, *schedule.numbers)):
        own, on = schedule.swatch(paint), uses[paint]
        name = f"{wording.paint(schedule.house, paint)}, {own.colour.undertone.words}"
        first, *others = [kind for kind in _ORDER if kind in on]
        said = _of_kind(schedule, own, main, on[first])
        more = [line for kind in others for line in on[kind]]
        also = f" Also on {_places(schedule, more)}." if more else ""
        rooms = rooms_in_doubt(schedule, paint)
        doubt = f" Not settled yet in {_names(schedule.house, rooms)}: see below." if rooms else ""
        yield f"{name}, LRV {own.lrv:.0f}: {said}.{also}{doubt}"


def _kind(line: Line) -> str:
    return line.surface.partition(" ")[0]


def _links(schedule: Schedule, room: str) -> bool:
    held = schedule.house.rooms[room]
    return held.role == "backbone" or held.use in {"hall", "stair"}


def _of_kind(schedule: Schedule, own: Swatch, main: str, lines: Sequence[Line]) -> str:
    rooms = tuple(dict.fromkeys(line.room for line in lines))
    match _kind(lines[0]):
        case "walls" if main == own.id:
            return _of_main(schedule, own, rooms)
        case "walls":
            return _of_walls(schedule, own, schedule.swatch(main), rooms)
        case "accent":
            return _of_accent(schedule, own, lines)
        case "trim" | "doors":
            return _of_woodwork(schedule, own, lines)
    return _places(schedule, lines)


def _names(house: House, rooms: Sequence[str]) -> str:
    return listed([room_name(house, room) for room in rooms], MOST_ROOMS, "rooms")


def _places(schedule: Schedule, lines: Sequence[Line]) -> str:
    """As in "the trim and ceiling of Stairs, the south wall of Study"."""
    found = grouped((line.room, _surface(schedule.house, line)) for line in lines)
    rooms = grouped((listed([*dict.fromkeys(on)]), room) for room, on in found.items())
    return ", ".join(f"the {on} of {_names(schedule.house, where)}" for on, where in rooms.items())


def _surface(house: House, line: Line) -> str:
    """The doors of an outdoor room are the outside of those of the house."""
    if line.surface == "doors" and house.rooms[line.room].use == "outdoor":
        return "outer side of the door"
    return wording.surface(house, line.room, line.surface).removesuffix(" (accent)")


def _of_main(schedule: Schedule, own: Swatch, rooms: Sequence[str]) -> str:
    """Of the colour that most rooms open from, else of that on most wall."""
    joins = any(_links(schedule, room) for room in rooms)
    what = "the colour that joins the rooms" if joins else "the colour of most walls"
    light = ", light enough to carry daylight on" if own.lrv >= LIGHT_LRV else ""
    beyond = len({to for room in rooms for _, to in _ways_out(schedule, room, rooms)})
    opens = f", from which {beyond} other rooms open" if beyond >= LINKS else ""
    return f"{what}{light}. {_names(schedule.house, rooms)}{opens}"


def _of_walls(schedule: Schedule, own: Swatch, main: Swatch, rooms: Sequence[str]) -> str:
    """How it stands to the main colour, and what its rooms are like."""
    house, deeper = schedule.house, main.lrv - own.lrv > STEP_LRV
    accent = all(house.rooms[room].role == "accent" for room in rooms)
    beside = f"{_depth(own, main)}, {relation(own, main)}"
    found = grouped((_parted(schedule, room, rooms, deeper=deeper), room) for room in rooms)
    where = (
        f"{_names(house, of)}: {', '.join(filter(None, (parted, _daylight(house, of))))}"
        for parted, of in found.items()
    )
    said = "; ".join(each.removesuffix(": ") for each in where)
    return f"{'an accent on purpose, ' * accent}{beside}. {said}"


def _depth(own: Swatch, other: Swatch) -> str:
    step = own.lrv - other.lrv
    how = "as light as" if abs(step) <= STEP_LRV else "deeper than" if step < 0 else "lighter than"
    return f"{how} {other.name}"


def _ways_out(
    schedule: Schedule, room: str, alike: Sequence[str]
) -> Sequence[tuple[OpeningKind, str]]:
    """The openings from a room to others indoors that are not painted alike."""
    house, graph = schedule.house, schedule.study.graph
    return [
        (graph.openings[each.opening].kind, each.to)
        for each in graph.exits(room)
        if each.to not in alike and house.rooms[each.to].use != "outdoor"
    ]


def _parted(schedule: Schedule, room: str, alike: Sequence[str], *, deeper: bool) -> str:
    """How a room is parted from the others indoors."""
    ways = _ways_out(schedule, room, alike)
    open_to = tuple(dict.fromkeys(to for kind, to in ways if kind != "doorway"))
    if open_to:
        return f"open to {_names(schedule.house, open_to)} and seen from there"
    if not ways or len(ways) >= LINKS:
        return f"{len(ways)} other rooms open from it" if ways else ""
    return "behind a door, so it may be deeper" if deeper else "behind a door"


def _daylight(house: House, rooms: Sequence[str]) -> str:
    """From where it comes into the rooms, where that is known and the same in all."""
    held = [house.rooms[room] for room in rooms]
    facing = [
        {facing_deg(room, window.wall, house.north_deg) for window in room.windows.values()}
        for room in held
    ]
    sides = {frozenset(cardinal(each) for each in of if each is not None) for of in facing}
    if len(sides) > 1 or any(None in of for of in facing):
        return ""
    [same] = sides
    from_sides = f"daylight from the {listed(sorted(same))}"
    return from_sides if same else "without a window: seen by lamplight"


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


def _of_accent(schedule: Schedule, own: Swatch, lines: Sequence[Line]) -> str:
    """Beside the other walls of its first room."""
    walls = schedule.house.rooms[lines[0].room].paints.walls
    where = _places(schedule, lines)
    if walls is None or walls == own.id:
        return where
    beside = schedule.swatch(walls)
    return f"{where}, {_depth(own, beside)} beside it, {relation(own, beside)}"


def _of_woodwork(schedule: Schedule, own: Swatch, lines: Sequence[Line]) -> str:
    """Whether it is set off from the walls of its rooms goes by the LRV of both."""
    house, where = schedule.house, _places(schedule, lines)
    if own.lrv < PALE_LRV:
        return f"{'dark ' * (own.lrv <= DARK_LRV)}woodwork, {where}"
    walls = {line.room: house.rooms[line.room].paints.walls for line in lines}
    lrvs = {room: schedule.swatch(paint).lrv for room, paint in walls.items() if paint}
    near = [room for room, lrv in lrvs.items() if own.lrv - lrv < CLEAR_LRV]
    but = f", but not in {_names(house, near)}" if near else ""
    return f"woodwork near white, {where}, clearly lighter than the walls{but}"


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
    """The rooms to paint of which something is open, or those where it is about a paint."""
    kept = kept_rooms(schedule.house)
    found = (
        place.room
        for matter in unsettled(schedule)
        for finding in matter.findings
        for place in finding.places
        if place.room not in kept and paint in {None, place.paint}
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
