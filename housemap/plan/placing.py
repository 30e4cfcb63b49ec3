"""Rooms placed in the plan from their sizes and openings alone; pure Python, for the first frame.

The openings are walked, each one's two sides aligned across the thickness of the wall; what loops
do not close is spread by least squares; `at` pins a room. Every level is placed by its own, and
laid over the others by the stairs. What no measure places gets a schematic place.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from housemap.model.house import House, Point
from housemap.model.polygon import Box, Polygon, moved, overlap_area_m2
from housemap.model.shape import is_measured
from housemap.plan.doors import placed_openings
from housemap.plan.joints import tie
from housemap.plan.placed import Closing, PlacedOpening, PlacedRoom, Plan
from housemap.plan.schematic import Block, Links, Settler, floors, links_of
from housemap.plan.spots import cells, meet
from housemap.plan.survey import ORIGIN, Group, groups, unaligned
from housemap.plan.vectors import minus, plus, scaled

__all__ = ["Closing", "PlacedOpening", "PlacedRoom", "Plan", "place"]

OVERLAP_M2 = 0.05
"""Measured rooms that share less floor than this do not count as lying in each other: a loop
spread by a centimetre along a wall of four metres shares as much."""


def place(house: House) -> Plan:
    """The plan of a house: every room has a place in it, whatever is known of it."""
    found = groups(house)
    links = links_of(house)
    outlines = floors(house, links)
    surveyed = _surveyed(house, found, links)
    settler = Settler(house, links, outlines, dict(surveyed))
    settler.settle(_blocks(house, found, surveyed))
    rooms: dict[str, PlacedRoom] = {}
    for key, room in house.rooms.items():
        at = _without_noise(settler.placed[key])
        rooms[key] = PlacedRoom(
            level=room.level,
            at_m=at,
            outline_m=moved(outlines[key], at),
            measured=key in surveyed and is_measured(room),
            sized=is_measured(room),
        )
    closings = [closing for group in found for closing in group.closings]
    return Plan(
        rooms=rooms,
        openings=placed_openings(house, rooms, _frames(found)),
        closing_error_m=max((group.closing_error_m for group in found), default=0.0),
        closings=tuple(sorted(closings, key=lambda each: (-each.error_m, each.opening))),
        unplaced=tuple(key for key, room in rooms.items() if not room.measured),
        overlaps=tuple(_overlaps(rooms)),
        unaligned=unaligned(house),
    )


def _without_noise(at: Point) -> Point:
    """Rounded to a nanometre: what sums of decimal measures leave behind is dropped."""
    return round(at[0], 9) + 0.0, round(at[1], 9) + 0.0


def _frames(found: Sequence[Group]) -> dict[str, object]:
    """What tells whether two rooms lie rigidly to each other: equal for those that do."""
    return {
        room: ("pinned", group.level) if group.pinned else index
        for index, group in enumerate(found)
        for room in group.origins
    }


def _surveyed(house: House, found: Sequence[Group], links: Links) -> dict[str, Point]:
    """The rooms with a true place: pinned groups, and the main group of each other level."""
    placed: dict[str, Point] = {}
    for group in found:
        if group.pinned:
            placed.update(group.origins)
    waiting = sorted(_main_groups(found, links), key=lambda group: abs(group.level))
    stairs = _stairs(house)
    while waiting:
        group, shift = _next_over(waiting, stairs, placed)
        waiting.remove(group)
        placed.update({room: plus(origin, shift) for room, origin in group.origins.items()})
    return placed


def _main_groups(found: Sequence[Group], links: Links) -> Iterator[Group]:
    """Of each level without a pin, the group with the most rooms, then the most neighbours."""
    by_level: dict[int, list[Group]] = defaultdict(list)
    for group in found:
        by_level[group.level].append(group)
    for same in by_level.values():
        if not any(group.pinned for group in same):
            yield max(same, key=lambda group: _weight(group, links))


def _weight(group: Group, links: Links) -> tuple[int, int]:
    return len(group.origins), sum(len(links[room]) for room in group.origins)


def _stairs(house: House) -> dict[tuple[str, str], Point]:
    """Where rooms of two levels that open into each other lie, the second from the first.

    As measured, else corner over corner.
    """
    found: dict[tuple[str, str], Point] = {}
    for key, opening in house.openings.items():
        a, b = opening.between
        if house.rooms[a].level != house.rooms[b].level:
            measured = tie(house, key)
            offset = measured.offset_m if measured else ORIGIN
            found[a, b] = offset
            found[b, a] = scaled(offset, -1)
    return found


def _next_over(
    waiting: Sequence[Group],
    stairs: Mapping[tuple[str, str], Point],
    placed: Mapping[str, Point],
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
    by_cell: dict[tuple[int, int, int], list[tuple[str, Box, Polygon]]] = defaultdict(list)
    for key, room in rooms.items():
        if room.measured:
            for cell in cells(room.box_m):
                by_cell[room.level, *cell].append((key, room.box_m, room.outline_m))
    found: set[tuple[str, str]] = set()
    for near in by_cell.values():
        for (a, a_box, a_outline), (b, b_box, b_outline) in combinations(near, 2):
            apart = (a, b) in found or not meet(a_box, b_box)
            if not apart and overlap_area_m2(a_outline, b_outline) > OVERLAP_M2:
                found.add((a, b))
    yield from sorted(found)
