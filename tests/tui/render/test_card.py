"""The card of a room as rows: every fact in words and numbers, at any width."""

from dataclasses import replace

import pytest

from housemap.model.edits import assign, put
from housemap.model.house import House, Room
from housemap.tui.map.card_drawing import CardView, card_rows
from housemap.tui.render.cells import Row, text_of, width_of
from housemap.tui.render.look import DARK, UNICODE, Look
from housemap.tui.render.shades import shades_of
from housemap.workbench.session import Session
from tests.support.finding import CLASH
from tests.support.houses import paint, room, small_house
from tests.support.screens import shallow_report


def card_of(house: House, name: str, width: int = 48, *, reported: bool = True) -> str:
    return text_of(rows_of(house, name, width, reported=reported))


def rows_of(house: House, name: str, width: int, *, reported: bool = True) -> list[Row]:
    session = Session.of(house)
    session.select(name)
    if reported:
        session.report = shallow_report(house, None)
    return card_rows(_view(session), width)


def _view(session: Session) -> CardView:
    report = session.report if session.report_is_current else None
    return CardView(
        session.shown,
        str(session.selection.room),
        session.selection.surface,
        shades_of(session),
        report,
        Look(DARK, UNICODE),
    )


def test_it_tells_name_level_use_role_and_size() -> None:
    card = card_of(small_house(), "hall")
    for words in ("Hall", "level 0, hall, backbone", "1.80 m x 5.20 m, 9.4 m2"):
        assert words in card


def test_a_room_without_measures_says_so() -> None:
    assert "not measured" in card_of(small_house(), "study")


def test_a_paint_has_name_code_lrv_undertone_and_notation() -> None:
    card = card_of(small_house(), "hall")
    assert "Oat Ladle A-102" in card
    assert "LRV 63" in card
    assert "grey" in card
    assert "2.2Y" in card


def test_surfaces_in_one_paint_stand_together_with_their_keys() -> None:
    house = small_house()
    assert "2 ceiling, 3 trim, 4 doors" in card_of(house, "kitchen").replace("\n", " ")


def test_the_chosen_surface_is_marked() -> None:
    session = Session.of(small_house())
    session.select_surface("trim")
    assert "▸3 trim" in text_of(card_rows(_view(session), 48))


def test_what_stays_is_listed() -> None:
    card = card_of(small_house(), "hall")
    assert "you are keeping" in card
    assert "Oak boards" in card


def test_it_tells_what_is_seen_how_and_how_far_apart_the_walls_are() -> None:
    house = small_house()
    card = card_of(house, "hall")
    line = next(line for line in card.splitlines() if "Kitchen" in line)
    assert "doorway" in line
    assert "\N{MINUS SIGN}42" in line  # LRV 21 less LRV 63
    same = card_of(assign(house, "kitchen", "walls", "oat"), "hall")
    line = next(line for line in same.splitlines() if "Kitchen" in line)
    assert line.split()[-2:] == ["0.0", "0"]


def test_findings_are_told_in_sentences_with_a_sign_and_a_letter() -> None:
    assert "to look at" in card_of(CLASH, "hall")
    left = card_of(small_house(), "kitchen")
    assert "to do" in left
    assert "to look at" not in left, "what is left to do is counted as no finding"


def test_before_the_report_it_says_what_it_waits_for() -> None:
    card = card_of(small_house(), "hall", reported=False)
    assert "computing what it sees" in card
    assert "Oat Ladle" in card


@pytest.mark.parametrize("width", [34, 48, 80])
@pytest.mark.parametrize("name", ["hall", "kitchen", "study"])
def test_no_row_is_wider_than_the_card(width: int, name: str) -> None:
    for row in rows_of(small_house(), name, width):
        assert width_of(row) <= width


@pytest.mark.parametrize("name", ["[/]", "\x1b]0;x\x07", "[@click=app.quit]x", "台所" * 20])
def test_hostile_names_are_only_read(name: str) -> None:
    house = House(
        rooms={"a": room(name, "p")},
        paints={"p": replace(paint(name=name), code=name)},
    )
    for row in rows_of(house, "a", 40):
        assert "".join(run.text for run in row).isprintable()


def test_outdoors_there_are_no_walls_to_paint() -> None:
    house = put(small_house(), "rooms", "out", Room("Outside", use="outdoor"))
    text = card_of(house, "out")
    assert "No walls to paint." in text
    assert "4 doors" in text
    assert "ceiling" not in text
