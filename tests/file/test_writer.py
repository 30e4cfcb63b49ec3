"""The same house always gives the same text."""

from dataclasses import replace
from pathlib import Path

from hypothesis import given

from housemap.file import dump_house, parse_house
from housemap.model.house import House, Room
from tests.support.houses import paint, small_house
from tests.support.strategies import houses

DATA = Path(__file__).parent / "data"
SMALL = """\
format = 1

[house]
name = "Alder Row 12"
north = 20

[limits.jar]
open = 17.5

[paint.oat]
name = "Oat Ladle"
srgb = "#d9d0bf"
tins = [0.75, 2.5, 5]
notes = \"\"\"
two
lines\"\"\"

[room.hall]
name = "Hall"
outline = [[0, 0], [4, 0], [4, 3]]
paints = { walls = "oat", trim = "oat" }

[room.hall.accent.2]
paint = "oat"

[room.hall.window.front]
wall = 1
along = 0.3
width = 1.2
height = 1.1
sill = 0.9
"""


def test_the_layout_is_one_line_a_key_in_the_order_of_the_format() -> None:
    assert dump_house(parse_house(SMALL)) == SMALL


def test_wishes_schemes_and_papers_are_written_as_the_format_orders_them() -> None:
    text = (DATA / "valid" / "brief-schemes-and-papers.toml").read_text()
    assert dump_house(parse_house(text)) == text


def test_ids_are_sorted_and_edges_by_number() -> None:
    a, b = paint(name="A"), paint(name="B")
    assert dump_house(House(paints={"b": b, "a": a})) == dump_house(House(paints={"a": a, "b": b}))
    edges = {str(i): small_house().rooms["hall"].accents["w"] for i in (10, 9, 0)}
    text = dump_house(House(rooms={"r": Room("R", accents=edges)}))
    headers = [line for line in text.splitlines() if "accent" in line]
    assert headers == ["[room.r.accent.0]", "[room.r.accent.9]", "[room.r.accent.10]"]


def test_defaults_are_left_out() -> None:
    assert dump_house(House()) == "format = 1\n\n[house]\n"


@given(houses())
def test_reading_what_was_written_gives_an_equal_house(house: House) -> None:
    text = dump_house(house)
    back = parse_house(text)
    assert back == house
    assert dump_house(back) == text


@given(houses())
def test_the_order_of_tables_in_memory_makes_no_difference(house: House) -> None:
    turned = replace(
        house,
        rooms=dict(reversed(list(house.rooms.items()))),
        paints=dict(reversed(list(house.paints.items()))),
    )
    assert dump_house(turned) == dump_house(house)
