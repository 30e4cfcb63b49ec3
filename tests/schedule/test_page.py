"""The page: what stands on the plan, in the strips and in the pictures."""

import datetime as dt
import re

import pytest
from shapely import LineString, Polygon, box

from housemap.checks import report_of
from housemap.file import read_house
from housemap.model.edits import assign
from housemap.model.house import House
from housemap.plan.floor_plan import PlacedRoom
from housemap.schedule.document import Schedule, schedule_of
from housemap.schedule.page import as_html
from housemap.schedule.page.plan import LETTER_M, LETTER_WIDTH, _across, _fitting
from housemap.schedule.page.views import MOST
from tests.support.project import DEMO

_TEXT = re.compile(
    r'<text x="([-\d.]+)" y="([-\d.]+)" fill="#\w+" font-size="([\d.]+)">(.*?)</text>'
)


def schedule(house: House) -> Schedule:
    return schedule_of(report_of(house, deep=False), dt.date(2026, 5, 2))


@pytest.fixture(scope="module")
def demo() -> Schedule:
    return schedule(read_house(DEMO))


def test_every_name_lies_within_its_room(demo: Schedule) -> None:
    """By shapely, in a letter width that is wide for sans-serif faces."""
    rooms = [Polygon(room.outline_m) for room in demo.study.plan.rooms.values()]
    found = _TEXT.findall(as_html(demo))
    assert len(found) >= len(demo.house.rooms)
    for x, y, size, text in found:
        half, high = len(text) * float(size) * LETTER_WIDTH / 2, float(size)
        low = -float(y)
        drawn = box(float(x) - half, low, float(x) + half, low + 0.7 * high)
        assert any(room.buffer(0.01).contains(drawn) for room in rooms), text


def test_a_name_is_as_large_as_it_fits_in_one_line_or_two() -> None:
    assert _fitting("Hall", 3.0) == (("Hall",), LETTER_M)
    assert _fitting("Garden bedroom", 3.0)[0] == ("Garden bedroom",)
    lines, size = _fitting("Garden bedroom", 1.0)
    assert lines == ("Garden", "bedroom")
    assert size == pytest.approx(1.0 / (len("bedroom") * LETTER_WIDTH))
    assert _fitting("", 1.0)[1] == LETTER_M


def test_a_room_reaches_as_far_as_its_walls_on_either_side() -> None:
    """An L, against the line cut by shapely."""
    outline = ((0.0, 0.0), (5.0, 0.0), (5.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0))
    room = PlacedRoom(0, (0.0, 0.0), outline, measured=True, sized=True)
    for place in ((1.0, 4.0), (4.0, 1.0), (0.2, 5.5)):
        line = LineString([(-9.0, place[1]), (9.0, place[1])])
        west, _, east, _ = Polygon(outline).intersection(line).bounds
        assert _across(room, place) == pytest.approx((west, east))


def test_rooms_whose_walls_have_a_colour_are_pictured_first(demo: Schedule) -> None:
    pictured = re.findall(r'alt="([^"]*) as seen from', as_html(demo))
    assert len(pictured) == MOST
    bare = {room.name for room in demo.house.rooms.values() if room.paints.walls is None}
    assert bare
    assert not bare & set(pictured)
    house = demo.house
    for room in house.rooms:
        house = assign(house, room, "walls", None)
    unpainted = schedule(house)
    assert len(re.findall(r"as seen from", as_html(unpainted))) == MOST


def test_a_number_stands_in_a_strip_only_where_there_is_room(demo: Schedule) -> None:
    parts = re.findall(
        r'<div style="flex:([\d.]+) 1 0[^>]*?( class="thin")?>(\d*)</div>', as_html(demo)
    )
    assert parts
    for size, thin, number in parts:
        digits = len(number) or 2
        assert bool(number) or float(size) < 0.02
        assert bool(thin) == (float(size) < 0.025 * digits) or not number
