"""What is put on the clipboard."""

from dataclasses import replace

from housemap.model.house import House, Room
from housemap.schedule.as_text import paint_code, room_line, shopping_list
from tests.support.papers import papers, papers_house


def test_a_paint_gives_its_order_code_else_its_code_else_its_name() -> None:
    paints = papers_house().paints
    assert paint_code(paints["oat"]) == "OC-7"
    assert paint_code(paints["chalk"]) == "A-001"
    assert paint_code(replace(paints["chalk"], code="")) == "Quarry Chalk"


def test_a_room_gives_one_line_of_every_surface_with_paint_code_and_sheen() -> None:
    line = room_line(papers_house(), "study")
    assert line.startswith("Study: walls Ember Jar (A-760), matt; ")
    assert "; north wall (accent) " in line
    assert "\n" not in line
    assert room_line(House(rooms={"attic": Room("Attic")}), "attic") == "Attic: no paint yet"


def test_the_shopping_list_has_tins_paints_and_primers() -> None:
    text = shopping_list(papers())
    assert "Stubble Row (A-102), matt, Wash-down emulsion" in text
    assert "Joinery base" in text
    assert not any(ord(letter) < 32 and letter != "\n" for letter in text)
