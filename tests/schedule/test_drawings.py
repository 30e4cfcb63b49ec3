"""What is drawn: the plan, strips, walls as one stands before them, and pictures."""

import datetime as dt
import re
from dataclasses import replace
from itertools import pairwise

import pytest
from shapely import LineString, Point, Polygon, box

from housemap.checks import report_of
from housemap.file.reader import read_house
from housemap.model.edits import assign
from housemap.model.house import (
    Accent,
    House,
    Opening,
    Part,
    Room,
    Side,
    SurfacePaints,
    Window,
)
from housemap.plan.floor_plan import PlacedRoom
from housemap.schedule.document import Schedule, schedule_of
from housemap.schedule.drawings import (
    LETTER_M,
    LETTER_WIDTH,
    across,
    elevation,
    fitting,
    plan,
    plan_caption,
    strip,
    walls_of,
)
from housemap.schedule.views import MOST_VIEWS
from housemap.study import study_of
from tests.support.houses import paint
from tests.support.project import DEMO

_TEXT = re.compile(
    r'<text x="([-\d.]+)" y="([-\d.]+)" fill="#\w+" font-size="([\d.]+)"[^>]*>(.*?)</text>'
)
_RECT = re.compile(
    r'<rect x="([-\d.]+)" y="([-\d.]+)" width="([\d.]+)" height="([\d.]+)" fill="(#\w+)"'
)


def schedule(house: House) -> Schedule:
    return schedule_of(report_of(house, deep=False), dt.date(2026, 5, 2))


@pytest.fixture(scope="module")
def demo() -> Schedule:
    return schedule(read_house(DEMO))


def two_rooms() -> House:
    """A door near the north end of the east wall, a window at the west end of the south one."""
    windows = {"w": Window("s", 0.3, 1.0, 1.2, 0.9)}
    paints = SurfacePaints(walls="oat", trim="white", doors="white")
    west = Room("West", size_m=(4.0, 3.0), height_m=2.5, at_m=(0.0, 0.0), paints=paints,
                windows=windows, accents={"w": Accent("moss")})  # fmt: skip
    east = Room("East", size_m=(2.0, 3.0), height_m=2.5)
    door = Opening(("west", "east"), "doorway", wall="e", along_m=2.0, to_wall="w", to_along_m=2.0,
                   width_m=0.8, height_m=2.0)  # fmt: skip
    return House(
        rooms={"west": west, "east": east},
        openings={"d": door},
        paints={
            "oat": paint("#d9d0bf", "Oat"),
            "white": paint("#ffffff", "White"),
            "moss": paint("#556644", "Moss"),
        },
        north_deg=30.0,
    )


def test_every_room_name_lies_within_its_room(demo: Schedule) -> None:
    """By shapely, in a letter width that is wide for sans-serif faces."""
    names = {word for room in demo.house.rooms.values() for word in (room.name, *room.name.split())}
    found = 0
    for level in demo.study.plan.levels():
        rooms = [Polygon(r.outline_m) for r in demo.study.plan.rooms.values() if r.level == level]
        for x, y, size, text in _TEXT.findall(plan(demo, level)):
            if text in names:
                found += 1
                drawn = _words_box(x, y, size, text)
                assert any(room.buffer(0.01).contains(drawn) for room in rooms), text
    assert found >= len(demo.house.rooms)


def test_the_number_of_each_wall_paint_lies_in_its_room(demo: Schedule) -> None:
    for level in demo.study.plan.levels():
        rooms = {k: r for k, r in demo.study.plan.rooms.items() if r.level == level}
        marks = [
            (Point(float(x), -float(y)), text)
            for x, y, _, text in _TEXT.findall(plan(demo, level))
            if text.isdecimal()
        ]
        for key, room in rooms.items():
            coat = demo.study.rooms[key].coats.get("walls")
            if coat:
                number = str(demo.numbers[coat.swatch.id])
                inside = {text for at, text in marks if Polygon(room.outline_m).contains(at)}
                assert number in inside, key


def test_the_letters_of_walls_keep_clear_of_names_and_numbers(demo: Schedule) -> None:
    letters = re.compile(r"[NESW]{1,2}\d?")
    for level in demo.study.plan.levels():
        drawn = re.sub(r'<g transform="translate.*?</g>', "", plan(demo, level))  # the arrow
        marks = [(_words_box(*each), each[3]) for each in _TEXT.findall(drawn)]
        named = [(place, text) for place, text in marks if not letters.fullmatch(text)]
        assert len(marks) > 2 * len(named)
        for place, text in marks:
            if letters.fullmatch(text):
                near = [name for taken, name in named if place.distance(taken) < 0.025]
                assert not near, text


def _words_box(x: str, y: str, size: str, text: str) -> Polygon:
    half, high = len(text) * float(size) * LETTER_WIDTH / 2, 0.7 * float(size)
    return box(float(x) - half, -float(y), float(x) + half, -float(y) + high)


def test_the_plan_shows_north_scale_walls_and_accents() -> None:
    drawn = plan(schedule(two_rooms()), 0)
    assert "rotate(30)" in drawn
    assert ">2 m<" in drawn
    assert {"NE", "SE", "SW", "NW"} <= {text for *_, text in _TEXT.findall(drawn)}
    assert 'stroke="#556644"' in drawn


def test_a_name_is_as_large_as_it_fits_in_one_line_or_two() -> None:
    assert fitting("Hall", 3.0) == (("Hall",), LETTER_M)
    assert fitting("Garden bedroom", 3.0)[0] == ("Garden bedroom",)
    lines, size = fitting("Garden bedroom", 1.0)
    assert lines == ("Garden", "bedroom")
    assert size == pytest.approx(1.0 / (len("bedroom") * LETTER_WIDTH))
    assert fitting("", 1.0)[1] == LETTER_M


def test_a_room_reaches_as_far_as_its_walls_on_either_side() -> None:
    """An L, against the line cut by shapely."""
    outline = ((0.0, 0.0), (5.0, 0.0), (5.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0))
    room = PlacedRoom(0, (0.0, 0.0), outline, measured=True, sized=True)
    for place in ((1.0, 4.0), (4.0, 1.0), (0.2, 5.5)):
        line = LineString([(-9.0, place[1]), (9.0, place[1])])
        west, _, east, _ = Polygon(outline).intersection(line).bounds
        assert across(room, place) == pytest.approx((west, east))


def test_left_and_right_are_those_of_who_stands_in_the_room() -> None:
    """Facing east, north is at the left; facing south, west is at the right (geometry)."""
    made = schedule(two_rooms())
    door = [r for r in _RECT.findall(elevation(made, "west", "e", "")) if float(r[2]) == 0.8]
    assert [float(r[0]) for r in door] == [pytest.approx(3.0 - 2.0 - 0.8)]
    glass = [r for r in _RECT.findall(elevation(made, "west", "s", "")) if float(r[2]) == 1.0]
    assert [float(r[0]) for r in glass] == [pytest.approx(4.0 - 0.3 - 1.0)]


def test_a_wall_seen_from_the_other_room_has_the_same_door() -> None:
    made = schedule(two_rooms())
    door = [r for r in _RECT.findall(elevation(made, "east", "w", "")) if float(r[2]) == 0.8]
    assert [float(r[0]) for r in door] == [pytest.approx(2.0)]


def _handles(drawn: str) -> list[float]:
    """Where handles begin, from the left: flat and about a metre above the floor."""
    rects = [tuple(map(float, rect[:4])) for rect in _RECT.findall(drawn)]
    return [x for x, y, width, height in rects if height < 0.05 < width and -1.2 < y < -0.9]


def test_a_door_has_a_leaf_with_its_handle_at_the_latch_side_from_either_room() -> None:
    """Hinge at the left hand of who looks from the first room: the handle is at the right."""
    house = two_rooms()
    sides: tuple[tuple[Side, bool], ...] = (("left", True), ("right", False))
    for hinge, at_right in sides:
        door = replace(house.openings["d"], hinge=hinge)
        made = schedule(replace(house, openings={"d": door}))
        [near] = _handles(elevation(made, "west", "e", ""))
        assert (near > 0.2 + 0.4) is at_right  # the door is 0.8 m wide and begins at 0.2 m
        [far] = _handles(elevation(made, "east", "w", ""))
        assert (far > 2.0 + 0.4) is not at_right
    cased = replace(house.openings["d"], kind="cased")
    assert not _handles(elevation(schedule(replace(house, openings={"d": cased})), "west", "e", ""))


def test_a_door_whose_place_in_its_wall_is_not_measured_is_drawn_dashed() -> None:
    house = two_rooms()
    door = replace(house.openings["d"], along_m=None, to_along_m=None)
    made = schedule(replace(house, openings={"d": door}))
    drawn, caption = elevation(made, "west", "e", ""), dict(walls_of(made, "west"))["e"]
    assert "door to East; dashed: place not measured" in caption
    assert len(_handles(drawn)) == 1
    assert drawn.count("stroke-dasharray") >= 2  # the casing and the leaf
    assert not _handles(elevation(made, "west", "n", ""))
    assert "dashed" not in dict(walls_of(schedule(house), "west"))["e"]


def test_walls_are_called_by_side_length_and_what_is_in_them() -> None:
    captions = dict(walls_of(schedule(two_rooms()), "west"))
    assert captions["e"] == "NE: north-east wall, 3.0 m, door to East; put a sample here"
    assert captions["s"].startswith("SE: south-east wall, 4.0 m, window")
    assert "accent in Moss" in captions["w"]


def test_a_wall_carries_the_numbers_of_its_paints() -> None:
    made = schedule(two_rooms())
    found = {text for *_, text in _TEXT.findall(elevation(made, "west", "e", ""))}
    assert {str(made.numbers["oat"]), str(made.numbers["white"]), "to East"} <= found


def test_the_place_of_a_sample_is_marked_clear_of_windows_and_doors(demo: Schedule) -> None:
    assert demo.testers
    for tester in demo.testers:
        for wall, _ in tester.walls:
            rects = _RECT.findall(elevation(demo, tester.room, wall, ""))
            [place] = [_box(r) for r in rects if r[4] == "#ffffff"]
            holes = [_box(r) for r in rects if r[4] in {"#eef3f6", "#f7f7f7"}]
            assert not any(place.intersects(hole) for hole in holes)


def _box(rect: tuple[str, ...]) -> Polygon:
    x, y, width, height = map(float, rect[:4])
    return box(x, y, x + width, y + height)


def test_an_opening_without_a_leaf_is_crossed_so_that_a_grey_print_shows_it() -> None:
    house = two_rooms()
    cased = replace(house, openings={"d": replace(house.openings["d"], kind="cased")})
    crossed = [elevation(schedule(each), "west", "e", "").count("<line") for each in (house, cased)]
    assert crossed[1] == crossed[0] + 2


def test_where_a_door_leads_is_written_large_enough_to_read(demo: Schedule) -> None:
    """1.5 mm high in print at 15 mm a metre: a letter's size of 0.1 m."""
    for room in demo.house.rooms:
        for wall, _ in walls_of(demo, room):
            drawn = elevation(demo, room, wall, "")
            sizes = re.findall(r'font-size="([\d.]+)"[^>]*>to ', drawn)
            assert all(float(size) >= 0.1 for size in sizes), (room, wall)


def test_a_wall_of_a_room_without_measures_is_not_drawn() -> None:
    house = two_rooms()
    bare = replace(house, rooms={**house.rooms, "attic": Room("Attic")})
    assert not walls_of(schedule(bare), "attic")


def test_rooms_whose_walls_have_a_colour_are_pictured_first(demo: Schedule) -> None:
    shown = demo.views.rooms
    assert len(shown) == MOST_VIEWS
    bare = {key for key, room in demo.house.rooms.items() if room.paints.walls is None}
    assert bare
    assert not bare & set(shown)
    house = demo.house
    for room in house.rooms:
        house = assign(house, room, "walls", None)
    assert len(schedule(house).views.rooms) == MOST_VIEWS


def test_a_view_is_a_picture_for_each_light(demo: Schedule) -> None:
    assert demo.views.pictures("living", ("day", "evening")).count("<img") == 2
    assert "by lamplight" in demo.views.pictures("living", ("evening",))


def test_pictures_are_the_same_without_the_rooms_whose_light_reaches_none_of_them() -> None:
    house = two_rooms()
    shut = replace(house.openings["d"], door="shut")
    dark = replace(house.rooms["west"], at_m=None)
    alone = replace(
        house,
        rooms={**house.rooms, "far": replace(dark, use="outdoor")},
        openings={"d": house.openings["d"], "s": replace(shut, between=("east", "far"), wall="e")},
    )
    views, whole = schedule(alone).views, study_of(alone)
    whole.lighting.compute()
    assert views.lit.house.rooms.keys() == {"west", "east"}
    for room in ("west", "east"):
        lights = views.lights(room)
        assert views.pictures(room, lights) == views.pictures(room, lights, whole)


def test_a_strip_is_as_wide_as_its_shares_and_every_part_has_its_number(demo: Schedule) -> None:
    """In it where there is room, else below it, with a line to its middle."""
    drawn = strip(demo, "by area")
    widths = [float(rect[2]) for rect in _RECT.findall(drawn)]
    assert sum(widths) == pytest.approx(1000.0, abs=1.0)
    numbers = re.findall(r'<text x="([\d.]+)" y="(-?[\d.]+)"[^>]*>(\d+)</text>', drawn)
    assert sorted(int(number) for *_, number in numbers) == [*range(1, len(widths) + 1)]
    starts = [sum(widths[:n]) for n in range(len(widths) + 1)]
    middles = {n: (starts[n - 1] + starts[n]) / 2 for n in range(1, len(widths) + 1)}
    lines = re.findall(r'<line x1="([\d.]+)" y1="0.00" x2="([\d.]+)"', drawn)
    below = [(float(x), int(number)) for x, y, number in numbers if float(y) > 0]
    assert below
    assert [float(x) for _, x in lines] == [x for x, _ in below]
    for (x, _), (_, number) in zip(lines, below, strict=True):
        assert float(x) == pytest.approx(middles[number], abs=0.1)
    assert all(b - a > 24 for (a, _), (b, _) in pairwise(below)), "no number lies on another"
    assert all(12 < x < 988 for x, _ in below)
    for x, y, number in numbers:
        if float(y) < 0:
            assert starts[int(number) - 1] < float(x) < starts[int(number)]
            assert widths[int(number) - 1] >= 11 * len(number)


def with_parts(house: House, **parts: Part) -> Schedule:
    west = replace(house.rooms["west"], parts=parts)
    return schedule(replace(house, rooms={**house.rooms, "west": west}))


def test_panelling_tiles_and_radiators_are_drawn_where_they_usually_are() -> None:
    """Panelling from the floor up as high as its area makes it, a radiator below the window."""
    made = with_parts(
        two_rooms(),
        dado=Part("panelling", wall="s", area_m2=4.4, paint="moss"),
        heater=Part("radiator", paint="white"),
        splash=Part("tile", wall="n"),
        rest=Part("paper", wall="e", length_m=1.0),
    )
    captions = dict(walls_of(made, "west"))
    drawn = {wall: _RECT.findall(elevation(made, "west", wall, "")) for wall in captions}
    boxes = {wall: [tuple(map(float, r[:4])) for r in rects] for wall, rects in drawn.items()}
    assert (0.0, -1.1, 4.0, 1.1) in boxes["s"]  # 4.4 m2 along 4 m
    assert (2.7, -0.72, 1.0, 0.6) in boxes["s"]  # the window's middle is at 3.2 m
    assert not any(box[2:] == (1.0, 0.6) for wall in "new" for box in boxes[wall])
    assert (0.0, -2.5, 4.0, 2.5) in boxes["n"][1:]
    assert (0.0, -1.0, 1.0, 1.0) in boxes["e"]
    assert "radiator 1.2 m2, place not measured" in captions["s"]
    assert "tiled wall 10.0 m2" in captions["n"]
    assert "not measured" not in captions["n"]
    numbers = {text for *_, text in _TEXT.findall(elevation(made, "west", "s", ""))}
    assert {"panelling", str(made.numbers["moss"])} <= numbers


def test_a_plan_says_that_rooms_are_not_to_scale_only_where_one_has_no_size() -> None:
    house = two_rooms()
    assert plan_caption(schedule(house), 0) == "Ground level"
    loose = replace(house, openings={"d": Opening(("west", "east"), "doorway")})
    assert "not to scale" not in plan_caption(schedule(loose), 0)
    sized = replace(house.rooms["east"], size_m=None)
    unsized = replace(loose, rooms={**house.rooms, "east": sized})
    assert plan_caption(schedule(unsized), 0) == "Ground level, some rooms not to scale"
