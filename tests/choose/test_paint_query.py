"""Paints are searched by words, limits, hues and colours, in every list in the same way."""

from contextlib import suppress

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.choose.chips import Chips
from housemap.choose.paint_query import (
    FEWEST_NEAR,
    NEAR,
    PaintQuery,
    parse_paint_query,
    step_words,
)
from housemap.errors import InputError
from housemap.model.house import Lab, Notation
from tests.support.chips import chips_of, reference_de00

NOTATIONS = {
    "straw": "5Y 8/2", "olive": "7.5Y 6/1", "moss": "5GY 5/4", "sky": "5B 8/3", "rose": "2.5R 7/4",
    "plum": "10RP 4/4", "chalk": "N 9.3/", "clay": "5YR 5/4",
}  # fmt: skip
CHIPS = chips_of(**{name: Notation(text) for name, text in NOTATIONS.items()})


def found(text: str, chips: Chips = CHIPS) -> list[str]:
    return [chips.swatches[row].id for row in parse_paint_query(text).rows(chips)]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", list(NOTATIONS)),
        ("5y", ["straw"]),
        ("10YR-5GY", ["straw", "olive", "moss"]),
        ("5rp - 5yr", ["rose", "plum", "clay"]),
        ("5 Y 8/", ["straw"]),
        ("value 7-8", ["straw", "sky", "rose"]),
        ("value>8 chroma<1", ["chalk"]),
        ("chroma 4", ["moss", "rose", "plum", "clay"]),
        ("lrv>55", ["straw", "sky", "chalk"]),
        ("blue lrv>50", ["sky"]),
        ("pinkish", ["rose"]),
        ("bluish", ["sky"]),
        ("reddish", ["plum"]),
        ("lrv 55-100", ["straw", "sky", "chalk"]),
        ("LRV >= 55", ["straw", "sky", "chalk"]),
        ("lrv 100 - 55", ["straw", "sky", "chalk"]),
        ("lrv 55 to 100", ["straw", "sky", "chalk"]),
        ("lrv 55 100", ["straw", "sky", "chalk"]),
        ("lrv 55 - 100 5y", ["straw"]),
        ("lrv:55..100", ["straw", "sky", "chalk"]),
        ("lrv ≥ 55", ["straw", "sky", "chalk"]),
        ("lrv>55 lrv<100", ["straw", "sky", "chalk"]),
        ("cool", ["sky"]),
        ("grey", ["straw", "olive"]),
    ],
)
def test_a_search_finds(text: str, names: list[str]) -> None:
    assert found(text) == names


def test_a_grey_has_no_hue_to_be_found_by() -> None:
    assert "chalk" not in found("5R-5RP")


@pytest.mark.parametrize(
    "text", ["value", "lrv", "lrv>", "value ", "chroma<", "lrv ", "lrv >= ", "lrv="]
)
def test_what_is_still_being_typed_hides_nothing(text: str) -> None:
    assert found(text) == list(NOTATIONS)


@pytest.mark.parametrize("text", ["lrv>100 lrv<55", "value>9 value<7"])
def test_reversed_limits_are_mended(text: str) -> None:
    low_first = {"lrv>100 lrv<55": "lrv 55-100", "value>9 value<7": "value 7-9"}[text]
    assert found(text) == found(low_first) != []


@pytest.mark.parametrize(
    "text",
    ["5y 8/2", "{hex}", "L {lab[0]} a {lab[1]} b {lab[2]} D65/10", "near 5Y 8/2", "7.5y 6/1,5"],
)
def test_a_colour_asks_for_the_nearest_ones(text: str) -> None:
    straw = CHIPS.swatches[0].colour
    lab = [round(each, 2) for each in straw.lab100]
    text = text.format(hex=straw.srgb_hex, lab=lab).replace("near ", "")
    assert found(text)[0] == ("olive" if text.startswith("7.5") else "straw")
    assert len(found(text)) == len(CHIPS)


def test_what_plainly_has_a_hue_comes_before_what_leans_to_it() -> None:
    chips = chips_of(
        grey=Notation("5G 6/0.6"), meadow=Notation("5G 5/6"), fern=Notation("7.5GY 4/1")
    )
    assert found("green", chips)[0] == "meadow"


def test_a_word_that_nothing_has_is_named_with_the_nearest() -> None:
    said = parse_paint_query("zorg lrv>3").why_none(CHIPS)
    assert said == '"zorg" is neither a name, a hue nor a limit'
    assert parse_paint_query("strow").why_none(CHIPS).endswith("did you mean straw?")
    assert parse_paint_query("straw").why_none(CHIPS) == ""


@pytest.mark.parametrize(
    "text", ["<3", "value<<3", "12y", "lrv > >", "lrv x", "lrv>>4", ">60", "lrv 5-6-7", "lrv -4"]
)
def test_what_cannot_be_read_is_told_in_one_line(text: str) -> None:
    with pytest.raises(InputError) as error:
        parse_paint_query(text)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize(
    ("text", "words"),
    [("green-grey", ("green", "gray")), ("white, warm", ("white", "warm")), ("a-10", ("a-10",)),
     ("warm, lrv 55-70", ("warm",)), ("5y, pale", ("pale",)), ("lrv 55,5", ())],
)  # fmt: skip
def test_commas_and_hyphens_part_words_but_no_figures_and_codes(
    text: str, words: tuple[str, ...]
) -> None:
    assert parse_paint_query(text).words == words


def test_a_grey_that_a_hue_tinges_comes_before_a_colour_of_that_hue() -> None:
    """By NBS SP 440 5G 6/0.8 is a greenish gray, 5GY 5/3 a grayish yellow green."""
    chips = chips_of(strong=Notation("5GY 5/3"), tinged=Notation("5G 6/0.8"))
    assert parse_paint_query("green-grey").rows(chips).tolist() == [1, 0]
    assert parse_paint_query("green").rows(chips).tolist() == [0, 1]


def test_near_a_colour_come_the_nearest_first() -> None:
    """scikit-image's CIEDE2000 puts them in the same order."""
    chips = chips_of(**{f"p{i}": Notation(f"{i % 10 + 0.1}Y {4 + i % 7 / 2}/3") for i in range(80)})
    target = chips.swatches[11].colour.lab100
    rows = PaintQuery(near=target).rows(chips)
    apart = reference_de00(chips.lab100[rows], np.array(target))
    assert list(apart) == sorted(apart)
    assert rows[0] == 11
    near = int((reference_de00(chips.lab100, np.array(target)) <= NEAR).sum())
    assert len(rows) == max(near, FEWEST_NEAR)


def test_near_a_colour_keeps_what_else_is_asked_for() -> None:
    near = PaintQuery(words=("moss",), near=CHIPS.swatches[0].colour.lab100)
    assert [CHIPS.swatches[row].id for row in near.rows(CHIPS)] == ["moss"]


@given(st.text(max_size=30))
def test_any_text_is_a_search_or_one_clear_line(text: str) -> None:
    with suppress(InputError):
        assert isinstance(parse_paint_query(text), PaintQuery)


def test_a_word_for_a_hue_that_no_paint_has_is_no_riddle() -> None:
    query = parse_paint_query("purplish")
    assert query.why_none(CHIPS) == "No paint here is purplish."
    assert "neither a name" in parse_paint_query("qwertz").why_none(CHIPS)


NOW = (70.0, 0.0, 10.0)
LABS = {
    "now": NOW, "light": (73, 0, 10), "dark": (67, 0, 10), "warm": (70, 2, 14), "cool": (70, -2, 5),
    "grey": (70, 0, 6), "both": (76, 2, 14), "green": (70, -5, 14), "brown": (50, 8, 30),
}  # fmt: skip
BESIDE = chips_of(**{name: Lab(values) for name, values in LABS.items()})


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("lighter", ["light", "both"]),
        ("darker", ["dark", "brown"]),
        ("warmer", ["warm", "both", "brown"]),
        ("slightly warmer", ["warm", "both"]),
        ("warmer lighter", ["both"]),
        ("cooler", ["cool", "grey"]),
        ("greyer", ["grey", "cool"]),
    ],
)
def test_a_way_from_the_paint_there_now_lists_the_nearest_that_way(
    text: str, names: list[str]
) -> None:
    rows = parse_paint_query(text, NOW).rows(BESIDE)
    assert [BESIDE.swatches[row].id for row in rows] == names


def test_a_way_from_a_typed_colour_and_from_none() -> None:
    rows = parse_paint_query("5Y 7/1 lighter").rows(CHIPS)
    assert {CHIPS.swatches[row].id for row in rows} == {"straw", "sky", "chalk"}
    with pytest.raises(InputError, match="warmer than what"):
        parse_paint_query("warmer")


def test_two_paints_are_compared_in_words() -> None:
    assert step_words(NOW, (73.0, 2.0, 14.0)) == "lighter, warmer, stronger"
    assert step_words(NOW, (70.0, 0.0, 6.0)) == "cooler, greyer"
    assert step_words(NOW, NOW) == "much the same"


def test_where_none_lies_within_the_limits_those_just_outside_are_counted() -> None:
    lrvs = sorted(CHIPS.lrv)
    text = f"lrv {lrvs[-1] + 1:.1f}-{lrvs[-1] + 2:.1f}"
    said = parse_paint_query(text).why_none(CHIPS)
    assert said == f"None fits; just outside: 1 paint, LRV {lrvs[-1]:.0f}"
    assert parse_paint_query("lrv 0-1").why_none(CHIPS) == ""
    assert parse_paint_query("lrv>30").why_none(CHIPS) == ""


def test_a_little_warmer_than_a_cool_grey_is_a_warm_grey_as_light_before_any_green() -> None:
    grey = parse_paint_query("5BG 8.5/0.5 slightly warmer")
    chips = chips_of(green=Notation("2.5G 8.5/0.5"), light=Notation("5Y 9/0.5"),
                     warm=Notation("5Y 8.5/0.5"), dark=Notation("5Y 3/1"))  # fmt: skip
    assert [chips.swatches[row].id for row in grey.rows(chips)] == ["warm", "light", "green"]
