"""The plan as SVG, a level at a time, every room in its wall colour."""

from collections.abc import Iterator

from housemap.plan.placed import PlacedRoom
from housemap.plan.route import stand_in
from housemap.schedule.document import Schedule
from housemap.schedule.page.parts import ink_on
from housemap.schedule.page.tags import Html, tag

_MARGIN_M = 0.3
LETTER_M = 0.3
LETTER_WIDTH = 0.62
"""Of a letter, in its size: wide enough for the usual sans-serif faces (common practice)."""
_BARE = "#bdbdbd"
_LINE = "#777777"


def plans(schedule: Schedule) -> Html:
    levels = schedule.study.plan.levels()
    drawn = [_level(schedule, level) for level in levels]
    return tag("div", *drawn, class_="plans") if drawn else Html()


def _level(schedule: Schedule, level: int) -> Html:
    rooms = {k: r for k, r in schedule.study.plan.rooms.items() if r.level == level}
    west = min(room.box_m[0] for room in rooms.values()) - _MARGIN_M
    south = min(room.box_m[1] for room in rooms.values()) - _MARGIN_M
    east = max(room.box_m[2] for room in rooms.values()) + _MARGIN_M
    north = max(room.box_m[3] for room in rooms.values()) + _MARGIN_M
    drawn = tag(
        "svg",
        *_rooms(schedule, rooms),
        *_openings(schedule, rooms),
        *_names(schedule, rooms),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"{west:.2f} {-north:.2f} {east - west:.2f} {north - south:.2f}",
        width=f"{40 * (east - west):.0f}",
        height=f"{40 * (north - south):.0f}",
        role="img",
        aria_label=f"Plan of level {level}",
    )
    schematic = [r for r in rooms.values() if not r.measured]
    note = ", some rooms schematic" if schematic else ""
    return tag("figure", drawn, tag("figcaption", f"level {level}{note}"))


def _rooms(schedule: Schedule, rooms: dict[str, PlacedRoom]) -> Iterator[Html]:
    for key, room in rooms.items():
        points = " ".join(f"{x:.2f},{-y:.2f}" for x, y in room.outline_m)
        yield tag(
            "polygon", points=points, fill=_fill(schedule, key), stroke=_LINE, stroke_width=0.04
        )


def _fill(schedule: Schedule, room: str) -> str:
    walls = schedule.study.rooms[room].coats.get("walls")
    return walls.swatch.colour.srgb_hex if walls else _BARE


def _openings(schedule: Schedule, rooms: dict[str, PlacedRoom]) -> Iterator[Html]:
    """A gap from face to face, in the colour of the first room."""
    for key, placed in schedule.study.plan.openings.items():
        first = schedule.house.openings[key].between[0]
        if first in rooms:
            (a, b), (c, d) = placed.near_m, placed.far_m
            points = " ".join(f"{x:.2f},{-y:.2f}" for x, y in (a, b, d, c))
            yield tag(
                "polygon",
                points=points,
                fill=_fill(schedule, first),
                stroke=_fill(schedule, first),
                stroke_width=0.05,
            )


def _names(schedule: Schedule, rooms: dict[str, PlacedRoom]) -> Iterator[Html]:
    study = schedule.study
    for key, room in rooms.items():
        x, y = stand_in(study.plan, study.sight.space, key)
        name, fill = schedule.house.rooms[key].name, ink_on(_fill(schedule, key))
        size = f"{_letter_m(name, room):.3f}"
        yield tag("text", name, x=f"{x:.2f}", y=f"{-y:.2f}", fill=fill, font_size=size)


def _letter_m(name: str, room: PlacedRoom) -> float:
    """A size at which the name lies within the room."""
    width_m = room.box_m[2] - room.box_m[0]
    return min(LETTER_M, width_m / (max(len(name), 1) * LETTER_WIDTH))
