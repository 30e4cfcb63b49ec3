"""Samples: which paint to try in which room, on which walls and when; and the log of them all."""

import datetime as dt
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from housemap.light.orientation import window_azimuth_deg
from housemap.light.sun import hours_of_sun
from housemap.model.geometry import (
    Wall,
    azimuth_deg,
    cardinal,
    wall_in,
    wall_of,
    walls,
    window_area_m2,
)
from housemap.model.house import House, Opening, Room, Sample, SampleLight, Window
from housemap.model.samples import (
    Tried,
    Trying,
    come_to,
    light_to_see,
    samples_of,
    samples_to_see,
    trying,
    tryings,
)
from housemap.plan.house_graph import HouseGraph

_SEASONS = (("June", dt.date(2026, 6, 21)), ("December", dt.date(2026, 12, 21)))
_FLAT = "it never has sun, so in full daylight at any hour"
_UNKNOWN = "in the morning, at noon and in the afternoon (where the house lies is not given)"
NOON = 12
BOARD_M = 0.6
"""Of plain wall that a painted board needs (common practice, no source)."""


class Trial(NamedTuple):
    """A paint in a room."""

    paint: str
    room: str
    surface: str
    """Its largest of the kind there: walls ceiling trim doors, "accent" or "part" and a key."""
    samples: tuple[Sample, ...]
    """In the order of the file."""
    walls: tuple[tuple[str, str], ...]
    """Where a tester should be, and why; none for a ceiling."""
    hours: tuple[str, ...]
    """When to look, in words."""

    @property
    def key(self) -> Trying:
        return trying(self.paint, self.room, self.surface)

    @property
    def tried(self) -> Tried:
        return come_to(self.samples)

    @property
    def light(self) -> SampleLight | None:
        """By which it is still to be seen, where it was approved by the other."""
        return light_to_see(self.samples)

    @property
    def is_done(self) -> bool:
        return self.light is None and self.tried in {"kept", "rejected"}


def where(
    house: House, graph: HouseGraph, room_id: str, surface: str, seen: str | None
) -> Iterator[tuple[str, str]]:
    """On which walls: the one most seen from other rooms, and one that the window lights.

    Against the light of a window no board can be judged, so its own wall comes last; light from the
    side shows undertone and sheen best (common practice, no source).
    """
    kind, _, accent = surface.partition(" ")
    if kind == "accent":
        yield accent, "the accent wall itself"
    if kind != "walls":
        return
    room = house.rooms[room_id]
    openings = graph.openings_of(room_id).values()
    roomy = [wall for wall in walls(room) if _solid_m(room_id, room, wall, openings) >= BOARD_M]
    glazed = {window.wall for window in room.windows.values()}
    roomy = [wall for wall in roomy if wall.key not in glazed] or roomy
    if roomy and seen not in {wall.key for wall in roomy}:
        seen = None
    lit, how = _best_lit(room, roomy)
    if seen and seen == lit:
        yield seen, f"most seen from other rooms, and {how}"
    elif seen or lit:
        both = (seen, "most seen from other rooms"), (lit, how)
        yield from ((wall, why) for wall, why in both if wall)
    elif longest := max(roomy or walls(room), key=lambda wall: wall.length_m, default=None):
        yield longest.key, "the longest wall"


def _solid_m(room_id: str, room: Room, wall: Wall, openings: Iterable[Opening]) -> float:
    """How much of a wall is neither opening nor window."""
    glass = sum(each.width_m for each in room.windows.values() if each.wall == wall.key)
    cut = (each.width_m or 0.0 for each in openings if wall_in(each, room_id) == wall.key)
    return wall.length_m - glass - sum(cut)


def _best_lit(room: Room, roomy: Sequence[Wall]) -> tuple[str | None, str]:
    """Of the walls with room for a board, the one most nearly at right angles to the window."""
    largest = max(room.windows.values(), key=window_area_m2, default=None)
    window = wall_of(room, largest.wall) if largest else None
    others = [wall for wall in roomy if window and wall.key != window.key]
    if window is None or not others:
        return None, ""
    facing = azimuth_deg(window, 0.0)
    turns = {
        wall.key: abs((azimuth_deg(wall, 0.0) - facing + 180.0) % 360.0 - 180.0) for wall in others
    }
    best = min(others, key=lambda wall: (abs(turns[wall.key] - 90.0), -wall.length_m)).key
    return best, "lit from the side" if turns[best] < 135.0 else "opposite the window"  # noqa: PLR2004 - nearer to one than to the other


def hours(house: House, room_id: str) -> Iterator[str]:
    """When to look at a tester in the room: by its windows' sun, then by lamplight."""
    room = house.rooms[room_id]
    facings: dict[str, list[Window]] = {}
    for window in room.windows.values():
        if wall := wall_of(room, window.wall):
            facings.setdefault(cardinal(azimuth_deg(wall, house.north_deg)), []).append(window)
    for facing, windows in facings.items():
        yield f"{facing} window: {_when(house, room, windows)}"
    if not facings:
        yield "no window: by what daylight comes through the openings, at noon"
    yield "after dark, by the lamps as they will be used"


def _when(house: House, room: Room, windows: Sequence[Window]) -> str:
    if house.latitude_deg is None:
        return _UNKNOWN
    spans = []
    for name, day in _SEASONS:
        quarters = {
            hour
            for window in windows
            for hour in hours_of_sun(
                window_azimuth_deg(room, window, house.north_deg), window.sky_angle_deg,
                house.latitude_deg, day,
            )
        }  # fmt: skip
        for first, last in _longest(quarters):
            spans.append(f"{_clock(round(first))} to {_clock(round(last + 0.25))} in {name}")
    return f"in its sun, {', '.join(spans)} (sun time); then without" if spans else _FLAT


def _longest(quarters: Iterable[float]) -> Iterator[tuple[float, float]]:
    """First and last of the longest run of quarters of an hour; nothing of less than an hour."""
    runs: list[list[float]] = []
    for hour in sorted(quarters):
        if not runs or hour - runs[-1][-1] > 0.5:  # noqa: PLR2004 - a gap
            runs.append([])
        runs[-1].append(hour)
    longest = max(runs, key=len, default=[])
    if len(longest) > 3:  # noqa: PLR2004 - an hour
        yield longest[0], longest[-1]


def _clock(hour: int) -> str:
    """As in "10 am"."""
    return "noon" if hour == NOON else f"{hour % 12 or 12} {'am' if hour < NOON else 'pm'}"


def trials_of_house(
    house: House, graph: HouseGraph, most_seen: Mapping[str, str]
) -> tuple[Trial, ...]:
    """What is to be tried, then all else of the log."""
    to_see = ((each.paint, each.room, each.surface) for each in samples_to_see(house))
    trials = _trials(house, graph, [*to_see, *_logged(house, house.rooms)], most_seen)
    return tuple(sorted(trials, key=lambda trial: trial.is_done))


def trials_of_room(
    house: House, graph: HouseGraph, room: str, most_seen: Mapping[str, str]
) -> tuple[Trial, ...]:
    """Every paint on a surface of the room, then those that were tried and are on none."""
    worn = ((paint, room, surface) for surface, paint in house.rooms[room].painted())
    return tuple(_trials(house, graph, [*worn, *_logged(house, [room])], most_seen))


def _logged(house: House, rooms: Collection[str]) -> Iterator[tuple[str, str, str]]:
    """Paint, room and surface of every sample: a surface that has the paint, where there is one."""
    for sample in house.samples.values():
        if sample.room in rooms:
            judged = [*tryings(sample)]
            worn = house.rooms[sample.room].painted()
            on = (of for of, p in worn if trying(p, sample.room, of) in judged)
            yield sample.paint, sample.room, next(on, judged[0].kind)


def _trials(
    house: House, graph: HouseGraph, places: Iterable[tuple[str, str, str]],
    most_seen: Mapping[str, str],
) -> Iterator[Trial]:  # fmt: skip
    """One for each paint on each kind of surface in a room."""
    found: dict[Trying, tuple[str, str, str]] = {}
    for place in places:
        found.setdefault(trying(*place), place)
    return (trial_at(house, graph, place, most_seen) for place in found.values())


def trial_at(
    house: House, graph: HouseGraph, place: tuple[str, str, str], most_seen: Mapping[str, str]
) -> Trial:
    """Of a paint in a room, on a surface."""
    paint, room, surface = place
    walls = tuple(where(house, graph, room, surface, most_seen.get(room)))
    found = samples_of(house, paint, room, surface)
    return Trial(paint, room, surface, found, walls, tuple(hours(house, room)))
