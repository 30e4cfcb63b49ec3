"""The plan as SVG, a level at a time, every room in its wall colour."""

from collections.abc import Iterator

from housemap.model.house import Point
from housemap.plan.floor_plan import PlacedRoom
from housemap.plan.route import stand_in
from housemap.schedule.document import Schedule
from housemap.schedule.page.parts import ink_on
from housemap.schedule.page.tags import Html, tag

_MARGIN_M = 0.3
LETTER_M = 0.3
LETTER_WIDTH, LINE, BASELINE = 0.62, 1.15, 0.35
"""Of a letter, from line to line, and from a line's middle to its foot, in its size: wide enough
for the usual sans-serif faces (common practice)."""
MARGIN = 0.94
"""Of the room between two walls that a name may take."""
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
        west, east = _across(room, (x, y))
        lines, size = _fitting(schedule.house.rooms[key].name, MARGIN * (east - west))
        yield from _lettered(lines, ((west + east) / 2, y), size, ink_on(_fill(schedule, key)))


def _across(room: PlacedRoom, at: Point) -> Point:
    """From where to where a room reaches west and east of a place in it."""
    x, y = at
    corners = room.outline_m
    crossed = [
        ax + (y - ay) / (by - ay) * (bx - ax)
        for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True)
        if (ay > y) != (by > y)
    ]
    west = max((each for each in crossed if each <= x), default=x)
    return west, min((each for each in crossed if each >= x), default=x)


def _fitting(name: str, width_m: float) -> tuple[tuple[str, ...], float]:
    """A name in one line, or where it is too wide in two; and the size in which it fits."""
    each = [(lines, _letter_m(lines, width_m)) for lines in _broken(name)]
    return max(each, key=lambda fit: fit[1])


def _broken(name: str) -> Iterator[tuple[str, ...]]:
    yield (name,)
    spaces = [i for i, letter in enumerate(name) if letter == " "]
    if spaces:
        at = min(spaces, key=lambda i: abs(2 * i - len(name)))
        yield name[:at], name[at + 1 :]


def _letter_m(lines: tuple[str, ...], width_m: float) -> float:
    return min(LETTER_M, width_m / (max(1, *map(len, lines)) * LETTER_WIDTH))


def _lettered(lines: tuple[str, ...], at: Point, size_m: float, ink: str) -> Iterator[Html]:
    """Lines one below the other, the middle of them all at a place."""
    x, y = at
    for number, line in enumerate(lines):
        below = (number - (len(lines) - 1) / 2) * LINE + BASELINE
        yield tag(
            "text", line, x=f"{x:.2f}", y=f"{below * size_m - y:.2f}", fill=ink,
            font_size=f"{size_m:.3f}",
        )  # fmt: skip
