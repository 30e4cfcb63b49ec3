"""Rooms come to the screen at scale, walls on one line, and none so small that it vanishes."""

from hypothesis import given
from hypothesis import strategies as st

from housemap.model.house import Point
from housemap.tui.map.layout import (
    LEAST_COLUMNS,
    LEAST_ROWS,
    Port,
    enlarged_frame,
    fitting_frame,
    follow,
    frame_of,
)


def box(x: float, y: float, width: float, height: float) -> tuple[Point, ...]:
    return (x, y), (x + width, y), (x + width, y + height), (x, y + height)


TWO = [box(0, 0, 4, 3), box(4.1, 0, 2, 3)]

boxes = st.builds(
    box,
    st.integers(0, 60).map(lambda n: n / 2),
    st.integers(0, 60).map(lambda n: n / 2),
    st.integers(1, 16).map(lambda n: n / 2),
    st.integers(1, 16).map(lambda n: n / 2),
)


def test_a_metre_is_twice_as_many_columns_as_rows() -> None:
    frame = frame_of(TWO, 4.0, 0.1)
    (left, bottom), (right, _), (_, top), _ = frame.snapped(TWO[0])
    assert right - left == 32
    assert bottom - top == 12


def test_both_sides_of_a_wall_are_drawn_on_one_line() -> None:
    frame = frame_of(TWO, 4.0, 0.1)
    assert frame.snapped(TWO[0])[1][0] == frame.snapped(TWO[1])[0][0]


def test_north_is_up() -> None:
    frame = frame_of([box(0, 0, 2, 2), box(0, 2, 2, 2)], 3.0, 0.0)
    south, north = frame.snapped(box(0, 0, 2, 2)), frame.snapped(box(0, 2, 2, 2))
    assert max(y for _, y in north) == min(y for _, y in south)


@given(st.lists(boxes, min_size=1, max_size=12), st.floats(0.05, 6))
def test_no_room_is_lost_however_small_the_map(
    rooms: list[tuple[Point, ...]], scale: float
) -> None:
    frame = frame_of(rooms, scale, 0.1)
    for room in rooms:
        xs, ys = zip(*frame.snapped(room), strict=True)
        assert max(xs) - min(xs) >= LEAST_COLUMNS
        assert max(ys) - min(ys) >= LEAST_ROWS


@given(st.lists(boxes, min_size=1, max_size=12))
def test_rooms_keep_their_order(rooms: list[tuple[Point, ...]]) -> None:
    frame = frame_of(rooms, 2.0, 0.1)
    assert list(frame.x.cells) == sorted(frame.x.cells)
    assert list(frame.y.lines_m) == sorted(frame.y.lines_m)


@given(st.lists(boxes, min_size=1, max_size=4))
def test_a_small_level_fits_into_the_map(rooms: list[tuple[Point, ...]]) -> None:
    frame = fitting_frame(rooms, 110, 44, 0.1)
    assert frame.columns <= 110
    assert frame.rows <= 44


def test_what_fits_stands_in_the_middle() -> None:
    frame = fitting_frame(TWO, 60, 20, 0.1)
    port = follow(frame, None, None, 80, 24)
    assert port.column == -((80 - frame.columns) // 2)
    assert port.row == -((24 - frame.rows) // 2)


def test_an_enlarged_map_shows_the_selected_room() -> None:
    rooms = [box(x * 4, y * 3, 4, 3) for x in range(8) for y in range(8)]
    frame = frame_of(rooms, 4.0, 0.1)
    port: Port | None = None
    for room in rooms:
        port = follow(frame, room, port, 60, 20)
        xs, ys = zip(*frame.snapped(room), strict=True)
        assert port.column <= min(xs)
        assert max(xs) <= port.column + port.columns
        assert port.row <= min(ys)
        assert max(ys) <= port.row + port.rows


def test_the_map_stays_still_while_the_room_is_in_view() -> None:
    rooms = [box(x * 4, 0, 4, 3) for x in range(20)]
    frame = frame_of(rooms, 4.0, 0.1)
    first = follow(frame, rooms[10], None, 130, 20)
    assert follow(frame, rooms[11], first, 130, 20) == first


def test_enlarging_a_level_that_does_not_fit_enlarges_it() -> None:
    rooms = [box(x * 4, 0, 4, 3) for x in range(40)]
    fitting = fitting_frame(rooms, 40, 20, 0.1)
    enlarged = enlarged_frame(rooms, fitting, 1.3, 0.1)
    assert enlarged.columns > fitting.columns
