"""The plan: where every room and opening lies, how sure that is, and an opening's two sides."""

from collections.abc import Mapping
from typing import NamedTuple

from housemap.model.geometry import (
    Box,
    Segment,
    azimuth_deg,
    box_of,
    cardinal,
    dot,
    facing_deg,
    minus,
    moved_segment,
    outward,
    plus,
    scaled,
    unit,
    wall_in,
    wall_of,
    walls,
)
from housemap.model.house import House, Opening, OpeningKind, Point, Room
from housemap.model.lengths import FOOT_M, format_length
from housemap.plan.house_graph import HouseGraph, graph_of


class PlacedRoom(NamedTuple):
    """A room in the plan of its level."""

    level: int
    at_m: Point
    """Where the room's own origin lies."""
    outline_m: tuple[Point, ...]
    """Counter-clockwise, in plan coordinates; a block of our own where the room has no measures."""
    measured: bool
    """False where the place is schematic: no measure says where the room lies, or how big it is."""
    sized: bool
    """Whether the outline is the room's own."""

    @property
    def box_m(self) -> Box:
        return box_of(self.outline_m)


class PlacedOpening(NamedTuple):
    """An opening in the plan. Both segments run the same way, so that end joins end."""

    near_m: Segment
    """In the wall of its first room."""
    far_m: Segment
    """In the wall of its second room."""
    measured: bool
    """False where only drawn between two blocks that touch."""


class Closing(NamedTuple):
    """A loop of openings that does not close."""

    error_m: float
    """How far off `opening` is, if it alone is wrong."""
    opening: str
    """The one most likely mis-measured."""


class Contact(NamedTuple):
    """Where a wall of one room meets a wall of another: they face each other, close by."""

    wall: str
    """Of the first room."""
    to_wall: str
    """Of the second room."""
    start_m: float
    """Along the first room's wall, as `along` is counted in the house file."""
    end_m: float


class UnmetOpening(NamedTuple):
    """An opening between two placed rooms that cannot lead from one to the other."""

    opening: str
    contacts: tuple[Contact, ...]
    """Where the two rooms do meet, the longest stretch first; none where they lie apart."""
    apart_m: float


class Plan(NamedTuple):
    """Every room of the house, in file order, and every opening that can be drawn."""

    rooms: Mapping[str, PlacedRoom]
    openings: Mapping[str, PlacedOpening]
    """Without those between levels, and those whose two rooms do not touch in a schematic place."""
    closing_error_m: float
    """The worst disagreement of any loop; 0 where there is none."""
    closings: tuple[Closing, ...]
    """Worst first; what is left out closes within a centimetre."""
    unplaced: tuple[str, ...]
    """The rooms whose place is schematic."""
    overlaps: tuple[tuple[str, str], ...]
    """Measured rooms of one level that lie in each other."""
    unmet: tuple["UnmetOpening", ...]

    def levels(self) -> tuple[int, ...]:
        """From the lowest up."""
        return tuple(sorted({room.level for room in self.rooms.values()}))


def same_places(one: House, other: House) -> bool:
    """Whether both have the same plan, and nothing differs by which it contradicts itself."""
    return (
        one.openings == other.openings
        and one.wall_thickness_m == other.wall_thickness_m
        and list(one.rooms) == list(other.rooms)
        and all(
            a is b
            or (a.level, a.size_m, a.outline_m, a.at_m, a.use, a.height_m, a.windows)
            == (b.level, b.size_m, b.outline_m, b.at_m, b.use, b.height_m, b.windows)
            for a, b in zip(one.rooms.values(), other.rooms.values(), strict=True)
        )
    )


FACING = -0.98
"""Walls face each other when the cosine between their outward normals is below this: a slanted
edge typed in centimetres is a few degrees off (our assumption)."""
OVER_M = 0.01
"""An opening may reach so far over the end of a wall that it was not measured in."""


class Side(NamedTuple):
    """An opening as it lies in one room's wall, in metres from that room's own origin."""

    segment_m: Segment
    """From its near to its far end along the wall; of no length where the width is not known."""
    along: Point
    outward: Point
    along_m: float

    @property
    def has_width(self) -> bool:
        return self.segment_m[0] != self.segment_m[1]


class Tie(NamedTuple):
    """An opening that says where `b` lies from `a`."""

    opening: str
    a: str
    b: str
    offset_m: Point
    """Origin of `b` less origin of `a`."""
    along: Point
    """Unit vector along the wall."""
    taped_m: float
    """The length read off the tape along both walls; breaks ties between suspects."""


def side(room: Room, wall_key: str | None, along_m: float | None, opening: Opening) -> Side | None:
    """None where the room, the wall or the distance along it is not measured."""
    wall = None if wall_key is None else wall_of(room, wall_key)
    if wall is None or along_m is None:
        return None
    along = unit(minus(wall.end_m, wall.start_m))
    near = plus(wall.start_m, scaled(along, along_m))
    far = plus(near, scaled(along, opening.width_m or 0.0))
    return Side((near, far), along, outward(wall), along_m)


def sides(house: House, opening: Opening) -> tuple[Side | None, Side | None]:
    first, second = (house.rooms[room] for room in opening.between)
    near = side(first, opening.wall, opening.along_m, opening)
    return near, side(second, opening.to_wall, opening.to_along_m, opening)


def aligned(first: Side, second: Side) -> tuple[Segment, Segment] | None:
    """Both segments, the second turned to run as the first does; None where they don't face."""
    if dot(first.outward, second.outward) > FACING:
        return None
    if dot(first.along, second.along) > 0:
        return first.segment_m, second.segment_m
    near, far = second.segment_m
    return (first.segment_m, (far, near)) if second.has_width else None


def measured_tie(house: House, opening_id: str) -> Tie | None:
    """Where the second room lies from the first, by this opening; None where that is not known."""
    opening = house.openings[opening_id]
    first, second = sides(house, opening)
    pair = aligned(first, second) if first and second else None
    if not (first and second and pair):
        return None
    through = plus(pair[0][0], scaled(first.outward, house.wall_thickness_m))
    offset, taped_m = minus(through, pair[1][0]), first.along_m + second.along_m
    return Tie(opening_id, *opening.between, offset, first.along, taped_m)


def carried_across(
    segment: Segment, direction: Point, room: Room, at_m: Point, reach_m: float
) -> Segment | None:
    """A segment moved along `direction` onto the nearest wall of `room` that faces it.

    `segment` and `at_m`, the room's own origin, are in plan coordinates; None where no facing wall
    behind the whole segment lies within `reach_m`.
    """
    found: list[tuple[float, Segment]] = []
    for wall in walls(room):
        if dot(outward(wall), direction) > FACING:
            continue
        start, along = plus(wall.start_m, at_m), unit(minus(wall.end_m, wall.start_m))
        gap = dot(minus(start, segment[0]), direction)
        carried = moved_segment(segment, scaled(direction, gap))
        first, last = sorted(dot(minus(end, start), along) for end in carried)
        if abs(gap) <= reach_m and first >= -OVER_M and last <= wall.length_m + OVER_M:
            found.append((abs(gap), carried))
    return min(found)[1] if found else None


OPPOSITE: Mapping[str, str] = {"n": "s", "s": "n", "e": "w", "w": "e"}


def compass_side(room: Room, wall_key: str | None) -> str | None:
    """The letter of the compass that a wall faces most; None where it is not known."""
    if wall_key is None or wall_key in OPPOSITE:
        return wall_key
    wall = wall_of(room, wall_key)
    if wall is None:
        return None
    x, y = outward(wall)
    if abs(x) > abs(y):
        return "e" if x > 0 else "w"
    return "n" if y > 0 else "s"


# What a wall is called: by the way it truly faces, its length and what is in it.

SIDE_WORDS: Mapping[str, str] = {"n": "north", "e": "east", "s": "south", "w": "west"}
WAYS_ON_MAP: Mapping[str, str] = {"n": "up", "e": "right", "s": "down", "w": "left"}
WAYS: Mapping[OpeningKind, str] = {
    "doorway": "door", "cased": "opening", "open": "opening", "glazed": "glass door",
    "stairs": "stairs",
}  # fmt: skip
MOST_NAMED = 2
"""Openings and windows that are named; more would be no name."""


def plan_side(room: Room, key: str, north_deg: float) -> str:
    """By the compass, "west wall"; where the map is turned "east wall (down on the map)"."""
    side, named = compass_side(room, key), wall_side(room, key, north_deg)
    if side is None or side not in SIDE_WORDS:
        return f"wall {key}"
    as_typed = named == f"{SIDE_WORDS[side]} wall"
    return named if as_typed else f"{named} ({WAYS_ON_MAP[side]} on the map)"


def wall_side(room: Room, key: str, north_deg: float) -> str:
    """By the compass: "north-west wall"."""
    facing = facing_deg(room, key, north_deg)
    return f"wall {key}" if facing is None else f"{cardinal(facing)} wall"


def wall_letters(house: House, room: str) -> Mapping[str, str]:
    """What marks each wall on a drawn plan: "NW", or of several that face one way "N1", "N2"."""
    held = house.rooms[room]
    sides: dict[str, list[str]] = {}
    for wall in walls(held):
        names = cardinal(azimuth_deg(wall, house.north_deg)).split("-")
        sides.setdefault("".join(name[0] for name in names).upper(), []).append(wall.key)
    return {
        key: f"{letters}{number}" if len(keys) > 1 else letters
        for letters, keys in sides.items()
        for number, key in enumerate(keys, 1)
    }


def wall_name(house: House, room: str, key: str, graph: HouseGraph | None = None) -> str:
    """As in "west wall, 5.3 m, door to Living room"; what is not known is left out."""
    exits = (graph or graph_of(house)).exits(room)
    parts = [
        f"{WAYS[house.openings[opening].kind]} to {house.rooms[other].name}"
        for opening, other in exits
        if key == wall_in(house.openings[opening], room)
    ]
    count = sum(window.wall == key for window in house.rooms[room].windows.values())
    parts += [f"{count} windows" if count > 1 else "window"] if count else []
    return ", ".join((short_wall_name(house, room, key, always=True), *parts[:MOST_NAMED]))


def short_wall_name(house: House, room: str, key: str, *, always: bool = False) -> str:
    """Its side, and its length where the room has another wall on that side, or `always`."""
    held = house.rooms[room]
    name, wall = wall_side(held, key, house.north_deg), wall_of(held, key)
    same = sum(wall_side(held, each.key, house.north_deg) == name for each in walls(held))
    if wall is None or not (always or same > 1):
        return name
    if house.units == "m":
        return f"{name}, {wall.length_m:.1f} m"
    whole_inches_m = round(wall.length_m / FOOT_M * 12) * FOOT_M / 12
    return f"{name}, {format_length(whole_inches_m, house.units)}"
