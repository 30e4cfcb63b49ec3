"""The same house always gives the same text."""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.errors import HouseFileError
from housemap.file.reader import load_house, parse_house
from housemap.file.save import save_house
from housemap.file.writer import (
    FOOT,
    Comment,
    comments_for,
    comments_of,
    dump_house,
    dump_with_comments,
    merged_comments,
    rows,
)
from housemap.model import edits
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


# Comments of a hand-edited file survive.

BY_HAND = """\
# Alder Row, second visit
format = 1

# The client calls it "the long room".
[room.lounge] # north
name = "Lounge"
size = [4.0, # taped
        6.0] # and again
paints.walls = "oat" # sure
# to be measured
height = 2.4

# Their old favourite
[paint.oat]
# from the door of the shed
srgb = "#d9d0bf"   # eyeballed
name = "Oat Ladle"
# the end
"""

WRITTEN = """\
# Alder Row, second visit
format = 1

[house]

# Their old favourite
[paint.oat]
name = "Oat Ladle"
# from the door of the shed
srgb = "#d9d0bf" # eyeballed

# The client calls it "the long room".
[room.lounge] # north
name = "Lounge"
# and again
size = [4, 6] # taped
# to be measured
height = 2.4
# sure
paints = { walls = "oat" }
# the end
"""


def test_each_comment_stays_above_or_beside_its_entry() -> None:
    house = parse_house(BY_HAND)
    text = dump_with_comments(house, comments_of(BY_HAND))
    assert text == WRITTEN
    assert dump_with_comments(house, comments_of(text)) == text


def test_a_save_keeps_the_comments_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_text(BY_HAND)
    house = edits.change_entity(load_house(path).house, "rooms", "lounge", height_m=2.5)
    save_house(house, path)
    assert path.read_text() == WRITTEN.replace("2.4", "2.5")
    elsewhere = tmp_path / "copy.toml"
    save_house(house, elsewhere, comments_from=BY_HAND.encode())
    assert elsewhere.read_text() == path.read_text()


def test_comments_follow_a_renamed_entry() -> None:
    house = edits.rename(parse_house(BY_HAND), "rooms", "lounge", "long-room")
    house = edits.rename(house, "paints", "oat", "straw")
    text = dump_with_comments(house, comments_for(house, BY_HAND.encode()))
    renamed = WRITTEN.replace("room.lounge", "room.long-room").replace("paint.oat", "paint.straw")
    assert text == renamed.replace('walls = "oat"', 'walls = "straw"')


def test_the_comment_of_a_key_that_went_stands_at_its_entity() -> None:
    house = edits.change_entity(parse_house(BY_HAND), "rooms", "lounge", height_m=None)
    text = dump_with_comments(house, comments_for(house, BY_HAND.encode()))
    assert '# The client calls it "the long room".\n# to be measured\n[room.lounge]' in text


def test_comments_of_an_entity_that_went_move_to_the_head() -> None:
    house = edits.remove(parse_house(BY_HAND), "rooms", "lounge")
    text = dump_with_comments(house, comments_for(house, BY_HAND.encode()))
    head = text.split("format = 1")[0].splitlines()
    assert head[0] == "# Alder Row, second visit"
    assert set(head[1:]) == {
        '# The client calls it "the long room".', "# north", "# taped", "# and again", "# sure",
        "# to be measured",
    }  # fmt: skip


def test_a_comment_with_a_hidden_character_is_refused_and_one_in_any_script_is_not() -> None:
    with pytest.raises(HouseFileError, match=r"h:2: a comment must not hold .* U\+202E"):
        parse_house("format = 1\n# left \u202e right\n", "h")
    assert parse_house("format = 1 # höhe, 高さ, \u212b\n") == House()


def test_what_is_no_house_file_gives_no_comments() -> None:
    assert comments_for(House(), b"\xff # x") == ()
    assert comments_for(House(), b"a = [ # x") == ()


remarks = st.text("abc #=[]\"'{}.,", max_size=6).map(lambda text: f"# {text}".rstrip())


@st.composite
def commented(draw: st.DrawFn) -> tuple[House, str]:
    """Draw a house and a text of it with comments strewn in."""
    house = draw(houses(max_rooms=2))
    written = list(rows(house))
    above = draw(st.dictionaries(st.sampled_from(written), remarks, max_size=4))
    beside = draw(st.dictionaries(st.sampled_from(written), remarks, max_size=4))
    lines = [f"{above.get(row, '')}\n{row.text} {beside.get(row, '')}" for row in written]
    return house, "\n".join([*lines, draw(st.just("") | remarks)])


@given(commented())
def test_no_comment_is_lost_and_writing_again_changes_nothing(drawn: tuple[House, str]) -> None:
    house, text = drawn
    assert parse_house(text) == house
    written = dump_with_comments(house, comments_of(text))
    assert parse_house(written) == house
    assert Counter(c.text for c in comments_of(written)) == Counter(
        c.text for c in comments_of(text)
    )
    assert dump_with_comments(house, comments_of(written)) == written


@given(commented(), houses(max_rooms=2))
def test_no_comment_is_lost_whatever_the_house_becomes(
    drawn: tuple[House, str], after: House
) -> None:
    _, text = drawn
    written = dump_with_comments(after, comments_for(after, text.encode()))
    assert parse_house(written) == after
    assert Counter(c.text for c in comments_of(written)) == Counter(
        c.text for c in comments_of(text)
    )


def test_comments_are_merged_three_ways() -> None:
    a, b, c = (Comment(f"# {name}", FOOT) for name in "abc")
    assert merged_comments([a, b], [a, b], [a]) == (a,)
    assert merged_comments([a], [a, b], [a, c]) == (a, b, c)
    assert merged_comments([], [a], [a]) == (a,)
    assert merged_comments([a], [a, a], []) == (a, a)


def test_multi_line_notes_keep_the_comment_after_them() -> None:
    house = replace(small_house(), notes="two\nlines")
    text = dump_house(house).replace('lines"""', 'lines""" # by hand')
    assert dump_with_comments(house, comments_of(text)) == text
