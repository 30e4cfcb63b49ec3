"""Openings in the plan: where they are in both walls once the rooms have their places."""

from collections.abc import Mapping

from housemap.model.house import House, Opening
from housemap.model.polygon import Box
from housemap.plan.joints import Side, aligned, carried_across, sides
from housemap.plan.placed import PlacedOpening, PlacedRoom
from housemap.plan.schematic import GAP_M
from housemap.plan.vectors import Segment, moved_segment, plus, scaled

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
    if first and second:
        pair = aligned(first, second)
        if pair is None:
            return None
        near, far = moved_segment(pair[0], rooms[a].at_m), moved_segment(pair[1], rooms[b].at_m)
        return PlacedOpening(near, far, measured=True)
    if first:
        near = moved_segment(first.segment_m, rooms[a].at_m)
        across = carried_across(near, first.outward, house.rooms[b], rooms[b].at_m, REACH_M)
        return PlacedOpening(near, across, measured=True) if across else None
    if second:
        far = moved_segment(second.segment_m, rooms[b].at_m)
        across = carried_across(far, second.outward, house.rooms[a], rooms[a].at_m, REACH_M)
        return PlacedOpening(across, far, measured=True) if across else None
    return None


def _drawn(house: House, opening: Opening, rooms: Mapping[str, PlacedRoom]) -> PlacedOpening | None:
    """Where the measures put it in the one room that has them, else amid what the boxes share."""
    for room, each in zip(opening.between, sides(house, opening), strict=True):
        if each:
            segment = moved_segment(_with_width(each), rooms[room].at_m)
            return PlacedOpening(segment, segment, measured=False)
    a, b = (rooms[room].box_m for room in opening.between)
    return _amid(a, b, opening.width_m or DRAWN_M)


def _with_width(each: Side) -> Segment:
    near, far = each.segment_m
    return (near, far) if each.has_width else (near, plus(near, scaled(each.along, DRAWN_M)))


def _amid(a: Box, b: Box, width_m: float) -> PlacedOpening | None:
    """Amid the walls that two touching boxes turn to each other."""
    for axis in (0, 1):
        other = 1 - axis
        low, high = max(a[other], b[other]), min(a[other + 2], b[other + 2])
        if high - low <= _TOUCH_M:
            continue
        for near, far in ((a[axis + 2], b[axis]), (a[axis], b[axis + 2])):
            if abs(near - far) <= GAP_M + _TOUCH_M:
                half = min(width_m, high - low) / 2
                centre = (low + high) / 2
                return PlacedOpening(
                    _segment(axis, near, centre - half, centre + half),
                    _segment(axis, far, centre - half, centre + half),
                    measured=False,
                )
    return None


def _segment(axis: int, at: float, start: float, end: float) -> Segment:
    if axis == 0:
        return (at, start), (at, end)
    return (start, at), (end, at)
