"""The quick parser of our own layout reads what tomllib reads, or leaves it to tomllib."""

import tomllib

from hypothesis import given
from hypothesis import strategies as st

from housemap.file import dump_house
from housemap.file.canonical import quick_toml
from housemap.file.deck_file import dump_deck
from housemap.file.reader import WORTH_A_PATTERN, parse_house
from housemap.model.house import House, Paint
from tests.support.houses import grid_house
from tests.support.strategies import houses, ids, paints

decks = st.dictionaries(ids, paints, max_size=6)


@given(decks)
def test_a_deck_that_was_written_is_read_quickly_and_as_tomllib_reads_it(
    deck: dict[str, Paint],
) -> None:
    text = dump_deck(deck)
    assert quick_toml(text) == tomllib.loads(text)


@given(houses())
def test_a_house_that_was_written_is_read_as_tomllib_reads_it(house: House) -> None:
    text = dump_house(house)
    quick = quick_toml(text)
    assert quick == tomllib.loads(text) or (quick is None and '"""' in text)


def test_a_large_house_is_read_quickly_and_equal() -> None:
    house = grid_house(400)
    text = dump_house(house)
    assert len(text) > WORTH_A_PATTERN
    assert quick_toml(text) is not None
    assert parse_house(text) == house


pieces = st.sampled_from(
    ["\n", "[paint.oat]\n", "[paint.a-1]\n", "[paint]\n", "[paint.oat.x]\n", "[finish.oat]\n",
     "format = 1\n", "paint = 1\n", "# note\n", "x=1\n", " lrv = 1\n", "lrv = 1 \n", "lrv = 1",
     "lrv = 64.5\n", "lrv = 64\n", "lrv = 064\n", "lrv = 1e5\n", "lrv = -0\n", "lrv = nan\n",
     "lrv = 1_0\n", "lrv = +1\n", "lrv = 1.\n", "lrv = .5\n", "lrv = true\n", "lrv = 1 # note\n",
     "lrv = \u0661\n", "lrv = " + "9" * 5000 + "\n", 'srgb = "#d9d0bf"\n', 'name = "Oat"\n',
     'name = "a\\"b\\\\\\n"\n', 'name = "a\\tb"\n', 'name = "\\u00e9"\n', "name = 'x'\n",
     'name = "a", x = 1\n', 'name = ""\n', 'name = """\n', 'name = "\x7f"\n', 'name = "\xe9"\n',
     "[room.a]\n", "[room.a.lamp.b]\n", "[room.a.b]\n", "[room]\n", "a = { b = 1 }\n", "room = 1\n",
     "when = 2026-05-02\n", "when = 2026-02-30\n", "b = false\n", "size = [[0, 1], [2, 3]]\n",
     'fixed = ["a", "b"]\n', "at = [[1], 2]\n", "lamp = 1\n",
     "tins = [0.75, 2]\n", "tins = [0.75, ]\n", "tins = []\n",
     "reflectance = { start = 400, step = 10, values = [0.5, 1] }\n",
     "reflectance = { start = 400, step = 10, values = [0.5], x = 1 }\n"]
)  # fmt: skip


@given(st.lists(pieces, max_size=8).map("".join))
def test_the_quick_parser_never_differs_from_tomllib(text: str) -> None:
    quick = quick_toml(text)
    if quick is not None:
        assert quick == tomllib.loads(text)


@given(houses() | decks, st.data())
def test_the_quick_parser_never_differs_from_tomllib_on_damaged_text(
    held: House | dict[str, Paint], data: st.DataObject
) -> None:
    text = dump_house(held) if isinstance(held, House) else dump_deck(held)
    at = data.draw(st.integers(0, len(text)))
    cut = data.draw(st.integers(0, 5))
    extra = data.draw(st.text('"\\[]{}=,.# \n0159eEx-_', max_size=4))
    damaged = text[:at] + extra + text[at + cut :]
    quick = quick_toml(damaged)
    if quick is not None:
        assert quick == tomllib.loads(damaged)
