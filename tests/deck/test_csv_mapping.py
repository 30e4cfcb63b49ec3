"""What the columns of a table mean: guessed by their names and cells, or told by the caller."""

import pytest

from housemap.errors import InputError
from housemap.model.house import Srgb
from tests.support.decks import meanings, read_table


def test_a_table_without_headers_is_guessed_and_the_guess_is_shown() -> None:
    reading = read_table("Oat Ladle;A-102;#d9d0bf", "Moss;A-7;#405030", "Chalk;A-9;#f0eee6")
    assert meanings(reading) == ["name", "code", "hex"]
    assert all(column.guessed for column in reading.mapping)
    assert len(reading.paints) == 3


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        (["#d9d0bf", "#405030"], ["hex"]),
        (["Oat\t217\t208\t191", "Moss\t64\t80\t48"], ["name", "red", "green", "blue"]),
        (["Oat\t84.1\t1.2\t9.8", "Moss\t44\t-8.5\t12"], ["name", "L*", "a*", "b*"]),
        (["Oat;5Y 8/1", "Moss;7.5GY 4/2"], ["name", "notation"]),
        (["Haferton,Farbwert", "Hafer,#d9d0bf", "Moos,#405030"], ["name", "hex"]),
    ],
)
def test_columns_are_guessed_by_what_they_hold(rows: list[str], expected: list[str]) -> None:
    assert meanings(read_table(*rows)) == expected


def test_the_caller_may_override_the_mapping() -> None:
    lines = ("Name,Trade name,Hex,Screen", "Oat,Ladle,#000000,#d9d0bf", "Moss,Leaf,#000000,#405030")
    told = {"Name": "", "Trade name": "name", "Hex": "", "Screen": "hex"}
    reading = read_table(*lines, columns=told)
    assert [p.name for p in reading.paints.values()] == ["Ladle", "Leaf"]
    assert [p.colour for p in reading.paints.values()] == [Srgb("#d9d0bf"), Srgb("#405030")]
    assert meanings(reading) == ["", "name", "", "hex"]


def test_an_override_takes_the_meaning_from_the_column_that_had_it() -> None:
    reading = read_table("Name,Hex,Screen", "Oat,#000000,#d9d0bf", columns={"Screen": "hex"})
    assert meanings(reading) == ["name", "", "hex"]


def test_an_override_that_fits_nothing_says_what_there_is() -> None:
    with pytest.raises(InputError) as error:
        read_table("Name,Hex", "Oat,#d9d0bf", columns={"Farbe": "name", "Hex": "colour value"})
    assert len(error.value.problems) == 2
    assert 'no column "Farbe"; there are Name, Hex' in str(error.value)


def test_rows_above_the_header_are_left_out_and_told() -> None:
    reading = read_table("Our fan deck", "", "Name,Hex", "Oat,#d9d0bf")
    assert list(reading.paints) == ["oat"]
    assert "the header is line 3; 1 row above left out" in reading.notes
