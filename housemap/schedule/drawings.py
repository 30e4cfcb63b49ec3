"""What is drawn: strips of paints, the plan, walls as one stands before them.

Colour never stands alone: paints carry their numbers, so that a grey print says the same.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from math import inf
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.spaces import hex_to_srgb, srgb_to_xyz
from housemap.model.geometry import (
    Segment,
    Wall,
    middle,
    moved_segment,
    outward,
    perimeter_m,
    scaled,
    stretches,
    wall_in,
    wall_of,
    walls,
    window_area_m2,
)
from housemap.model.house import Opening, Part, Point, Room, Window
from housemap.model.lengths import METRES_OF
from housemap.model.takeoff import ON_WALL, RADIATOR_HEIGHT_M, flat_m2
from housemap.plan.elevations import CASING_M, CEILING_M, SKIRTING_M, span_along
from housemap.plan.floor_plan import PlacedRoom, wall_letters, wall_name
from housemap.plan.placing import DRAWN_M
from housemap.plan.route import stand_in
from housemap.schedule import wording
from housemap.schedule.blocks import Html, tag
from housemap.schedule.document import Schedule

BARE, LINE, GLASS, HOLE = "#e4e4e4", "#5a5a5a", "#eef3f6", "#f7f7f7"
BLACK, WHITE = "#000000", "#ffffff"


@cache
def ink_on(hex_: str) -> str:
    """Black or white, whichever stands out more by the contrast ratio of WCAG 2.2."""
    luminance = float(srgb_to_xyz(np.array(hex_to_srgb(hex_)))[1]) / 100.0
    return BLACK if (luminance + 0.05) / 0.05 >= 1.05 / (luminance + 0.05) else WHITE


# Shapes, in metres to the right and up

LETTER_WIDTH, BASELINE = 0.62, 0.35
"""Of a letter, and from a line's middle to its foot, in its size: wide enough for the usual
sans-serif faces (common practice)."""
Attribute = str | float | None


class Box(NamedTuple):
    """An upright rectangle by its lower left corner; of a wall from its left end and the floor."""

    left: float
    low: float
    width: float
    high: float


def _svg(box: Box, px_a_metre: float, label: str, *drawn: str, **more: Attribute) -> Html:
    return tag(
        "svg", *drawn, xmlns="http://www.w3.org/2000/svg",
        viewBox=f"{box.left:.2f} {-box.low - box.high:.2f} {box.width:.2f} {box.high:.2f}",
        width=f"{px_a_metre * box.width:.0f}", height=f"{px_a_metre * box.high:.0f}",
        role="img", aria_label=label, **more,
    )  # fmt: skip


def _rect(box: Box, fill: str, stroke: str | None = LINE, **more: Attribute) -> Html:
    return tag(
        "rect", x=f"{box.left:.2f}", y=f"{-box.low - box.high:.2f}", width=f"{box.width:.2f}",
        height=f"{box.high:.2f}", fill=fill, stroke=stroke, stroke_width=stroke and 0.015, **more,
    )  # fmt: skip


def _polygon(points: Iterable[Point], fill: str, stroke: str, width: float, **more: str) -> Html:
    corners = " ".join(f"{x:.2f},{-y:.2f}" for x, y in points)
    return tag("polygon", points=corners, fill=fill, stroke=stroke, stroke_width=width, **more)


def _stroke(segment: Segment, colour: str = LINE, width: float = 0.02) -> Html:
    (ax, ay), (bx, by) = segment
    return tag(
        "line", x1=f"{ax:.2f}", y1=f"{-ay:.2f}", x2=f"{bx:.2f}", y2=f"{-by:.2f}", stroke=colour,
        stroke_width=width,
    )  # fmt: skip


def _text(words: str, at: Point, size_m: float, ink: str, halo: str | None = None) -> Html:
    """One line with its middle at a place; `halo` is the colour around its letters."""
    x, y = at
    return tag(
        "text", words, x=f"{x:.2f}", y=f"{BASELINE * size_m - y:.2f}", fill=ink,
        font_size=f"{size_m:.3f}", text_anchor="middle", stroke=halo,
        stroke_width=halo and 0.06, paint_order=halo and "stroke",
    )  # fmt: skip


def _long(words: str) -> float:
    """Of a line, in its letters' size."""
    return LETTER_WIDTH * max(1, len(words))


def _number(schedule: Schedule, paint: str, at: Point, radius: float) -> Html:
    x, y = at
    circle = tag(
        "circle", cx=f"{x:.2f}", cy=f"{-y:.2f}", r=radius, fill=WHITE, stroke=BLACK,
        stroke_width=0.015,
    )  # fmt: skip
    return tag("g", circle, _text(str(schedule.numbers.get(paint, "")), at, 1.2 * radius, BLACK))


def _hex(schedule: Schedule, paint: str | None) -> str:
    return schedule.swatch(paint).colour.srgb_hex if paint else BARE


_CLEAR_M, _TRY_EVERY_M = 0.1, 0.1


def _free(box: Box, ends: Point, up_to: float, taken: Sequence[Box]) -> Box | None:
    """The box moved between ends to the lowest place that nothing takes, as near as it can be."""
    first, room = ends[0], max(ends[1] - ends[0] - box.width, 0.0)
    box = box._replace(left=min(max(box.left, first), first + room))
    count = int(room / _TRY_EVERY_M)
    lefts = [box.left, *(first + step * _TRY_EVERY_M for step in range(count + 1))]
    for up in range(int(max(up_to - box.low, 0.0) / _TRY_EVERY_M) + 1):
        tries = (box._replace(left=left, low=box.low + up * _TRY_EVERY_M) for left in lefts)
        clear = [each for each in tries if not any(_overlap(each, other) for other in taken)]
        if clear:
            return min(clear, key=lambda each: abs(each.left - box.left))
    return None


def _overlap(one: Box, other: Box, clear_m: float = _CLEAR_M) -> bool:
    """Whether two boxes come nearer to each other, side by side, than they should."""
    return (
        one.left <= other.left + other.width + clear_m
        and other.left <= one.left + one.width + clear_m
        and one.low <= other.low + other.high
        and other.low <= one.low + one.high
    )


# Strips

NUMBERED = 0.011
"""Of a strip for each digit: a part's number stands in it where there is room for it."""
STRIP, BELOW, APART = 110.0, 40.0, 34.0
"""Of a strip 1000 wide: its height, the room below it, and from one number there to the next."""


def strip(schedule: Schedule, by: str) -> Html:
    """The paints side by side, as wide as their shares "by area" or "by view"."""
    shares = {
        share.paint: share.of_view if by == "by view" else share.of_area for share in schedule.board
    }
    return strip_of(schedule, shares)


def strip_of(schedule: Schedule, shares: Mapping[str, float]) -> Html:
    """Parts as wide as their shares 0..1, with their numbers: of narrow ones below the strip."""
    left, drawn, words, narrow = 0.0, [], [], []
    for paint, share in shares.items():
        if share > 0.0:
            fill, number = _hex(schedule, paint), str(schedule.numbers.get(paint, ""))
            middle = left + 500 * share
            drawn.append(_rect(Box(left, 0, 1000 * share, STRIP), fill, stroke=None))
            if share >= NUMBERED * (len(number) + 1):
                drawn.append(_text(number, (middle, STRIP / 2), 22, ink_on(fill)))
            elif number:
                narrow.append((middle, number))
            words.append(f"{schedule.swatch(paint).name} {wording.percent(share)}")
            left += 1000 * share
    places = _spread([middle for middle, _ in narrow])
    for (middle, number), x in zip(narrow, places, strict=True):
        drawn += _stroke(((middle, 0), (x, -10)), width=1.5), _text(number, (x, -24), 22, LINE)
    box = Box(0, -BELOW, 1000, STRIP + BELOW)
    return _svg(box, 1, ", ".join(words), *drawn, preserveAspectRatio="none")


def _spread(wanted: Sequence[float]) -> list[float]:
    """Places from left to right, near those wanted, none too near to another or to an end."""
    found, last = [], 1000 - APART / 2
    for n, place in enumerate(reversed(wanted)):
        last = min(place, last - (APART if n else 0))
        found.append(last)
    found.reverse()
    for n, place in enumerate(found):
        found[n] = max(place, found[n - 1] + APART if n else APART / 2)
    return found


# The plan

_MARGIN_M, _FOOT_M = 0.3, 0.9
LETTER_M, LINE_HEIGHT = 0.28, 1.15
"""Of a room's name at most, and from line to line in its size."""
WALL_LETTER_M, MARGIN = 0.17, 0.94
_NAME_ROOM_M, _NAME_NUMBER_M = 0.25, 0.17
"""Between a room's name and its walls, for their letters; and the radius of its paint's number."""
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
    fills = {key: _wall_hex(schedule, key) for key in rooms}
    boxes = [room.box_m for room in rooms.values()]
    west, south = (min(box[i] for box in boxes) for i in (0, 1))
    east, north = (max(box[i] for box in boxes) for i in (2, 3))
    low, foot = south - _MARGIN_M - _FOOT_M, south - _MARGIN_M - _FOOT_M / 2
    wide = east - west + 2 * _MARGIN_M
    return _svg(
        Box(west - _MARGIN_M, low, wide, north + _MARGIN_M - low), _PX_A_METRE,
        f"Plan of level {level}",
        *(
            _polygon(room.outline_m, fills[key], LINE, 0.05,
                     **({} if room.measured else {"stroke_dasharray": "0.12 0.08"}))
            for key, room in rooms.items()
        ),
        *_openings(schedule, fills),
        *(mark for key, room in rooms.items() for mark in _on_walls(schedule, key, room)),
        *(mark for key, room in rooms.items() for mark in _labels(schedule, key, room)),
        _scale_bar(schedule, (west, foot)),
        _north_arrow(schedule, (east + _MARGIN_M - 0.6, foot)),
    )  # fmt: skip


def _wall_hex(schedule: Schedule, room: str) -> str:
    coat = schedule.study.rooms[room].coats.get("walls")
    return coat.swatch.colour.srgb_hex if coat else BARE


def _openings(schedule: Schedule, fills: Mapping[str, str]) -> Iterator[Html]:
    """A gap from face to face, in the colour of the first room."""
    for key, placed in schedule.study.plan.openings.items():
        fill = fills.get(schedule.house.openings[key].between[0])
        if fill:
            yield _polygon((*placed.near_m, *placed.far_m[::-1]), fill, fill, 0.06)


def _on_walls(schedule: Schedule, key: str, room: PlacedRoom) -> Iterator[Html]:
    """Windows and accents of a room that has measures."""
    held = schedule.house.rooms[key]
    for window in held.windows.values() if room.sized else ():
        if wall := wall_of(held, window.wall):
            ends = wall.at(window.along_m), wall.at(window.along_m + window.width_m)
            for colour, width in ((LINE, 0.14), (WHITE, 0.07)):
                yield _stroke(moved_segment(ends, room.at_m), colour, width)
    for wall in walls(held) if room.sized else ():
        if wall.key in held.accents:
            along = _beside(wall, room, 0.07)
            paint = held.accents[wall.key].paint
            yield _stroke(along, BLACK, 0.16)
            yield _stroke(along, _hex(schedule, paint), 0.11)
            yield _number(schedule, paint, middle(*_beside(wall, room, 0.32)), 0.14)


def _beside(wall: Wall, room: PlacedRoom, into_m: float) -> Segment:
    """The line so far inside a wall."""
    ends = moved_segment((wall.start_m, wall.end_m), room.at_m)
    return moved_segment(ends, scaled(outward(wall), -into_m))


def _labels(schedule: Schedule, key: str, room: PlacedRoom) -> Iterator[Html]:
    """The room's name, below it the number of its wall paint, and clear of them its letters."""
    at = stand_in(schedule.study.plan, schedule.elevations.space, key)
    west, east = across(room, at)
    south, north = across(room, at, axis=1)
    coat, ink = schedule.study.rooms[key].coats.get("walls"), ink_on(_wall_hex(schedule, key))
    foot = 2 * _NAME_NUMBER_M + 0.06 if coat else 0.0
    free = north - south - 2 * _NAME_ROOM_M - foot
    lines, size = fitting(schedule.house.rooms[key].name, MARGIN * (east - west), free)
    pitch, high = LINE_HEIGHT * size, LINE_HEIGHT * size * len(lines) + foot
    half = _NAME_ROOM_M + high / 2
    centre = (west + east) / 2, max(min(at[1], north - half), south + half)
    top = centre[1] + high / 2
    for i, line in enumerate(lines):
        yield _text(line, (centre[0], top - (i + 0.5) * pitch), size, ink)
    if coat:
        number_at = centre[0], top - high + _NAME_NUMBER_M
        yield _number(schedule, coat.swatch.id, number_at, _NAME_NUMBER_M)
    wide = max(size * max(map(_long, lines)), 2 * _NAME_NUMBER_M)
    taken = [Box(centre[0] - wide / 2, top - high, wide, high)]
    yield from _wall_letters(schedule, key, room, ink, taken)


_LETTERED_FROM_M, _LETTERS_AT = 0.8, (0.25, 0.75, 0.1, 0.9, 0.5)
"""Shorter walls go without; at which share of a wall its letter is, where that is free."""


def _wall_letters(
    schedule: Schedule, key: str, room: PlacedRoom, ink: str, taken: list[Box]
) -> Iterator[Html]:
    held, letters = schedule.house.rooms[key], wall_letters(schedule.house, key)
    for wall in walls(held) if room.sized else ():
        if wall.length_m < _LETTERED_FROM_M:
            continue
        start, end = _beside(wall, room, 0.28 if wall.key in held.accents else 0.16)
        wide, high = WALL_LETTER_M * _long(letters[wall.key]), WALL_LETTER_M
        boxes = [
            Box(start[0] + share * (end[0] - start[0]) - wide / 2,
                start[1] + share * (end[1] - start[1]) - high / 2, wide, high)
            for share in _LETTERS_AT
        ]  # fmt: skip
        clear = (box for box in boxes if not any(_overlap(box, each, 0.03) for each in taken))
        box = next(clear, boxes[0])
        taken.append(box)
        at = box.left + wide / 2, box.low + high / 2
        yield _text(letters[wall.key], at, WALL_LETTER_M, ink)


def across(room: PlacedRoom, at: Point, axis: int = 0) -> Point:
    """From where to where a room reaches west and east of a place in it; axis 1: south, north."""
    place, level = at[axis], at[1 - axis]
    outline = [(point[axis], point[1 - axis]) for point in room.outline_m]
    crossed = [end for stretch in stretches(outline, level) for end in stretch]
    low = max((each for each in crossed if each <= place), default=place)
    return low, min((each for each in crossed if each >= place), default=place)


def fitting(name: str, width_m: float, height_m: float = inf) -> tuple[tuple[str, ...], float]:
    """A name in one line or in two, whichever is larger, and the size in which it fits."""
    spaces = [i for i, letter in enumerate(name) if letter == " "]
    at = min(spaces, key=lambda i: abs(2 * i - len(name)), default=0)
    ways = ((name,), (name[:at], name[at + 1 :])) if at else ((name,),)

    def size(lines: Sequence[str]) -> float:
        high = max(height_m / (LINE_HEIGHT * len(lines)), WALL_LETTER_M / 2)
        return min(LETTER_M, width_m / max(map(_long, lines)), high)

    best = max(ways, key=size)
    return best, size(best)


def _scale_bar(schedule: Schedule, at: Point) -> Html:
    """Two metres, or five feet, in halves."""
    units = schedule.house.units
    count = 5 if units == "ft" else 2
    half, (x, y) = count * METRES_OF[units] / 2, at
    ends = ((0, BLACK), (1, WHITE))
    halves = (_rect(Box(x + i * half, y - 0.09, half, 0.09), fill, BLACK) for i, fill in ends)
    words = _text(f"{count} {units}", (x + 2 * half + 0.35, y - 0.04), 0.24, "currentColor")
    return tag("g", *halves, words)


def _north_arrow(schedule: Schedule, at: Point) -> Html:
    arrow = tag("path", d="M0 -0.3 L0.13 0.22 L0 0.12 L-0.13 0.22 Z", fill="currentColor")
    turn = f"translate({at[0]:.2f} {-at[1]:.2f}) rotate({schedule.house.north_deg:g})"
    return tag("g", arrow, _text("N", (0.0, 0.42), 0.2, "currentColor"), transform=turn)


# A wall as one stands before it

_PX_A_METRE_OF_WALL = 58
_NUMBER_M, _BELOW_M = 0.16, 0.4
"""The radius of a paint's number, and the strip below the floor that holds the trim's."""
_SPOT, _SAMPLE = Box(0.0, 0.35, 0.34, 0.34), Box(0.0, 1.25, 0.45, 0.45)
"""Where the wall's number is if it is free there, and a painted sample."""
_RADIATOR_LOW_M = 0.12
_WORDS_M, _LEAST_WORDS_M = 0.16, 0.12
"""Of what is written on a wall; across a hole no smaller than the last, else up along it."""
_HANDLE_M, _HANDLE = 1.0, Box(0.06, 0.0, 0.12, 0.03)
"""How high a door's handle is; how far from the leaf's edge, how long and thick."""
_DASHED = "0.12 0.06"


class _Hole(NamedTuple):
    box: Box
    what: Opening | Window
    unsure: bool = False
    """Whether only the wall is known that it is in, not where."""


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
    holes = _holes(schedule, room, wall)
    if any(hole.unsure for hole in holes):
        yield "dashed: place not measured"
    if key in held.accents:
        yield f"accent in {wording.paint(house, held.accents[key].paint)}"
    drawn = {each.key: each.unsure for each in _parts_on(schedule, room, wall, holes)}
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
    holes = _holes(schedule, room, wall)
    parts = list(_parts_on(schedule, room, wall, holes))
    taken, boxes = [hole.box for hole in holes], [part.box for part in parts]
    before = [*taken, *(part.box for part in parts if not part.covers)]
    long, high = wall.length_m, held.height_m or CEILING_M
    drawn = [
        _rect(Box(0.0, 0.0, long, high), _hex(schedule, _wall_paint(held, key))),
        _rect(Box(0.0, 0.0, long, SKIRTING_M), _hex(schedule, held.paints.trim)),
        *(_part_box(schedule, part) for part in parts if part.covers),
        *(mark for hole in holes for mark in _hole(schedule, room, hole)),
        *(_part_box(schedule, part) for part in parts if not part.covers),
        *(m for part in parts for m in _part(schedule, part, before if part.covers else taken)),
        *_numbers_on_wall(schedule, held, wall, [*taken, *boxes],
                          shown=all(part.unsure for part in parts)),
    ]  # fmt: skip
    if (room, key) in schedule.sample_places:
        drawn.append(_sample_place(long, [*taken, *boxes]))
    around = Box(-0.03, -_BELOW_M - 0.03, long + 0.06, high + _BELOW_M + 0.06)
    return _svg(around, _PX_A_METRE_OF_WALL, f"{held.name}, {caption}", *drawn)


def _wall_paint(room: Room, key: str) -> str | None:
    accent = room.accents.get(key)
    return accent.paint if accent else room.paints.walls


def _holes(schedule: Schedule, room: str, wall: Wall) -> list[_Hole]:
    """Openings and windows of a wall; openings without a place where nothing else is."""
    house, elevations, long = schedule.house, schedule.elevations, wall.length_m
    found, loose = [], []
    for each in house.rooms[room].windows.values():
        if each.wall == wall.key:
            left = _from_left(wall, each.along_m, each.width_m)
            found.append(_Hole(Box(left, each.sill_m, each.width_m, each.height_m), each))
    placed = moved_segment((wall.start_m, wall.end_m), elevations.plan.rooms[room].at_m)
    for key, opening in schedule.study.graph.openings_of(room).items():
        high, segment = elevations.hole_height_m(key), elevations.in_wall_m(room, key)
        if segment is None and wall_in(opening, room) == wall.key:
            wide = min(opening.width_m or DRAWN_M, long)
            loose.append(_Hole(Box((long - wide) / 2, 0.0, wide, high), opening, unsure=True))
        elif segment and (span := span_along(placed, segment)):
            wide = span[1] - span[0]
            found.append(_Hole(Box(_from_left(wall, span[0], wide), 0.0, wide, high), opening))
    for hole in loose:
        place = _free(hole.box, (0.0, long), 0.0, [each.box for each in found])
        found.append(hole._replace(box=place or hole.box))
    return found


def _from_left(wall: Wall, along_m: float, width_m: float) -> float:
    """From the left end as seen from inside; all walls but "n" and "w" start at the right."""
    return along_m if wall.key in {"n", "w"} else wall.length_m - along_m - width_m


def _parts_on(
    schedule: Schedule, room: str, wall: Wall, holes: Sequence[_Hole]
) -> Iterator[_PartOnWall]:
    """Panelling, paper and tiles from the floor up; a radiator below the largest window.

    One that names no wall runs along them all, or is below the largest window of the room.
    """
    held, long = schedule.house.rooms[room], wall.length_m
    windows = sorted(held.windows.values(), key=window_area_m2, reverse=True)
    lit = windows[0].wall if windows else None
    for key, part in held.parts.items():
        area = schedule.part_m2(room, key)
        if area is None or part.wall not in {None, wall.key}:
            continue
        if part.kind in ON_WALL:
            yield _covering(held, wall, key, flat_m2(part, area))
        elif part.kind == "radiator" and wall.key == (part.wall or lit):
            width = min(flat_m2(part, area) / part.count / RADIATOR_HEIGHT_M, long)
            glass = [hole.box for hole in holes if isinstance(hole.what, Window)]
            below = max(glass, key=lambda box: box.width * box.high, default=Box(0, 0, long, 0))
            left = below.left + (below.width - width) / 2
            box = Box(min(max(left, 0.0), long - width), _RADIATOR_LOW_M, width, RADIATOR_HEIGHT_M)
            doors = [hole.box for hole in holes if hole.box.low == 0.0]
            yield _PartOnWall(key, part, _free(box, (0.0, long), box.low, doors) or box)


def _covering(room: Room, wall: Wall, key: str, flat_m2_: float) -> _PartOnWall:
    """As high as its area is along the length that it is given, the wall's or the room's."""
    part, long, full = room.parts[key], wall.length_m, room.height_m or CEILING_M
    along = (part.length_m or long) if part.wall else (perimeter_m(room) or long)
    width, high = min(along, long), min(flat_m2_ / along, full)
    return _PartOnWall(key, part, Box(0.0, 0.0, width, high), width < long or high < full)


def _part_box(schedule: Schedule, drawn: _PartOnWall) -> Html:
    """Dashed where its place is not measured."""
    fill = _hex(schedule, drawn.part.paint)
    return _rect(drawn.box, fill, stroke_dasharray=_DASHED if drawn.unsure else None)


def _part(schedule: Schedule, drawn: _PartOnWall, taken: Sequence[Box]) -> Iterator[Html]:
    """Its name, and its number where it is painted, where nothing is before it."""
    box, part = drawn.box, drawn.part
    words, ink = wording.part_name(drawn.key, part), ink_on(_hex(schedule, part.paint))
    size = min(_WORDS_M, 0.5 * box.high, 0.9 * box.width / _long(words))
    width = max(_long(words) * size, 2 * _NUMBER_M)
    high = 2 * _NUMBER_M + 1.5 * size if part.paint else 1.5 * size
    left, low = box.left + (box.width - width) / 2, box.low + max(box.high - high, 0.0) / 2
    ends = box.left, box.left + box.width
    at = _free(Box(left, low, width, high), ends, box.low + box.high - high, taken)
    if at is None:
        return
    x, top = at.left + width / 2, at.low + high
    yield _text(words, (x, top - 0.75 * size), size, ink)
    if part.paint:
        yield _number(schedule, part.paint, (x, at.low + _NUMBER_M), _NUMBER_M)


def _hole(schedule: Schedule, room: str, hole: _Hole) -> Iterator[Html]:
    """A window has a bar, a door its leaf; an opening is crossed, so that grey prints show it."""
    (box, what, unsure), paints = hole, schedule.house.rooms[room].paints
    kind = "window" if isinstance(what, Window) else what.kind
    dashes = _DASHED if unsure else None
    left, low, right, top = box.left, box.low, box.left + box.width, box.low + box.high
    if kind != "open":
        sill = CASING_M if kind == "window" else 0.0
        cased = Box(
            left - CASING_M, low - sill, box.width + 2 * CASING_M, box.high + CASING_M + sill
        )
        yield _rect(cased, _hex(schedule, paints.trim), stroke_dasharray=dashes)
    fills = {"window": GLASS, "glazed": GLASS, "doorway": _hex(schedule, paints.doors)}
    fill = fills.get(kind, HOLE)
    yield _rect(box, fill, stroke_dasharray=dashes)
    if fill == GLASS:
        middle_x = left + box.width / 2
        yield _stroke(((middle_x, low), (middle_x, top)))
    elif kind != "doorway":
        yield _stroke(((left, low), (right, top)))
        yield _stroke(((left, top), (right, low)))
    if isinstance(what, Opening):
        yield from _leaf(schedule, room, box, what, fill)


def _leaf(schedule: Schedule, room: str, box: Box, opening: Opening, fill: str) -> Iterator[Html]:
    """Where it leads; of a door its handle at the latch side, and its paint's number."""
    first, second = opening.between
    words = f"to {schedule.house.rooms[second if room == first else first].name}"
    # Who stands in the second room has the hinge at the other hand.
    is_door, hung_left = opening.kind == "doorway", (opening.hinge != "right") == (room == first)
    size = min(_WORDS_M, 0.9 * box.width / _long(words))
    upright = size < _LEAST_WORDS_M
    middle_x, side = box.left + box.width / 2, 1 if hung_left or not is_door else -1
    if upright:
        size = min(_WORDS_M, 0.9 * box.high / _long(words))
        x = middle_x - side * max(box.width / 2 - 0.7 * _WORDS_M, 0.0)
        written = _text(words, (0.0, 0.0), size, ink_on(fill), halo=fill)
        turn = f"translate({x:.2f} {-box.low - box.high / 2:.2f}) rotate(-90)"
        yield tag("g", written, transform=turn)
    else:
        yield _text(words, (middle_x, box.low + 0.75 * box.high), size, ink_on(fill), halo=fill)
    if is_door:
        x = middle_x + side * (box.width / 2 - _HANDLE.left - _HANDLE.width / 2)
        yield _rect(_HANDLE._replace(left=x - _HANDLE.width / 2, low=box.low + _HANDLE_M), LINE)
    if is_door and (paint := schedule.house.rooms[room].paints.doors):
        x = middle_x + side * (0.08 if upright else 0.0)
        yield _number(schedule, paint, (x, box.low + 0.35 * box.high), _NUMBER_M)


def _numbers_on_wall(
    schedule: Schedule, room: Room, wall: Wall, taken: Sequence[Box], *, shown: bool
) -> Iterator[Html]:
    """Of the wall where something of it is `shown`, of the trim below the skirting."""
    paint, trim = _wall_paint(room, wall.key), room.paints.trim
    if paint and shown:
        spot = _SPOT._replace(left=(wall.length_m - _SPOT.width) / 2)
        high = (room.height_m or CEILING_M) - spot.high
        at = _free(spot, (0.0, wall.length_m), high, taken) or spot
        yield _number(schedule, paint, (at.left + at.width / 2, at.low + at.high / 2), _NUMBER_M)
    if trim:
        yield _stroke(((_NUMBER_M, 0.5 * SKIRTING_M), (_NUMBER_M, -_BELOW_M / 2)))
        yield _number(schedule, trim, (_NUMBER_M, -_BELOW_M / 2), _NUMBER_M)


def _sample_place(length: float, taken: Sequence[Box]) -> Html:
    """Beside what reaches its height, windows and all that is below them too."""
    columns = [
        Box(each.left, 0.0, each.width, each.low + each.high)
        for each in taken
        if each.low + each.high > _SAMPLE.low
    ]
    middle_ = _SAMPLE._replace(left=(length - _SAMPLE.width) / 2)
    box = _free(middle_, (0.0, length), _SAMPLE.low, columns)
    return _rect(box or middle_, WHITE, stroke_dasharray="0.06 0.04")
