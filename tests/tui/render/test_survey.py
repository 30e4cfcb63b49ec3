"""What stands round the survey line fits any width, and marks the word that is wrong."""

from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.model.house import House
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import ASCII, NO_GREYS, Look
from housemap.tui.tasks.survey import (
    LINE_ROWS,
    LineView,
    SurveyCard,
    line_rows,
    prompt_of,
)
from housemap.workbench.session import Session
from housemap.workbench.survey.vocabulary import Fault, Hint
from tests.support.houses import small_house
from tests.support.strategies import houses

LOOKS = (Look(), Look(glyphs=ASCII), Look(NO_GREYS, ASCII))
widths = st.integers(10, 200)
looks = st.sampled_from(LOOKS)
words = st.text(max_size=60)
faults = st.none() | st.builds(Fault, st.integers(0, 30), st.integers(30, 60), words, st.booleans())
views = st.builds(
    LineView, words, words, st.integers(0, 40), words, st.lists(words, max_size=2).map(tuple),
    faults, st.lists(st.builds(Hint, words, words), max_size=9).map(tuple),
)  # fmt: skip


@given(views, widths, looks)
def test_the_rows_round_the_line_never_run_over(view: LineView, width: int, look: Look) -> None:
    rows = line_rows(view, width, look)
    assert len(rows) == LINE_ROWS
    assert all(width_of(row) <= width for row in rows)
    assert all(run.text.isprintable() for row in rows for run in row)


def test_the_marks_stand_under_the_word_and_the_words_beside_them() -> None:
    text = "n dorway 0.8"
    view = LineView("Hall", text, 0, fault=Fault(2, 8, "did you mean doorway?"))
    rows = text_of(line_rows(view, 80, Look())).split("\n")
    start = len(prompt_of("Hall", 80, Look())) + 2
    assert rows[1] == " " * start + "^^^^^^ did you mean doorway?"
    scrolled = text_of(line_rows(view._replace(scrolled=2), 80, Look())).split("\n")
    assert scrolled[1].index("^") == start - 2


def test_what_a_line_means_takes_two_rows_at_most_and_trouble_comes_first() -> None:
    long = " ".join(["the north wall of the hall"] * 20)
    rows = text_of(line_rows(LineView("Hall", "n", 0, long), 80, Look())).split("\n")
    assert rows[2].endswith("…")
    view = LineView("Hall", "n", 0, long, ("they do not close",))
    assert "▲ they do not close" in text_of(line_rows(view, 80, Look()))


def drawn(house: House, room: str | None, troubles: tuple[str, ...], look: Look, width: int) -> Any:
    """The rows beside the map, without a program."""
    session = Session.of(house)
    session.selection = session.selection._replace(room=room)
    surveyor = SimpleNamespace(troubles=lambda: troubles)
    owner: Any = SimpleNamespace(session=session, look=look, surveyor=surveyor)
    return SurveyCard(owner).draw(width)


@given(houses(), widths, looks)
def test_any_room_can_be_shown_wall_by_wall(house: House, width: int, look: Look) -> None:
    for room in [*house.rooms, None]:
        rows = drawn(house, room, ("they do not close",), look, width)
        assert all(width_of(row) <= width for row in rows)


def test_the_room_behind_an_opening_is_named_whole_before_its_figures() -> None:
    house = small_house()
    for width, words in (
        (38, "doorway 0.80 at 0.40 > Kitchen"),
        (30, "0.80 at 0.40 > Kitchen"),
        (22, "0.80 > Kitchen"),
        (16, "> Kitchen"),
    ):
        lines = text_of(drawn(house, "hall", (), Look(), width)).splitlines()
        assert [line.strip() for line in lines if "> Kitchen" in line][:1] == [words]


@pytest.mark.parametrize(("units", "words"), [("m", "at 1.2"), ("ft", "at 4'")])
def test_the_room_is_told_in_the_words_of_the_line(units: str, words: str) -> None:
    house = small_house(units=units)
    text = text_of(drawn(house, "hall", (), Look(), 48))
    assert words in text
    assert "doorway" in text
    assert "> Kitchen" in text
    assert "lamp 1400 lm 2700 K" in text
    assert "window" in text
    assert "does not fit" not in text
