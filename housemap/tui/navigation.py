"""Which room an arrow key goes to, and the walk through all rooms."""

from collections.abc import Mapping, Sequence
from typing import Literal

from housemap.model.house import Point
from housemap.workbench.session import Session

Way = Literal["left", "right", "up", "down"]

_TURNS: Mapping[str, tuple[Point, Point]] = {
    "right": ((1, 0), (0, 1)), "left": ((-1, 0), (0, -1)), "up": ((0, 1), (-1, 0)),
    "down": ((0, -1), (1, 0)),
}  # fmt: skip
"""For each way, the axes along and across it."""

_NUDGE_M = 1e-10
_ALONG_M = 0.2
"""A room less far along the way than this lies beside, not that way."""


def room_that_way(middles: Mapping[str, Point], room: str, way: str) -> str | None:
    """The nearest room that way; None where nothing lies there at all.

    A room counts that lies more along the way than across it (a quarter of the plane), nearest by
    the sum of both. Going so towards any room, every step comes nearer to it by the larger of
    along + across and along - across, both of which lie between 0 and the target's: so every room
    of a level can be reached from every other. Where the quarter is empty, the half plane counts.
    """
    # Made different by far less than anybody measures, so that no two ways tie.
    spots = {
        name: _turned((x + place * _NUDGE_M, y + place * place * _NUDGE_M), way)
        for place, (name, (x, y)) in enumerate(middles.items(), 1)
    }
    here = spots[room]
    away = {n: (a - here[0], b - here[1]) for n, (a, b) in spots.items() if n != room}
    quarter = {n: (a, b) for n, (a, b) in away.items() if a > 0 and abs(b) <= a}
    if quarter:
        return min(quarter, key=lambda n: quarter[n][0] + abs(quarter[n][1]))
    half = {n: (a, b) for n, (a, b) in away.items() if a > _ALONG_M}
    return min(half, key=lambda n: half[n][0] + 2 * abs(half[n][1]), default=None)


def _turned(point: Point, way: str) -> Point:
    (ax, ay), (bx, by) = _TURNS[way]
    return point[0] * ax + point[1] * ay, point[0] * bx + point[1] * by


def next_room(rooms: Sequence[str], room: str | None, step: int) -> str | None:
    """The room `step` places on in a walk that begins again at its end."""
    if not rooms:
        return None
    if room not in rooms:
        return rooms[0]
    return rooms[(rooms.index(room) + step) % len(rooms)]


def rooms_in_order(session: Session) -> Sequence[str]:
    """Every room: level by level from the lowest, in the order of the file."""
    rooms = session.shown.rooms
    return sorted(rooms, key=lambda room: rooms[room].level)


def middles(session: Session) -> Mapping[str, Point]:
    """Of the rooms of the level that is shown."""
    found = {}
    for room, placed in session.plan.rooms.items():
        if placed.level == session.selection.level:
            west, south, east, north = placed.box_m
            found[room] = (west + east) / 2, (south + north) / 2
    return found
