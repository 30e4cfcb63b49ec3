"""On the map: where one stands, what is seen from there, and how long a metre is."""

from dataclasses import replace

import pytest

from housemap.file.reader import read_house
from housemap.model.house import House, Point, Units, Visit
from housemap.plan.placing import place
from housemap.tui.map.drawing import standing_stamps
from housemap.tui.map.layout import fitting_frame, follow, geometry_of, rooms_of_level
from housemap.tui.map.picture import (
    MOST_COLUMNS,
    Picture,
    bar_text,
    free_ground,
    scale_stamps,
    way_arrow,
)
from housemap.tui.render.cells import Stamp, runs_of, text_of
from housemap.tui.render.look import ASCII, NO_GREYS, UNICODE, Look
from housemap.tui.render.shades import blocks_of, shades_of
from housemap.workbench.session import Session, Standing
from housemap.workbench.walker import Walker
from tests.support.houses import room, small_house
from tests.support.project import DEMO

PLAIN = Look(NO_GREYS, UNICODE)
BRAILLE = range(0x2800, 0x2900)


def picture_of(house: House, look: Look = PLAIN, columns: int = 100, rows: int = 40) -> Picture:
    plan = place(house)
    outlines = [plan.rooms[key].outline_m for key in rooms_of_level(plan, 0)]
    frame = fitting_frame(outlines, columns - 2, rows - 1, house.wall_thickness_m)
    geometry = geometry_of(house, plan, 0, frame, follow(frame, None, None, columns, rows))
    return Picture(geometry, blocks_of(shades_of(Session.of(house))), look)


def stamps(picture: Picture, house: House, standing: Standing | None) -> list[Stamp]:
    return [*standing_stamps(picture, place(house), standing)]


def square(at: Point, size: float) -> tuple[Point, ...]:
    x, y = at
    return (x, y), (x + size, y), (x + size, y + size), (x, y + size)


def test_dots_lie_over_the_rooms_that_are_seen_and_no_others() -> None:
    house = read_house(DEMO)
    picture = picture_of(house)
    walker = Walker(Session.of(house), "study")
    walker.look_to("living")
    standing = walker.standing(all_round=True)
    geometry = picture.geometry
    dotted = {
        geometry.room_at(stamp.column, stamp.row)
        for stamp in stamps(picture, house, standing)
        if ord(stamp.text) in BRAILLE
    }
    seen = walker.views()
    assert seen is not None
    assert "study" in dotted
    assert dotted - {"study", None} <= set(seen.best)
    assert "hall" in dotted


def test_an_arrow_stands_where_one_stands_and_points_where_one_looks() -> None:
    house = small_house()
    picture = picture_of(house)
    for toward, arrow in ((0.0, "↑"), (85.0, "→"), (181.0, "↓"), (270.0, "←"), (359.0, "↑")):
        standing = Standing("hall", (0.4, 0.6), toward, ())
        [stamp] = stamps(picture, house, standing)
        assert stamp.text == arrow
        assert picture.geometry.room_at(stamp.column, stamp.row) == "hall"


def test_the_arrow_keeps_clear_of_what_is_written() -> None:
    house = small_house()
    picture = picture_of(house)
    column, row = min(picture.written)
    for x in range(1, 17):
        standing = Standing("hall", (0.1 * x, 2.6), 0.0, ())
        [stamp] = stamps(picture, house, standing)
        assert (stamp.column, stamp.row) not in picture.written
    assert (column, row) in picture.written


def test_on_another_level_nothing_is_drawn() -> None:
    house = small_house()
    assert stamps(picture_of(house), house, Standing("study", (0.0, 0.0), 0.0, ())) == []
    assert stamps(picture_of(house), house, None) == []


def test_in_ascii_the_dots_and_the_arrow_are_ascii() -> None:
    house = small_house()
    picture = picture_of(house, Look(NO_GREYS, ASCII))
    standing = Standing("hall", (0.9, 1.0), 90.0, (square((0.2, 0.2), 1.2),))
    text = "".join(stamp.text for stamp in stamps(picture, house, standing))
    assert text.isascii()
    assert ">" in text


@pytest.mark.parametrize("ways", ["^>v<", "↑↗→↘↓↙←↖"])
def test_every_bearing_has_its_nearest_arrow(ways: str) -> None:
    step = 360 / len(ways)
    for k, arrow in enumerate(ways):
        for off in (-0.49, 0.0, 0.49):
            assert way_arrow((k + off) * step % 360, ways) == arrow


# The scale bar


@pytest.mark.parametrize("units", ["m", "ft"])
@pytest.mark.parametrize("scale", [0.3, 0.9, 2.0, 3.3, 7.0])
def test_the_scale_bar_is_as_long_as_it_says(scale: float, units: Units) -> None:
    """Two columns are as wide as one row is high; a foot is 0.3048 m by definition (1959)."""
    text = bar_text(scale, units, Look())
    bar, length, unit = text.split()
    metres = float(length) * (0.3048 if unit == "ft" else 1.0)
    assert unit == units
    assert abs(len(bar) - metres * scale * 2) <= 0.5
    assert len(bar) <= MOST_COLUMNS or scale > 5


def test_a_length_of_the_plan_is_drawn_as_long_as_the_bar() -> None:
    house = House(rooms={"a": room("A", size_m=(10.0, 6.0), at_m=(0.0, 0.0))})
    picture = picture_of(house)
    bar, length, _ = bar_text(picture.geometry.frame.scale, "m", PLAIN).split()
    drawn = picture.geometry.frame.columns
    assert drawn * float(length) / 10.0 == pytest.approx(len(bar), abs=1.0)


def test_the_bar_stands_on_the_ground_or_not_at_all() -> None:
    house = small_house()
    for columns, rows in ((100, 40), (30, 12), (12, 6), (1, 1)):
        geometry = picture_of(house, columns=columns, rows=rows).geometry
        for stamp in scale_stamps(geometry, free_ground(geometry), "m", PLAIN):
            cells = range(stamp.column, stamp.column + stamp.width)
            assert {geometry.room_at(column, stamp.row) for column in cells} == {None}
            assert stamp.column + stamp.width <= columns


def test_a_ticked_room_carries_the_tick_beside_its_name() -> None:
    picture = picture_of(small_house())
    text = text_of(runs_of(row) for row in picture.rows)
    assert "Hall ⌂" in text
    assert "Kitchen ⌂" not in text


def test_a_note_of_the_visit_has_a_sign_of_its_own() -> None:
    house = small_house()
    house = replace(house, visits={"hall": Visit(notes="Doors stick."), "kitchen": Visit()})
    text = text_of(runs_of(row) for row in picture_of(house).rows)
    assert "Hall ¶" in text
    assert "Kitchen ⌂" in text
