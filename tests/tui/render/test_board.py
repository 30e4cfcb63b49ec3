"""The paints in their proportions, in whole columns of the screen."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.checks import report_of
from housemap.file.reader import read_house
from housemap.model.edits import set_limit
from housemap.schedule.document import schedule_of
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import NO_GREYS, Look
from housemap.tui.render.page import columns_of
from housemap.tui.render.shades import Shades
from housemap.tui.tasks.schedule import (
    ScheduleView,
    board_rows,
    schedule_rows,
)
from tests.support.houses import grid_house, small_house
from tests.support.lit_houses import lit_house
from tests.support.project import DEMO

SHARES = st.lists(st.one_of(st.just(0.0), st.floats(0.01, 100.0)), min_size=1, max_size=20)


@given(SHARES, st.integers(20, 200))
def test_a_strip_is_filled_and_every_paint_that_has_a_share_is_in_it(
    shares: list[float], width: int
) -> None:
    sizes = columns_of(shares, width)
    if sum(shares) > 0.0:
        assert sum(sizes) == width
        assert all(size >= 1 for size, share in zip(sizes, shares, strict=True) if share > 0.0)
    assert all(size == 0 for size, share in zip(sizes, shares, strict=True) if share == 0.0)


@given(st.lists(st.floats(1.0, 10.0), min_size=1, max_size=8))
def test_columns_are_within_one_of_true_proportion(shares: list[float]) -> None:
    exact = [share / sum(shares) * 200 for share in shares]
    assert all(abs(a - b) <= 1.0 for a, b in zip(columns_of(shares, 200), exact, strict=True))


@given(SHARES, st.integers(24, 200))
def test_a_larger_share_has_no_fewer_columns_than_a_smaller_one_less_one(
    shares: list[float], width: int
) -> None:
    sizes = columns_of(shares, width)
    for first, one in zip(shares, sizes, strict=True):
        assert all(one >= other - 1 for s, other in zip(shares, sizes, strict=True) if s <= first)


def test_rows_fit_every_width_and_tell_each_paint() -> None:
    report = report_of(small_house())
    schedule = schedule_of(report, dt.date(2026, 5, 2))
    shades = Shades("day", report.house, report)
    for look in (Look(), Look(NO_GREYS)):
        for width in (80, 100, 160):
            board = board_rows(ScheduleView(schedule, shades, look, by_view=True), width, 24)
            pages = schedule_rows(ScheduleView(schedule, shades, look), width).rows
            assert all(width_of(row) <= width for row in (*board, *pages))
    text = "\n".join("".join(run.text for run in row) for row in board)
    assert all(schedule.swatch(share.paint).name in text for share in schedule.board)


def test_the_shift_from_day_to_lamplight_of_each_paint_is_listed() -> None:
    """The same figure by which the check of lamplight judges the wall."""
    house = set_limit(lit_house(), "turn", "shift", 0.1)
    report = report_of(house)
    [found] = [f for f in report.findings if f.check == "turn" and f.rooms == ("hall",)]
    view = ScheduleView(
        schedule_of(report, dt.date(2026, 5, 2)), Shades("reference", house, report), Look()
    )
    shares = {share.paint: share for share in view.schedule.board}
    assert found.value is not None
    shift = view.shift(shares[found.places[0].paint])
    assert shift is not None
    assert abs(shift - found.value) < 0.05
    assert f"{shift:.1f}" in text_of(board_rows(view, 100, 24))


def test_parts_of_the_schedule_begin_with_their_titles() -> None:
    report = report_of(grid_house(2))
    schedule = schedule_of(report, dt.date(2026, 5, 2))
    view = ScheduleView(schedule, Shades("reference", report.house, report), Look())
    made = schedule_rows(view, 100)
    titles = ["".join(run.text for run in made.rows[start]).strip() for start, *_ in made.places]
    assert "Cautions" in titles
    assert "To buy" in titles
    assert {room.name for room in report.house.rooms.values()} <= set(titles)


@pytest.mark.parametrize("width", [80, 100, 120, 160])
def test_the_lines_of_rooms_have_the_whole_name_of_their_paint(width: int) -> None:
    house = read_house(DEMO)  # its Cloakroom has a primer and three coats: the widest figures
    schedule = schedule_of(report_of(house, deep=False), dt.date(2026, 5, 2))
    view = ScheduleView(schedule, Shades("reference", house, None), Look())
    text = text_of(schedule_rows(view, width).rows)
    rows = text[text.index("Bathroom") : text.index("To buy")].splitlines()
    named = [row for row in rows if " coats " in row]
    assert len(named) == len(schedule.quantities.lines)
    for row, line in zip(named, schedule.quantities.lines, strict=True):
        assert f"{house.paints[line.paint].name} (" in row
        assert width == 80 or "…" not in row
