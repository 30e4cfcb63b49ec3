"""What is drawn: strips of paints, the plan, walls as one stands before them.

Colour never stands alone: paints carry their numbers, so that a grey print says the same.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.spaces import hex_to_srgb, srgb_to_xyz
from housemap.model.geometry import (
    Segment,
    Wall,
    dot,
    minus,
    opening_height_m,
    outward,
    perimeter_m,
    unit,
    wall_of,
    walls,
    window_area_m2,
)
from housemap.model.house import Opening, Part, Point, Room, Window
from housemap.model.lengths import METRES_OF
from housemap.plan.elevations import CASING_M, CEILING_M, SKIRTING_M
from housemap.plan.floor_plan import PlacedRoom, wall_letters, wall_name
from housemap.plan.route import stand_in
from housemap.schedule import wording
from housemap.schedule.blocks import Html, tag
from housemap.schedule.document import Schedule
from housemap.schedule.takeoff import ON_WALL, RADIATOR_HEIGHT_M, flat_m2

BARE, LINE, GLASS, HOLE = "#e4e4e4", "#5a5a5a", "#eef3f6", "#f7f7f7"


@cache
def ink_on(hex_: str) -> str:
    """Black or white, whichever stands out more by the contrast ratio of WCAG 2.2."""
    luminance = float(srgb_to_xyz(np.array(hex_to_srgb(hex_)))[1]) / 100.0
    return "#000000" if (luminance + 0.05) / 0.05 >= 1.05 / (luminance + 0.05) else "#ffffff"


# Strips

NUMBERED = 0.011
"""Of a strip for each digit: a part's number stands in it where there is room for it."""


def strip(schedule: Schedule, by: str) -> Html:
    """The paints side by side, as wide as their shares "by area" or "by view"."""
    shares = {
        share.paint: share.of_view if by == "by view" else share.of_area for share in schedule.board
    }
    return strip_of(schedule, shares)


def strip_of(schedule: Schedule, shares: Mapping[str, float]) -> Html:
    """Parts as wide as their shares 0..1, with the number of each paint where there is room."""
    at = 0.0
    drawn: list[Html] = []
    words: list[str] = []
    for paint, share in shares.items():
        if share > 0.0:
            drawn += _strip_part(schedule, paint, at, share)
            words.append(f"{schedule.swatch(paint).name} {wording.percent(share)}")
            at += share
    return tag(
        "svg", *drawn, xmlns="http://www.w3.org/2000/svg", viewBox="0 0 1000 110", width=1000,
        height=110, role="img", aria_label=", ".join(words), preserveAspectRatio="none",
    )  # fmt: skip


def _strip_part(schedule: Schedule, paint: str, at: float, share: float) -> Iterator[Html]:
    hex_ = schedule.swatch(paint).colour.srgb_hex
    x, width = 1000 * at, 1000 * share
    yield tag("rect", x=f"{x:.1f}", y=0, width=f"{width:.1f}", height=110, fill=hex_)
    number = str(schedule.numbers.get(paint, ""))
    if number and share >= NUMBERED * (len(number) + 1):
        yield tag(
            "text", number, x=f"{x + width / 2:.1f}", y=63, fill=ink_on(hex_), font_size=22,
            text_anchor="middle",
        )  # fmt: skip


# The plan

_MARGIN_M, _FOOT_M = 0.3, 0.9
LETTER_M, LETTER_WIDTH, LINE_HEIGHT, BASELINE = 0.28, 0.62, 1.15, 0.35
"""Of a letter, from line to line, and from a line's middle to its foot, in its size: wide enough
for the usual sans-serif faces (common practice)."""
WALL_LETTER_M, MARGIN = 0.17, 0.94
_PX_A_METRE = 44


def plan_caption(schedule: Schedule, level: int) -> str:
    rooms = [r for r in schedule.study.plan.rooms.values() if r.level == level]
    name = f"Level {level}" if level else "Ground level"
    if any(not room.sized for room in rooms):
        return f"{name}, some rooms not to scale"
    placed = all(room.measured for room in rooms)
    return name if placed else f"{name}, where some rooms lie is not measured"


def plan(schedule: Schedule, level: int) -> Html:
    """Rooms in their wall colours with names, paint numbers, walls, openings and accents."""
    rooms = {k: r for k, r in schedule.study.plan.rooms.items() if r.level == level}
    boxes = [room.box_m for room in rooms.values()]
    west, south = (min(box[i] for box in boxes) - _MARGIN_M for i in (0, 1))
    east, north = (max(box[i] for box in boxes) + _MARGIN_M for i in (2, 3))
    south -= _FOOT_M
    return tag(
        "svg",
        *(_room_shape(schedule, key, room) for key, room in rooms.items()),
        *_openings(schedule, rooms),
        *(mark for key, room in rooms.items() for mark in _walls(schedule, key, room)),
        *(mark for key, room in rooms.items() for mark in _name(schedule, key, room)),
        _scale_bar(schedule, (west + _MARGIN_M, south + _FOOT_M / 2)),
        _north_arrow(schedule, (east - 0.6, south + _FOOT_M / 2)),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"{west:.2f} {-north:.2f} {east - west:.2f} {north - south:.2f}",
        width=f"{_PX_A_METRE * (east - west):.0f}",
        height=f"{_PX_A_METRE * (north - south):.0f}",
        role="img",
        aria_label=f"Plan of level {level}",
    )


def _points(points: Sequence[Point]) -> str:
    return " ".join(f"{x:.2f},{-y:.2f}" for x, y in points)


def _fill(schedule: Schedule, room: str) -> str:
    walls_ = schedule.study.rooms[room].coats.get("walls")
    return walls_.swatch.colour.srgb_hex if walls_ else BARE


def _room_shape(schedule: Schedule, key: str, room: PlacedRoom) -> Html:
    dashes = None if room.measured else "0.12 0.08"
    return tag(
        "polygon", points=_points(room.outline_m), fill=_fill(schedule, key), stroke=LINE,
        stroke_width=0.05, stroke_dasharray=dashes,
    )  # fmt: skip


def _openings(schedule: Schedule, rooms: Mapping[str, PlacedRoom]) -> Iterator[Html]:
    """A gap from face to face, in the colour of the first room."""
    for key, placed in schedule.study.plan.openings.items():
        first = schedule.house.openings[key].between[0]
        if first in rooms:
            (a, b), (c, d) = placed.near_m, placed.far_m
            fill = _fill(schedule, first)
            yield tag(
                "polygon", points=_points((a, b, d, c)), fill=fill, stroke=fill, stroke_width=0.06
            )


def _walls(schedule: Schedule, key: str, room: PlacedRoom) -> Iterator[Html]:
    """Windows, accent walls and the letter of each wall of a room that has measures."""
    held = schedule.house.rooms[key]
    if not room.sized:
        return
    for window in held.windows.values():
        wall = wall_of(held, window.wall)
        if wall:
            ends = wall.at(window.along_m), wall.at(window.along_m + window.width_m)
            yield from _glass(_placed(ends, room))
    letters = wall_letters(schedule.house, key)
    for wall in walls(held):
        segment = _placed((wall.start_m, wall.end_m), room)
        if wall.key in held.accents:
            yield from _accent(schedule, held, wall, segment)
        yield _wall_letter(wall, letters[wall.key], segment, _fill(schedule, key))


def _placed(ends: Segment, room: PlacedRoom) -> Segment:
    (ax, ay), (bx, by), (x, y) = *ends, room.at_m
    return (ax + x, ay + y), (bx + x, by + y)


def _glass(segment: Segment) -> Iterator[Html]:
    for colour, width in ((LINE, 0.14), ("#ffffff", 0.07)):
        yield _stroke(segment, colour, width)


def _accent(schedule: Schedule, room: Room, wall: Wall, segment: Segment) -> Iterator[Html]:
    paint = room.accents[wall.key].paint
    inside = _moved(segment, wall, -0.07)
    yield _stroke(inside, "#000000", 0.16)
    yield _stroke(inside, schedule.swatch(paint).colour.srgb_hex, 0.11)
    middle = _middle(_moved(segment, wall, -0.32))
    yield from _number(schedule, paint, middle, 0.14)


def _moved(segment: Segment, wall: Wall, out_m: float) -> Segment:
    (ax, ay), (bx, by), (x, y) = *segment, outward(wall)
    return (ax + out_m * x, ay + out_m * y), (bx + out_m * x, by + out_m * y)


def _middle(segment: Segment) -> Point:
    (ax, ay), (bx, by) = segment
    return (ax + bx) / 2, (ay + by) / 2


def _stroke(segment: Segment, colour: str, width: float) -> Html:
    (ax, ay), (bx, by) = segment
    return tag(
        "line", x1=f"{ax:.2f}", y1=f"{-ay:.2f}", x2=f"{bx:.2f}", y2=f"{-by:.2f}", stroke=colour,
        stroke_width=width,
    )  # fmt: skip


_LETTERED_FROM_M = 0.8


def _wall_letter(wall: Wall, letters: str, segment: Segment, fill: str) -> Html:
    """At a third of the wall, clear of its middle; short walls go without."""
    if wall.length_m < _LETTERED_FROM_M:
        return Html()
    (ax, ay), (bx, by) = _moved(segment, wall, -0.16)
    at = ax + 0.25 * (bx - ax), ay + 0.25 * (by - ay)
    return _text(letters, at, WALL_LETTER_M, ink_on(fill))


def _number(schedule: Schedule, paint: str, at: Point, radius: float) -> Iterator[Html]:
    x, y = at
    yield tag(
        "circle", cx=f"{x:.2f}", cy=f"{-y:.2f}", r=radius, fill="#ffffff", stroke="#000000",
        stroke_width=0.015,
    )  # fmt: skip
    yield _text(str(schedule.numbers.get(paint, "")), at, 1.2 * radius, "#000000")


def _text(words: str, at: Point, size_m: float, ink: str, halo: str | None = None) -> Html:
    """One line with its middle at a place; `halo` is the colour around its letters."""
    x, y = at
    return tag(
        "text", words, x=f"{x:.2f}", y=f"{BASELINE * size_m - y:.2f}", fill=ink,
        font_size=f"{size_m:.3f}", text_anchor="middle", stroke=halo,
        stroke_width=halo and 0.06, paint_order=halo and "stroke",
    )  # fmt: skip


def _name(schedule: Schedule, key: str, room: PlacedRoom) -> Iterator[Html]:
    """The room's name, and below it the number of its wall paint."""
    study = schedule.study
    x, y = stand_in(study.plan, schedule.elevations.space, key)
    west, east = across(room, (x, y))
    name = schedule.house.rooms[key].name
    lines, size = fitting(name, MARGIN * (east - west))
    middle, ink = (west + east) / 2, ink_on(_fill(schedule, key))
    coat = study.rooms[key].coats.get("walls")
    up = 0.5 * (len(lines) if coat else len(lines) - 1)
    for number, line in enumerate(lines):
        yield _text(line, (middle, y + (up - number) * LINE_HEIGHT * size), size, ink)
    if coat:
        yield from _number(
            schedule, coat.swatch.id, (middle, y - up * LINE_HEIGHT * size - 0.06), 0.17
        )


def across(room: PlacedRoom, at: Point) -> Point:
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


def fitting(name: str, width_m: float) -> tuple[tuple[str, ...], float]:
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


def _scale_bar(schedule: Schedule, at: Point) -> Html:
    """Two metres, or five feet, in halves."""
    units = schedule.house.units
    count = 5 if units == "ft" else 2
    long = count * METRES_OF[units]
    x, y = at
    halves = (
        tag("rect", x=f"{x + i * long / 2:.3f}", y=f"{-y:.2f}", width=f"{long / 2:.3f}",
            height=0.09, fill=("#000000", "#ffffff")[i], stroke="#000000", stroke_width=0.02)
        for i in (0, 1)
    )  # fmt: skip
    words = _text(f"{count} {units}", (x + long + 0.35, y - 0.04), 0.24, "currentColor")
    return tag("g", *halves, words)


def _north_arrow(schedule: Schedule, at: Point) -> Html:
    """An arrow to true north with its letter beyond the point."""
    x, y = at
    arrow = tag("path", d="M0 -0.3 L0.13 0.22 L0 0.12 L-0.13 0.22 Z", fill="currentColor")
    turn = f"translate({x:.2f} {-y:.2f}) rotate({schedule.house.north_deg:g})"
    return tag("g", arrow, _text("N", (0.0, 0.42), 0.2, "currentColor"), transform=turn)


# A wall as one stands before it

_PX_A_METRE_OF_WALL = 58
_NUMBER_M, _BELOW_M = 0.16, 0.4
"""The radius of a paint's number, and the strip below the floor that holds the trim's."""


class Box(NamedTuple):
    """A rectangle on a wall, in metres from its left end and from the floor."""

    left: float
    low: float
    width: float
    high: float


_SPOT, _SAMPLE = Box(0.0, 0.35, 0.4, 0.4), Box(0.0, 1.25, 0.45, 0.45)
"""Where the wall's number is if it is free there, and a painted sample."""


def walls_of(schedule: Schedule, room: str) -> Sequence[tuple[str, str]]:
    """Key and caption of every wall of a measured room."""
    held = schedule.house.rooms[room]
    if held.height_m is None or room not in schedule.study.plan.rooms:
        return ()
    letters = wall_letters(schedule.house, room)
    return [
        (wall.key, f"{letters[wall.key]}: {'; '.join(_on_wall(schedule, room, wall))}")
        for wall in walls(held)
    ]


def _on_wall(schedule: Schedule, room: str, wall: Wall) -> Iterator[str]:
    """What a wall is called, and what is on it."""
    house, key = schedule.house, wall.key
    held = house.rooms[room]
    yield wall_name(house, room, key, schedule.study.graph)
    if key in held.accents:
        yield f"accent in {wording.paint(house, held.accents[key].paint)}"
    drawn = {each.key: each.unsure for each in _parts_on(schedule, room, wall)}
    for id_, part in held.parts.items():
        if part.wall == key or id_ in drawn:
            area = wording.area(schedule.part_m2(room, id_), house.units)
            unsure = ", place not measured" if drawn.get(id_) else ""
            around = "" if part.wall or part.kind not in ON_WALL else " round the room"
            yield f"{wording.part_name(id_, part)} {area}{around}{unsure}"
    if (room, key) in schedule.sample_places:
        yield "put a sample here"


def elevation(schedule: Schedule, room: str, key: str, caption: str) -> Html:
    """A wall from inside, left and right as one sees them, with paints by number."""
    held = schedule.house.rooms[room]
    wall = wall_of(held, key)
    if wall is None:
        return Html()
    high = held.height_m or CEILING_M
    holes = list(_holes(schedule, room, wall))
    parts = list(_parts_on(schedule, room, wall))
    taken = [hole for hole, _ in holes]
    before = [*taken, *(part.box for part in parts if not part.covers)]
    drawn = [
        *_plain_wall(schedule, room, wall, high),
        *(_part_box(schedule, part) for part in parts if part.covers),
        *(mark for hole, opening in holes for mark in _hole(schedule, room, hole, opening)),
        *(_part_box(schedule, part) for part in parts if not part.covers),
        *(m for part in parts for m in _part(schedule, part, before if part.covers else taken)),
        *_numbers_on_wall(schedule, room, wall, holes, parts),
    ]
    if (room, key) in schedule.sample_places:
        drawn += _sample_place(wall.length_m, [*taken, *_boxes(parts)])
    return tag(
        "svg", tag("g", *drawn, transform=f"translate(0 {high:.2f})"),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"-0.03 -0.03 {wall.length_m + 0.06:.2f} {high + _BELOW_M + 0.06:.2f}",
        width=f"{_PX_A_METRE_OF_WALL * wall.length_m:.0f}",
        height=f"{_PX_A_METRE_OF_WALL * (high + _BELOW_M):.0f}",
        role="img", aria_label=f"{held.name}, {caption}",
    )  # fmt: skip


def _rect(box: Box, fill: str, **more: str | float) -> Html:
    return tag(
        "rect", x=f"{box.left:.2f}", y=f"{-box.low - box.high:.2f}", width=f"{box.width:.2f}",
        height=f"{box.high:.2f}", fill=fill, stroke=LINE, stroke_width=0.015, **more,
    )  # fmt: skip


def _hex(schedule: Schedule, paint: str | None) -> str:
    return schedule.swatch(paint).colour.srgb_hex if paint else BARE


def _wall_paint(room: Room, key: str) -> str | None:
    accent = room.accents.get(key)
    return accent.paint if accent else room.paints.walls


def _plain_wall(schedule: Schedule, room: str, wall: Wall, high: float) -> Iterator[Html]:
    held = schedule.house.rooms[room]
    yield _rect(Box(0.0, 0.0, wall.length_m, high), _hex(schedule, _wall_paint(held, wall.key)))
    yield _rect(Box(0.0, 0.0, wall.length_m, SKIRTING_M), _hex(schedule, held.paints.trim))


def _holes(schedule: Schedule, room: str, wall: Wall) -> Iterator[tuple[Box, Opening | Window]]:
    """Openings and windows of a wall, as seen from inside."""
    house = schedule.house
    for window in house.rooms[room].windows.values():
        if window.wall == wall.key:
            left = _from_left(wall, window.along_m, window.width_m)
            yield Box(left, window.sill_m, window.width_m, window.height_m), window
    for key, opening in schedule.study.graph.openings_of(room).items():
        if span := _span(schedule, room, wall, key):
            high = opening_height_m(house, opening) or CEILING_M
            yield Box(_from_left(wall, *span), 0.0, span[1], high), opening


class _PartOnWall(NamedTuple):
    """A part of the room, drawn where such a part usually is: its place is not measured."""

    key: str
    part: Part
    box: Box
    unsure: bool = True
    """Not where it covers all of the wall."""

    @property
    def covers(self) -> bool:
        """Whether it is what the wall wears, not what stands before it."""
        return self.part.kind in ON_WALL


_RADIATOR_LOW_M = 0.12


def _boxes(parts: Sequence[_PartOnWall]) -> list[Box]:
    return [part.box for part in parts]


def _parts_on(schedule: Schedule, room: str, wall: Wall) -> Iterator[_PartOnWall]:
    """Panelling, paper and tiles from the floor up; a radiator below the largest window.

    One that names no wall runs along them all, or is below the largest window of the room.
    """
    held = schedule.house.rooms[room]
    windows = sorted(held.windows.values(), key=window_area_m2, reverse=True)
    lit = windows[0].wall if windows else None
    for key, part in held.parts.items():
        area = schedule.part_m2(room, key)
        if area is None or part.wall not in {None, wall.key}:
            continue
        if part.kind in ON_WALL:
            yield _covering(held, wall, key, flat_m2(part, area))
        elif part.kind == "radiator" and wall.key == (part.wall or lit):
            width = min(flat_m2(part, area) / part.count / RADIATOR_HEIGHT_M, wall.length_m)
            here = (each for each in windows if each.wall == wall.key)
            middles = (
                _from_left(wall, each.along_m, each.width_m) + each.width_m / 2 for each in here
            )
            left = min(
                max(next(middles, wall.length_m / 2) - width / 2, 0.0), wall.length_m - width
            )
            box = Box(left, _RADIATOR_LOW_M, width, RADIATOR_HEIGHT_M)
            doors = [hole for hole, _ in _holes(schedule, room, wall) if hole.low == 0.0]
            yield _PartOnWall(key, part, _free(box, (0.0, wall.length_m), box.low, doors) or box)


def _covering(room: Room, wall: Wall, key: str, flat_m2_: float) -> _PartOnWall:
    """As high as its area is along the length that it is given, the wall's or the room's."""
    part, long = room.parts[key], wall.length_m
    along = (part.length_m or long) if part.wall else (perimeter_m(room) or long)
    width, high = min(along, long), min(flat_m2_ / along, room.height_m or CEILING_M)
    unsure = width < long or high < (room.height_m or CEILING_M)
    return _PartOnWall(key, part, Box(0.0, 0.0, width, high), unsure)


def _part_box(schedule: Schedule, drawn: _PartOnWall) -> Html:
    """Dashed where its place is not measured."""
    dashes: dict[str, str | float] = {"stroke_dasharray": "0.12 0.06"} if drawn.unsure else {}
    return _rect(drawn.box, _hex(schedule, drawn.part.paint), **dashes)


def _part(schedule: Schedule, drawn: _PartOnWall, taken: Sequence[Box]) -> Iterator[Html]:
    """Its name, and its number where it is painted, where nothing is before it."""
    box, part = drawn.box, drawn.part
    words, ink = wording.part_name(drawn.key, part), ink_on(_hex(schedule, part.paint))
    size = min(_WORDS_M, 0.5 * box.high, 0.9 * box.width / (LETTER_WIDTH * len(words)))
    width = max(LETTER_WIDTH * len(words) * size, 2 * _NUMBER_M)
    high = 2 * _NUMBER_M + 1.5 * size if part.paint else 1.5 * size
    left, low = box.left + (box.width - width) / 2, box.low + max(box.high - high, 0.0) / 2
    ends = box.left, box.left + box.width
    at = _free(Box(left, low, width, high), ends, box.low + box.high - high, taken)
    if at is None:
        return
    x, top = at.left + width / 2, at.low + high
    yield _text(words, (x, top - 0.75 * size), size, ink)
    if part.paint:
        yield from _number(schedule, part.paint, (x, at.low + _NUMBER_M), _NUMBER_M)


def _from_left(wall: Wall, along_m: float, width_m: float) -> float:
    """From the left end as seen from inside; all walls but "n" and "w" start at the right."""
    return along_m if wall.key in {"n", "w"} else wall.length_m - along_m - width_m


_NEAR_M = 0.02


def _span(schedule: Schedule, room: str, wall: Wall, opening: str) -> Point | None:
    """Where an opening begins along a wall, and its width; None where it is in another."""
    segment = schedule.elevations.in_wall_m(room, opening)
    if segment is None:
        return None
    start, end = _placed((wall.start_m, wall.end_m), schedule.study.plan.rooms[room])
    along, away = unit(minus(end, start)), outward(wall)
    if any(abs(dot(away, minus(point, start))) > _NEAR_M for point in segment):
        return None
    first, last = sorted(dot(along, minus(point, start)) for point in segment)
    return (first, last - first) if first > -_NEAR_M and last < wall.length_m + _NEAR_M else None


def _hole(schedule: Schedule, room: str, box: Box, hole: Opening | Window) -> Iterator[Html]:
    """A window has a bar, a door its paint; an opening is crossed, so that grey prints show it."""
    paints = schedule.house.rooms[room].paints
    if isinstance(hole, Window):
        yield _rect(_cased(box, sill=True), _hex(schedule, paints.trim))
        yield _rect(box, GLASS)
        yield from _bars(box)
        return
    if hole.kind != "open":
        yield _rect(_cased(box, sill=False), _hex(schedule, paints.trim))
    is_door = hole.kind == "doorway"
    fill = _hex(schedule, paints.doors) if is_door else GLASS if hole.kind == "glazed" else HOLE
    yield _rect(box, fill)
    if hole.kind == "glazed":
        yield from _bars(box)
    elif not is_door:
        yield from _cross(box)
    other = hole.between[hole.between[0] == room]
    yield from _leads_to(f"to {schedule.house.rooms[other].name}", box, fill)


_WORDS_M, _LEAST_WORDS_M = 0.16, 0.12


def _leads_to(words: str, box: Box, fill: str) -> Iterator[Html]:
    """Across the hole where it is wide enough, else up along its left side."""
    letters = max(1, len(words)) * LETTER_WIDTH
    size = min(_WORDS_M, 0.9 * box.width / letters)
    if size >= _LEAST_WORDS_M:
        at = box.left + box.width / 2, box.low + 0.75 * box.high
        yield _text(words, at, size, ink_on(fill), halo=fill)
        return
    x, y = box.left + min(0.7 * _WORDS_M, box.width / 2), box.low + box.high / 2
    size = min(_WORDS_M, 0.9 * box.high / letters)
    written = _text(words, (0.0, 0.0), size, ink_on(fill), halo=fill)
    yield tag("g", written, transform=f"translate({x:.2f} {-y:.2f}) rotate(-90)")


def _cross(box: Box) -> Iterator[Html]:
    right, top = box.left + box.width, box.low + box.high
    yield _stroke(((box.left, box.low), (right, top)), LINE, 0.02)
    yield _stroke(((box.left, top), (right, box.low)), LINE, 0.02)


def _cased(box: Box, *, sill: bool) -> Box:
    low = box.low - CASING_M if sill else box.low
    return Box(
        box.left - CASING_M, low, box.width + 2 * CASING_M, box.high + CASING_M + box.low - low
    )


def _bars(box: Box) -> Iterator[Html]:
    middle = box.left + box.width / 2
    yield _stroke(((middle, box.low), (middle, box.low + box.high)), LINE, 0.02)


def _numbers_on_wall(
    schedule: Schedule, room: str, wall: Wall, holes: Sequence[tuple[Box, Opening | Window]],
    parts: Sequence[_PartOnWall],
) -> Iterator[Html]:  # fmt: skip
    """Of the wall and the doors where they are, of the trim below the skirting."""
    held = schedule.house.rooms[room]
    paint, taken = _wall_paint(held, wall.key), [*(hole for hole, _ in holes), *_boxes(parts)]
    if paint and all(part.unsure for part in parts):
        spot = _SPOT._replace(left=(wall.length_m - _SPOT.width) / 2)
        high = (held.height_m or CEILING_M) - spot.high
        at = _free(spot, (0.0, wall.length_m), high, taken) or spot
        yield from _number(schedule, paint, (at.left + 0.2, at.low + 0.2), _NUMBER_M)
    if held.paints.trim:
        yield _stroke(((_NUMBER_M, 0.5 * SKIRTING_M), (_NUMBER_M, -_BELOW_M / 2)), LINE, 0.02)
        yield from _number(schedule, held.paints.trim, (_NUMBER_M, -_BELOW_M / 2), _NUMBER_M)
    for hole, what in holes:
        if isinstance(what, Opening) and what.kind == "doorway" and held.paints.doors:
            middle = hole.left + hole.width / 2, 0.45 * hole.high
            yield from _number(schedule, held.paints.doors, middle, _NUMBER_M)


_CLEAR_M, _TRY_EVERY_M = 0.1, 0.1


def _free(box: Box, ends: Point, up_to: float, taken: Sequence[Box]) -> Box | None:
    """The box moved between ends to the lowest place that nothing takes, as near as it can be."""
    first, room = ends[0], max(ends[1] - ends[0] - box.width, 0.0)
    box = box._replace(left=min(max(box.left, first), first + room))
    count = int(room / _TRY_EVERY_M)
    lefts = [box.left, *(first + step * _TRY_EVERY_M for step in range(count + 1))]
    for up in range(int(max(up_to - box.low, 0.0) / _TRY_EVERY_M) + 1):
        low = box.low + up * _TRY_EVERY_M
        tries = (Box(left, low, box.width, box.high) for left in lefts)
        clear = [each for each in tries if not any(_overlap(each, other) for other in taken)]
        if clear:
            return min(clear, key=lambda each: abs(each.left - box.left))
    return None


def _overlap(one: Box, other: Box) -> bool:
    """Whether two boxes come nearer to each other than they should."""
    before = one.left + one.width + _CLEAR_M < other.left
    aside = before or other.left + other.width + _CLEAR_M < one.left
    above = one.low + one.high < other.low or other.low + other.high < one.low
    return not aside and not above


def _sample_place(length: float, taken: Sequence[Box]) -> Iterator[Html]:
    """Beside what reaches its height, windows and all that is below them too."""
    columns = [
        Box(each.left, 0.0, each.width, each.low + each.high)
        for each in taken
        if each.low + each.high > _SAMPLE.low
    ]
    middle = _SAMPLE._replace(left=(length - _SAMPLE.width) / 2)
    box = _free(middle, (0.0, length), _SAMPLE.low, columns)
    yield _rect(box or middle, "#ffffff", stroke_dasharray="0.06 0.04")
