"""How values are typed: what is written reads back, what is wrong is told in one line."""

import datetime as dt
from collections.abc import Sequence
from contextlib import suppress
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from housemap.errors import InputError
from housemap.model.house import HUES, Lab, Notation, Point, Reflectance, Srgb, Units, Xyz
from housemap.workbench.forms.fields import (
    YES_NO,
    Chosen,
    Colour,
    Date,
    Entry,
    Figure,
    Figures,
    Length,
    Option,
    Several,
    Walk,
    Words,
    named,
    size,
    spot,
    walls_of,
    words,
)
from tests.support.houses import small_house
from tests.support.strategies import colours

PAINTS = named(small_house(), "paints")


@pytest.mark.parametrize(
    ("entry", "text", "value"),
    [
        (Length("m"), "310 cm", 3.1), (Length("m"), "3,1", 3.1), (Length("m"), "12'4\"", 3.7592),
        (Length("ft"), "12", 3.6576), (Length("ft"), "1.2 m", 1.2),
        (Figure(), "1,5", 1.5), (Figure("K"), "2700 K", 2700.0), (Figure(whole=True), "-2", -2),
        (Figure(), "\N{MINUS SIGN}33", -33.0),
        (size("m"), "3.1x2.8", (3.1, 2.8)), (size("m"), "3.1 m by 280cm", (3.1, 2.8)),
        (size("ft"), "10' x 9'4\"", (3.048, 2.8448)),
        (spot("m", 2), "1.2 east, 0.6 north", (1.2, 0.6)), (spot("m", 2), "1,2 0,6", (1.2, 0.6)),
        (spot("m", 3), "0.9, 2.6, 2.4", (0.9, 2.6, 2.4)), (spot("m", 2), "-1 x 2", (-1.0, 2.0)),
        (Figures(), "0,75 2.5, 5", (0.75, 2.5, 5.0)),
        (Figures(), "8 to 20", (8.0, 20.0)), (Figures(), "8-20", (8.0, 20.0)),
        (Date(), "2026-05-02", dt.date(2026, 5, 2)),
        (YES_NO, "y", True), (YES_NO, "no", False),
        (PAINTS, "moss", "moss"), (PAINTS, "oat la", "oat"), (PAINTS, "LUMP", "chalk"),
        (Several(PAINTS), "moss, oat ladle,", ("moss", "oat")),
        (walls_of(small_house().rooms["hall"]), "north", "n"),
        (Colour(), "#D9D0BF", Srgb("#d9d0bf")), (Colour(), "5Y 7/1", Notation("5Y 7/1")),
        (Colour(), "L 62 a 1,2 b 8,3 D50/2", Lab((62.0, 1.2, 8.3), "D50/2")),
        (Colour(), "XYZ 30 31 25", Xyz((30.0, 31.0, 25.0))),
        (Words(20), "  a \u202e b ", "a b"),
    ],
)  # fmt: skip
def test_what_people_type_is_understood(entry: Entry, text: str, value: Any) -> None:
    assert entry.value(text) == value


def test_a_plural_names_one_of_several() -> None:
    assert Several(words(HUES)).value("blue-green, Purplish-Red") == ("blue green", "purplish red")
    assert Several(words(HUES)).value("pinks, yellow greens") == ("pink", "yellow green")


def test_today_is_a_date() -> None:
    assert Date().value("Today") - Date().value("yesterday") == dt.timedelta(days=1)


@pytest.mark.parametrize(
    ("entry", "text", "says"),
    [
        (Length("m"), "high", "must be a length such as 3.1"), (Length("m"), "1/0 in", "length"),
        (Figure(), "1.2.3", "must be a number"), (Figure(whole=True), "1.5", "whole number"),
        (size("m"), "3.1", "two lengths"), (size("m"), "3 x 4 x 5", "two lengths"),
        (spot("m", 3), "1 2", "3 lengths"), (Figures(), "1 two", "number"),
        (Date(), "2.5.2026", "a date such as"), (YES_NO, "maybe", "none of these: yes, no"),
        (PAINTS, "a", "which one"), (PAINTS, "zinc", "none of these: "),
        (Chosen(()), "x", "there is none yet"),
        (Several(words(HUES)), "pinkies", "none of these: pink, red, orange, brown and 28 more"),
        (Colour(), "62 1", "three numbers"), (Colour(), "spectrum 400 to 700", "pasted"),
        (Walk("m"), "e 4 n 3", "3.00 m north"), (Walk("m"), "0 0; 4 0", "three corners"),
        (Walk("m"), "up 4 3", "two lengths"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_in_one_line(entry: Entry, text: str, says: str) -> None:
    with pytest.raises(InputError) as found:
        entry.value(text)
    assert says in str(found.value)
    assert "\n" not in str(found.value)


# Outlines


@pytest.mark.parametrize(
    "text", ["e 4 n 3 w 2 n 2 w 2 s 5", "e4 n3 w2 n2 w2", "east 4, n 3; w 2 n 2 w 2"]
)
def test_an_outline_is_walked_along_its_walls(text: str) -> None:
    corners: Sequence[Point] = ((0, 0), (4, 0), (4, 3), (2, 3), (2, 5), (0, 5))
    assert Walk("m").value(text) == corners
    assert Walk("m").text(corners) == "e 4.00 m n 3.00 m w 2.00 m n 2.00 m w 2.00 m s 5.00 m"


def test_the_rounding_of_a_tape_is_eased_and_a_wrong_measure_is_not() -> None:
    assert Walk("m").value("e 4.01 n 3 w 4 s 3") == ((0, 0), (4.01, 0), (4.01, 3), (0, 3))
    with pytest.raises(InputError, match="east"):
        Walk("m").value("e 4 n 3 w 3.8 s 2.9")


def test_a_walk_the_other_way_round_is_turned() -> None:
    found = Walk("m").value("n 5 e 2 s 2 e 2 s 3")
    floor = Polygon(found)  # shapely tells which way it runs
    assert floor.exterior.is_ccw
    assert floor.area == pytest.approx(16.0)


def test_slanted_outlines_are_typed_by_their_corners() -> None:
    corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (1.0, 4.5))
    assert Walk("m").value("0 0; 4 0; 4 3; 1 4,5") == corners
    assert Walk("m").value(Walk("m").text(corners)) == corners


# What always holds

metres = st.integers(1, 99_999).map(lambda mm: mm / 1000)


@given(st.lists(metres, min_size=2, max_size=3), st.sampled_from(("m", "ft")))
def test_lengths_shown_read_back_to_what_is_shown(values: list[float], units: Units) -> None:
    nearest = 0.0005 if units == "m" else 0.0254 / 16  # a millimetre, an eighth of an inch
    length, sides = Length(units), size(units)
    assert length.value(length.text(values[0])) == pytest.approx(values[0], abs=nearest)
    assert sides.value(sides.text(values[:2])) == pytest.approx(values[:2], abs=nearest)
    place = spot(units, len(values))
    assert place.value(place.text(values)) == pytest.approx(values, abs=nearest)


@given(colours)
def test_colours_shown_read_back_but_for_spectra(colour: Any) -> None:
    if not isinstance(colour, Reflectance):
        again = Colour().value(Colour().text(colour))
        assert Colour().text(again) == Colour().text(colour)


ENTRIES: tuple[Entry, ...] = (
    Length("m"), Length("ft"), Figure(), Figure("K"), Figure(whole=True), size("ft"), spot("m", 3),
    Figures(), Date(), YES_NO, PAINTS, Several(PAINTS), Colour(), Walk("m"), Words(40),
)  # fmt: skip


@given(st.sampled_from(ENTRIES), st.text(min_size=1) | st.from_regex(r"[-enswx0-9.,;'\" ]{1,20}"))
def test_any_text_is_a_value_or_refused(entry: Entry, text: str) -> None:
    with suppress(InputError):
        entry.text(entry.value(text))


@given(st.text(), st.sampled_from((1, -1)), st.booleans())
def test_arrows_go_through_all_options(text: str, by: int, blank: bool) -> None:  # noqa: FBT001 - drawn
    chosen = Chosen(tuple(Option(each, each) for each in "abc"), blank=blank)
    names = {"a", "b", "c", *([""] if blank else [])}
    seen = set()
    for _ in range(len(names) + 1):
        text = chosen.stepped(text, by)
        seen.add(text)
    assert seen == names


def test_in_a_list_of_names_the_last_one_is_stepped_through() -> None:
    hues = Several(words(HUES))
    assert hues.stepped("", 1) == "pink"
    assert hues.stepped("pink", 1) == "red"
    assert hues.stepped("pink, greenish y", 1) == "pink, greenish yellow"
    assert hues.stepped("pink,", 1) == "pink, pink"
