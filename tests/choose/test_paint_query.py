"""A search finds paints by words of their name, code and undertone, and by LRV; all at once."""

from contextlib import suppress
from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.choose.paint_query import PaintQuery, parse_paint_query, search_words
from housemap.errors import InputError


@dataclass(frozen=True)
class Row:
    name: str
    words: str
    lrv: float | None


ROWS = [
    Row("Oat Ladle", search_words("Oat Ladle", "A-102", "yellowish gray", "yellow", "warm"), 64.0),
    Row("Moss Bank", search_words("Moss Bank", "A-220", "grayish olive green", "green"), 22.4),
    Row("Chalk Lump", search_words("Chalk Lump", "B-001", "white", "none", "neutral"), 87.0),
    Row("Fog", search_words("Fog", "B-017", "bluish gray", "blue", "cool"), 55.0),
    Row("New", search_words("New"), None),
]


def found(text: str) -> list[str]:
    return [row.name for row in parse_paint_query(text).among(ROWS)]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", ["Oat Ladle", "Moss Bank", "Chalk Lump", "Fog", "New"]),
        ("OAT", ["Oat Ladle"]),
        ("a-", ["Oat Ladle", "Moss Bank"]),
        ("grey", ["Oat Ladle", "Moss Bank", "Fog"]),
        ("cool grey", ["Fog"]),
        ("warm b-", []),
        ("lrv>60", ["Oat Ladle", "Chalk Lump"]),
        ("LRV >= 64", ["Oat Ladle", "Chalk Lump"]),
        ("lrv<40", ["Moss Bank"]),
        ("lrv ≤ 55", ["Moss Bank", "Fog"]),
        ("lrv 55-70", ["Oat Ladle", "Fog"]),
        ("lrv 70 - 55", ["Oat Ladle", "Fog"]),
        ("lrv 55 to 64", ["Oat Ladle", "Fog"]),
        ("lrv:55..64,5", ["Oat Ladle", "Fog"]),
        ("lrv 22", ["Moss Bank"]),
        ("gray lrv>60", ["Oat Ladle"]),
        ("lrv>20 gray lrv<60", ["Moss Bank", "Fog"]),
    ],
)
def test_a_search_finds(text: str, names: list[str]) -> None:
    assert found(text) == names


@pytest.mark.parametrize("text", ["lrv", "lrv ", "lrv>", "lrv >= ", "lrv=", "oat lrv"])
def test_an_lrv_that_is_still_being_typed_hides_nothing(text: str) -> None:
    assert "Oat Ladle" in found(text)


@pytest.mark.parametrize("text", ["lrv x", "lrv>>4", ">60", "lrv 5-6-7", "lrv -4"])
def test_an_lrv_that_cannot_be_read_is_told_in_one_line(text: str) -> None:
    with pytest.raises(InputError, match="lrv>60") as error:
        parse_paint_query(text)
    assert "\n" not in str(error.value)


@given(st.text(max_size=30))
def test_any_text_is_a_search_or_one_clear_line(text: str) -> None:
    with suppress(InputError):
        assert isinstance(parse_paint_query(text), PaintQuery)
