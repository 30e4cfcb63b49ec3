"""What is put on the clipboard."""

from housemap.schedule.clipboard import paint_code, room_lines, shopping_list
from tests.support.papers import papers, papers_house


def test_a_paint_gives_its_order_code_else_its_code_else_its_name() -> None:
    house = papers_house()
    assert paint_code(house, "oat") == "OC-7"
    assert paint_code(house, "chalk") == "A-001"


def test_a_room_gives_a_line_a_surface() -> None:
    lines = room_lines(papers(), "study").splitlines()
    assert lines[0].startswith("Study, walls: Ember Jar (A-760), matt, 3 coats, ")
    assert any("north wall (accent)" in line for line in lines)


def test_the_shopping_list_has_tins_paints_and_primers() -> None:
    text = shopping_list(papers())
    assert "Stubble Row (A-102), matt, Wash-down emulsion" in text
    assert "Joinery base" in text
    assert not any(ord(letter) < 32 and letter != "\n" for letter in text)
