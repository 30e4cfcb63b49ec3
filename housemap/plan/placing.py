"""Rooms placed in the plan from their sizes and openings alone; pure Python, for the first frame.

The openings are walked, each one's two sides aligned across the thickness of the wall; what loops
do not close is spread by least squares; `at` pins a room. Every level is placed by its own, and
laid over the others by the stairs. What no measure places gets a schematic place.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from math import dist, hypot

from housemap.model.geometry import (
    Box,
    Wall,
    box_pairs,
    dot,
    is_measured,
    middle,
    minus,
    moved,
    moved_segment,
    outward,
    overlap_area_m2,
    plus,
    scaled,
    unit,
    walls,
)
from housemap.model.grouping import grouped
from housemap.model.house import House, Opening, Point
from housemap.plan.floor_plan import (
    FACING,
    Closing,
    Contact,
    PlacedOpening,
    PlacedRoom,
    Plan,
    UnmetOpening,
    aligned,
    carried_across,
    measured_tie,
    sides,
)
from housemap.plan.house_graph import HouseGraph, Pair, graph_of, sorted_pair
from housemap.plan.schematic import GAP_M, Block, Settler, floors
from housemap.plan.traverse import ORIGIN, Group, groups

REACH_M = 1.0
"""So far a side that was not measured is looked for across the wall."""
DRAWN_M = 0.8
"""The width drawn where none is known."""
_TOUCH_M = 1e-6


def placed_openings(
    house: House, rooms: Mapping[str, PlacedRoom], frames: Mapping[str, object]
) -> dict[str, PlacedOpening]:
    """The openings within a level; `frames` is equal for rooms that lie rigidly to each other."""
    found: dict[str, PlacedOpening] = {}
    for key, opening in house.openings.items():
        a, b = opening.between
        if rooms[a].level == rooms[b].level:
            rigid = a in frames and frames[a] == frames.get(b)
            placed = _true(house, opening, rooms) if rigid else None
            placed = placed or _drawn(house, opening, rooms)
            if placed:
                found[key] = placed
    return found


def _true(house: House, opening: Opening, rooms: Mapping[str, PlacedRoom]) -> PlacedOpening | None:
    """From the measures of both sides, or of one side carried across."""
    a, b = opening.between
    first, second = sides(house, opening)
    if not opening.width_m or not (rooms[a].sized and rooms[b].sized):
        return None
    near, far = (
        moved_segment(side.segment_m, rooms[room].at_m) if side else None
        for room, side in ((a, first), (b, second))
    )
    if first and second:
        pair = aligned(first, second)
        far = moved_segment(pair[1], rooms[b].at_m) if pair else None
    elif first and near:
        far = carried_across(near, first.outward, house.rooms[b], rooms[b].at_m, REACH_M)
    elif second and far:
        near = carried_across(far, second.outward, house.rooms[a], rooms[a].at_m, REACH_M)
    return PlacedOpening(near, far, measured=True) if near and far else None


def unmet_openings(
    house: House, rooms: Mapping[str, PlacedRoom], openings: Mapping[str, PlacedOpening],
    off: Collection[str],
) -> Iterator[UnmetOpening]:  # fmt: skip
    """The openings of a level whose two walls do not meet, without those `off` in a loop.

    Where no measure says how two rooms lie to each other, only walls that do not face each other
    are known not to meet.
    """
    for key, opening in house.openings.items():
        a, b = opening.between
        first, second = sides(house, opening)
        faces = not (first and second) or aligned(first, second) is not None
        rigid = rooms[a].measured and rooms[b].measured and rooms[a].level == rooms[b].level
        if not rigid or opening.kind == "stairs":
            if not faces:
                yield UnmetOpening(key, (), 0.0)
            continue
        if not faces or (key not in off and not _meets(house, opening, rooms, openings.get(key))):
            contacts = tuple(_contacts(house, opening.between, rooms))
            one, other = rooms[a].box_m, rooms[b].box_m
            gaps = (max(one[i] - other[i + 2], other[i] - one[i + 2], 0.0) for i in (0, 1))
            yield UnmetOpening(key, contacts, 0.0 if contacts else hypot(*gaps))


def _meets(
    house: House, opening: Opening, rooms: Mapping[str, PlacedRoom], placed: PlacedOpening | None
) -> bool:
    """Whether an opening leads from wall to wall; without measures, whether it could."""
    if placed and placed.measured:
        return dist(middle(*placed.near_m), middle(*placed.far_m)) <= REACH_M
    first, second = sides(house, opening)
    if opening.width_m and (first or second):
        return False  # measured in a wall that has none of the other room behind that place
    return any(
        opening.wall in {None, each.wall} and opening.to_wall in {None, each.to_wall}
        for each in _contacts(house, opening.between, rooms)
    )


def _contacts(
    house: House, between: tuple[str, str], rooms: Mapping[str, PlacedRoom]
) -> list[Contact]:
    """Where walls of the two rooms face each other within REACH_M, the longest stretch first."""
    a, b = between
    shift = minus(rooms[b].at_m, rooms[a].at_m)
    found = [
        contact
        for wall in walls(house.rooms[a])
        for other in walls(house.rooms[b])
        if (contact := _contact(wall, other, shift))
    ]
    return sorted(found, key=lambda each: each.start_m - each.end_m)


def _contact(wall: Wall, other: Wall, shift: Point) -> Contact | None:
    """`shift` is the place of the other wall's room from this wall's."""
    out = outward(wall)
    start = minus(plus(other.start_m, shift), wall.start_m)
    end = minus(plus(other.end_m, shift), wall.start_m)
    if dot(outward(other), out) > FACING or abs(dot(start, out)) > REACH_M:
        return None
    along = unit(minus(wall.end_m, wall.start_m))
    low, high = sorted((dot(start, along), dot(end, along)))
    low, high = max(low, 0.0), min(high, wall.length_m)
    return Contact(wall.key, other.key, low, high) if high - low > _TOUCH_M else None


def _drawn(house: House, opening: Opening, rooms: Mapping[str, PlacedRoom]) -> PlacedOpening | None:
    """Where the measures put it in the one room that has them, else amid what the boxes share."""
    for room, each in zip(opening.between, sides(house, opening), strict=True):
        if each:
            near, far = each.segment_m
            far = far if each.has_width else plus(near, scaled(each.along, DRAWN_M))
            segment = moved_segment((near, far), rooms[room].at_m)
            return PlacedOpening(segment, segment, measured=False)
    a, b = (rooms[room].box_m for room in opening.between)
    return _amid(a, b, opening.width_m or DRAWN_M)


def _amid(a: Box, b: Box, width_m: float) -> PlacedOpening | None:
    """Amid the walls that two touching boxes turn to each other."""
    for axis in (0, 1):
        other = 1 - axis
        low, high = max(a[other], b[other]), min(a[other + 2], b[other + 2])
        if high - low <= _TOUCH_M:
            continue
        for near, far in ((a[axis + 2], b[axis]), (a[axis], b[axis + 2])):
            if abs(near - far) <= GAP_M + _TOUCH_M:
                half, centre = min(width_m, high - low) / 2, (low + high) / 2
                ends = centre - half, centre + half
                one, across = (
                    ((at, ends[0]), (at, ends[1])) if axis == 0 else ((ends[0], at), (ends[1], at))
                    for at in (near, far)
                )
                return PlacedOpening(one, across, measured=False)
    return None


__all__ = ["Closing", "PlacedOpening", "PlacedRoom", "Plan", "place"]

OVERLAP_M2 = 0.05
"""Measured rooms that share less floor than this do not count as lying in each other: a loop
spread by a centimetre along a wall of four metres shares as much."""


def place(house: House, graph: HouseGraph | None = None) -> Plan:
    """The plan of a house: every room has a place in it, whatever is known of it."""
    graph = graph or graph_of(house)
    found = groups(house, graph)
    outlines = floors(house, graph)
    surveyed = _surveyed(house, found, graph)
    settler = Settler(house, graph, outlines, dict(surveyed))
    settler.settle(_blocks(house, found, surveyed))
    rooms: dict[str, PlacedRoom] = {}
    for key, room in house.rooms.items():
        x, y = settler.placed[key]
        at = round(x, 9) + 0.0, round(y, 9) + 0.0  # without what sums of decimals leave behind
        sized = is_measured(room)
        measured = sized and key in surveyed
        rooms[key] = PlacedRoom(room.level, at, moved(outlines[key], at), measured, sized)
    closings = [closing for group in found for closing in group.closings]
    frames = {
        room: ("pinned", group.level) if group.pinned else index
        for index, group in enumerate(found)
        for room in group.origins
    }
    openings = placed_openings(house, rooms, frames)
    off = {closing.opening for closing in closings}
    return Plan(
        rooms=rooms,
        openings=openings,
        closing_error_m=max((group.closing_error_m for group in found), default=0.0),
        closings=tuple(sorted(closings, key=lambda each: (-each.error_m, each.opening))),
        unplaced=tuple(key for key, room in rooms.items() if not room.measured),
        overlaps=tuple(_overlaps(rooms)),
        unmet=tuple(unmet_openings(house, rooms, openings, off)),
    )


def _surveyed(house: House, found: Sequence[Group], graph: HouseGraph) -> dict[str, Point]:
    """The rooms with a true place: pinned groups, and the main group of each other level."""
    placed: dict[str, Point] = {}
    for group in found:
        if group.pinned:
            placed.update(group.origins)
    waiting = sorted(_main_groups(found, graph), key=lambda group: abs(group.level))
    stairs = _stairs(house)
    while waiting:
        group, shift = _next_over(waiting, stairs, placed)
        waiting.remove(group)
        placed.update({room: plus(origin, shift) for room, origin in group.origins.items()})
    return placed


def _main_groups(found: Sequence[Group], graph: HouseGraph) -> Iterator[Group]:
    """Of each level without a pin, the group with the most rooms, then the most neighbours."""

    def weight(group: Group) -> tuple[int, int]:
        return len(group.origins), sum(len(graph.linked(room)) for room in group.origins)

    for same in grouped((group.level, group) for group in found).values():
        if not any(group.pinned for group in same):
            yield max(same, key=weight)


def _stairs(house: House) -> dict[tuple[str, str], Point]:
    """Of rooms of two levels, the second from the first: as measured, else corner over corner."""
    found: dict[tuple[str, str], Point] = {}
    for key, opening in house.openings.items():
        a, b = opening.between
        if house.rooms[a].level != house.rooms[b].level:
            measured = measured_tie(house, key)
            offset = measured.offset_m if measured else ORIGIN
            found[a, b] = offset
            found[b, a] = scaled(offset, -1)
    return found


def _next_over(
    waiting: Sequence[Group], stairs: Mapping[Pair, Point], placed: Mapping[str, Point]
) -> tuple[Group, Point]:
    """A group that stairs join to placed rooms, and its shift; else the first one where it is."""
    group_of = {room: group for group in waiting for room in group.origins}
    for (below, above), offset in stairs.items():
        if below in placed and above in group_of:
            group = group_of[above]
            return group, minus(plus(placed[below], offset), group.origins[above])
    return waiting[0], ORIGIN


def _blocks(house: House, found: Sequence[Group], surveyed: Mapping[str, Point]) -> list[Block]:
    """What is left to settle, in file order: groups beside the main one, rooms without measures."""
    group_of = {room: group for group in found for room in group.origins}
    blocks: list[Block] = []
    taken = set(surveyed)
    for key, room in house.rooms.items():
        if key not in taken:
            origins = group_of[key].origins if key in group_of else {key: ORIGIN}
            blocks.append(Block(room.level, origins))
            taken.update(origins)
    return blocks


def _overlaps(rooms: Mapping[str, PlacedRoom]) -> Iterator[tuple[str, str]]:
    sized = ((room.level, key, room.outline_m) for key, room in rooms.items() if room.sized)
    yield from sorted(
        sorted_pair(a, b)
        for (_, a, one), (_, b, other) in box_pairs(sized)
        if overlap_area_m2(one, other) > OVERLAP_M2
    )
