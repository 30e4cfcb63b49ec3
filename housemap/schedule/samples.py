"""The plan of testers: which paint, in which room, on which walls, to be looked at when."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from housemap.checks import Report
from housemap.light.facing import azimuth_deg
from housemap.model.house import House, Room, Window
from housemap.model.shape import Wall, wall_of, walls
from housemap.plan.elevations import Elevations
from housemap.plan.view import Camera, look
from housemap.study import Study

_PICTURE = 48, 24
"""Wide enough to count which wall is most seen."""
_QUARTERS = ("north", "east", "south", "west")
_SUN_HOURS = {"east": "8 to 10 h", "west": "16 to 18 h"}
_NOON, _FLAT = "11 to 14 h", "any hour of full daylight: the light is even there"


@dataclass(frozen=True, slots=True)
class Tester:
    """One paint to try in one room."""

    paint: str
    room: str
    walls: tuple[tuple[str, str], ...]
    """Wall key and why there."""
    hours: tuple[str, ...]
    """When to look, in words."""


def testers(report: Report) -> tuple[Tester, ...]:
    """A tester for every paint that check `untried` names, where that check names it."""
    found = (finding for finding in report.findings if finding.check == "untried")
    places = dict.fromkeys((f.places[0].paint, f.places[0].room) for f in found)
    elevations = Elevations(report.house, report.study.plan, report.study.sight.space)
    return tuple(
        Tester(
            paint,
            room,
            tuple(_walls(report.study, elevations, room)),
            tuple(hours(report.house, room)),
        )
        for paint, room in places
    )


def _walls(study: Study, elevations: Elevations, room: str) -> Iterator[tuple[str, str]]:
    """The wall most seen from other rooms, and the one opposite the largest window."""
    seen = _most_seen(study, elevations, room)
    opposite = _opposite_window(study.house.rooms[room])
    if seen and seen == opposite:
        yield seen, "most seen from other rooms, and opposite the window"
        return
    if seen:
        yield seen, "most seen from other rooms"
    if opposite:
        yield opposite, "opposite the window"
    if not seen and not opposite:
        for wall in sorted(walls(study.house.rooms[room]), key=lambda w: -w.length_m)[:1]:
            yield wall.key, "the longest wall"


def _most_seen(study: Study, elevations: Elevations, room: str) -> str | None:
    counts: Counter[str] = Counter()
    for other, sight in study.sight.rooms.items():
        stand = sight.views.best.get(room)
        if stand is None:
            continue
        view = look(elevations, Camera(other, stand.at_m, stand.toward_deg), *_PICTURE)
        if view is not None:
            pixels = np.bincount(view.face.ravel(), minlength=len(view.faces))
            for face, count in zip(view.faces, pixels.tolist(), strict=True):
                if face.room == room and face.wall and face.surface.startswith(("walls", "accent")):
                    counts[face.wall] += count
    return max(counts, key=lambda wall: counts[wall]) if counts.total() else None


def _opposite_window(room: Room) -> str | None:
    """The wall that faces the one with the largest window most squarely."""
    lit = _lit_wall(room)
    if lit is None:
        return None
    facing = azimuth_deg(lit, 0.0)
    others = [wall for wall in walls(room) if wall.key != lit.key]
    return min(others, key=lambda w: abs(_turn(azimuth_deg(w, 0.0) - facing - 180.0))).key


def _lit_wall(room: Room) -> Wall | None:
    windows = sorted(room.windows.values(), key=_area_m2, reverse=True)
    return wall_of(room, windows[0].wall) if windows else None


def _area_m2(window: Window) -> float:
    return window.width_m * window.height_m


def _turn(angle_deg: float) -> float:
    return (angle_deg + 180.0) % 360.0 - 180.0


def hours(house: House, room_id: str) -> Iterator[str]:
    """When to look at a tester in the room: sun by its windows' facings, then by lamp."""
    room = house.rooms[room_id]
    facings = dict.fromkeys(
        _quarter(azimuth_deg(wall, house.north_deg))
        for window in room.windows.values()
        if (wall := wall_of(room, window.wall))
    )
    for facing in facings:
        yield f"{facing} window: {_when(facing, house.latitude_deg)}"
    if not facings:
        yield "no window: by what daylight comes through the openings, at noon"
    yield "after dark, by the lamps as they will be used"


def _when(facing: str, latitude_deg: float | None) -> str:
    sunny = "north" if (latitude_deg or 0.0) < 0.0 else "south"
    return _SUN_HOURS.get(facing) or (_NOON if facing == sunny else _FLAT)


def _quarter(azimuth: float) -> str:
    return _QUARTERS[round(azimuth / 90.0) % 4]
