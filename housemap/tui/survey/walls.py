"""Walls as a survey line names them: which wall is meant, and where along it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NoReturn

from housemap.model.house import Room, Units
from housemap.model.measure import format_length
from housemap.model.shape import Wall, is_measured, walls
from housemap.plan.joints import outward
from housemap.plan.schematic import compass_side
from housemap.plan.vectors import dot
from housemap.tui.survey.clauses import Along, Fault, Span
from housemap.tui.survey.reader import WordError
from housemap.tui.survey.words import OPPOSITE, SIDE_WORDS, SIDES, Side

SLACK_M = 0.001
"""As much as the rules of a house allow."""


def fault(span: Span, text: str, *, unfinished: bool = False) -> NoReturn:
    raise WordError(Fault(*span, text, unfinished))


def wall_meant(room: Room, key: str, span: Span) -> str:
    """The key of a wall named by its side or number; of several on a side the longest."""
    if not is_measured(room) or room.size_m is not None:
        if key not in SIDES:
            fault(span, f"{room.name} has the walls n, e, s and w")
        return key
    found = walls_on(room, key)
    if not found:
        offer = ", ".join(wall.key for wall in walls(room))
        fault(span, f"{room.name} has no wall {key}: it has {offer}")
    return max(found, key=lambda wall: wall.length_m).key


def walls_on(room: Room, key: str) -> Sequence[Wall]:
    """The walls with that number, or on that side."""
    return [w for w in walls(room) if w.key == key or compass_side(room, w.key) == key]


def wall_words(room: Room, key: str) -> str:
    """A wall in words: "north wall", or "wall 3 (north)" of an outline."""
    side = compass_side(room, key)
    if key == side or side is None:
        return f"{SIDE_WORDS.get(key, key)} wall"
    return f"wall {key} ({SIDE_WORDS[side]})"


def facing(room: Room, other: Wall | None, side: str | None) -> str | None:
    """The wall of a room that faces another room's wall, which lies on `side` of that room."""
    opposite = OPPOSITE.get(SIDES[side]) if side is not None and side in SIDES else None
    if not is_measured(room) or room.size_m is not None:
        return opposite
    if other is None:
        found = walls_on(room, opposite or "")
    else:
        found = [wall for wall in walls(room) if dot(outward(wall), outward(other)) < FACES]
    return max(found, key=lambda wall: wall.length_m).key if found else None


FACES = -0.98
"""The cosine of walls that face each other, as in placing rooms."""


@dataclass(frozen=True, slots=True)
class Ends:
    """The two ends of a wall by the sides where they lie: `start` is where along is 0."""

    start: Side
    end: Side


def ends_of(wall: Wall) -> Ends:
    (x0, y0), (x1, y1) = wall.start_m, wall.end_m
    if abs(x1 - x0) >= abs(y1 - y0):
        return Ends("w", "e") if x1 > x0 else Ends("e", "w")
    return Ends("s", "n") if y1 > y0 else Ends("n", "s")


COMPASS_ENDS = {"n": Ends("w", "e"), "s": Ends("w", "e"), "e": Ends("s", "n"), "w": Ends("s", "n")}
"""Of a room without measures."""


def along_m(along: Along, wall: Wall | None, width_m: float, span: Span, units: Units) -> float:
    """From the wall's own start."""
    if along.end is None:
        metres = along.metres
    elif wall is None:
        fault(span, "how long the wall is, is not known: count from its other end")
    else:
        metres = _counted(along, wall, width_m, span)
    if wall is not None and not -SLACK_M <= metres <= wall.length_m - width_m + SLACK_M:
        reach = f"{told(along.metres, units)} and {told(width_m, units)}"
        fault(span, f"{reach} do not fit: the wall is {told(wall.length_m, units)} long")
    return max(round(metres, 7), 0.0)


def _counted(along: Along, wall: Wall, width_m: float, span: Span) -> float:
    ends = ends_of(wall)
    if along.end == ends.start:
        return along.metres
    if along.end == ends.end:
        return wall.length_m - along.metres - width_m
    sides = f"{SIDE_WORDS[ends.start]} or {SIDE_WORDS[ends.end]}"
    fault(span, f"this wall's ends lie {sides}, not {SIDE_WORDS[str(along.end)]}")


def along_words(metres: float, wall: Wall | None, key: str | None, units: Units) -> str:
    """As in "1.20 m from its west end"."""
    ends = ends_of(wall) if wall else COMPASS_ENDS.get(key or "")
    end = f"its {SIDE_WORDS[ends.start]} end" if ends else "its start"
    return f"{told(metres, units)} from {end}"


def told(metres: float, units: Units) -> str:
    return format_length(metres, units)
