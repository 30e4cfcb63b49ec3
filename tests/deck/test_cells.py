"""Numbers, amounts, notations, conditions and ids, one cell at a time."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.deck.colours import illuminant_of, m_condition_of, observed_of, observer_of
from housemap.deck.numbers import (
    coverage,
    is_blank,
    number,
    number_within,
    numbers_among,
    price,
    tins,
)
from housemap.deck.reading import RowError
from housemap.deck.records import with_ids
from housemap.model.fieldtypes import ID, ILLUMINANTS
from housemap.model.house import Paint, Srgb
from housemap.model.notation import tidy_notation


@pytest.mark.parametrize(
    ("text", "comma", "value"),
    [("12", False, 12), (" -0.5 ", False, -0.5), ("\N{MINUS SIGN}3.25", False, -3.25),
     ("1e2", False, 100),
     ("12,5", True, 12.5), ("-,5", True, -0.5), ("7", True, 7)],
)  # fmt: skip
def test_numbers_are_read_as_written(text: str, comma: bool, value: float) -> None:  # noqa: FBT001 (a column of the table)
    assert number(text, comma=comma) == value


@pytest.mark.parametrize(
    "text", ["", "x", "1_000", "nan", "inf", "1e999", "1,234.5", "12,5", "1 2"]
)
def test_what_is_no_number_is_named_in_the_message(text: str) -> None:
    with pytest.raises(RowError, match=r'^"'):
        number(text)


def test_a_point_among_decimal_commas_is_told() -> None:
    with pytest.raises(RowError, match="decimal comma"):
        number("12.5", comma=True)


@given(st.floats(allow_nan=False, allow_infinity=False, width=32))
def test_every_number_is_read_back_from_how_it_prints(value: float) -> None:
    assert number(repr(value)) == value


@pytest.mark.parametrize(
    ("text", "value"), [("64%", 64), ("LRV 64.5", 64.5), ("£18.50", 18.5), ("12 m²/l", 12)]
)
def test_one_number_is_found_beside_its_unit(text: str, value: float) -> None:
    assert number_within(text) == value


@pytest.mark.parametrize("text", ["10-12", "about", "3 or 4", "1,000.00"])
def test_two_numbers_or_none_are_refused(text: str) -> None:
    with pytest.raises(RowError):
        number_within(text)


@pytest.mark.parametrize(
    ("text", "values"),
    [("1 2 3", [1, 2, 3]), ("1, 2, 3", [1, 2, 3]), ("1,2,3", [1, 2, 3]), ("1,5;2,5", [1.5, 2.5]),
     ("1,5 2,5 -3", [1.5, 2.5, -3]), ("(1.5,2.5)", [1.5, 2.5]), ("1,5, 2,5", [1.5, 2.5])],
)  # fmt: skip
def test_numbers_in_a_row_may_be_parted_in_any_way(text: str, values: list[float]) -> None:
    assert numbers_among(text) == values


@pytest.mark.parametrize("text", ["", " ", "-", "\N{EN DASH}", "n/a", "N/A", "none"])
def test_an_empty_cell_has_many_spellings(text: str) -> None:
    assert is_blank(text)
    assert not is_blank("0")


@pytest.mark.parametrize(
    ("text", "sizes"),
    [("0.75, 2.5, 5", (0.75, 2.5, 5)), ("750ml / 2.5L", (0.75, 2.5)), ("5", (5,)),
     ("2.5 l; 5 l and 10 l", (2.5, 5, 10)), ("5 l, 2.5 l, 5 l", (2.5, 5)),
     ("1 gal; 1 qt", (0.9464, 3.7854))],
)  # fmt: skip
def test_tin_sizes_become_litres(text: str, sizes: tuple[float, ...]) -> None:
    """1 US gal = 3.785411784 l, 1 US qt = 0.946352946 l: NIST SP 811, appendix B."""
    assert tins(text, comma=False) == sizes


def test_tin_sizes_with_decimal_commas() -> None:
    assert tins("0,75; 2,5 l", comma=True) == (0.75, 2.5)


@pytest.mark.parametrize("text", ["large", "0", "2.5 kg", "-5"])
def test_what_is_no_tin_is_refused(text: str) -> None:
    with pytest.raises(RowError):
        tins(text, comma=False)


def test_coverage_in_square_feet_a_gallon_becomes_square_metres_a_litre() -> None:
    """400 sq ft/gal: 400 x 0.09290304 m2 / 3.785411784 l (NIST SP 811) = 9.817 m2/l."""
    assert coverage("400", "Coverage (sq ft/gal)", comma=False) == pytest.approx(9.817)
    assert coverage("400 sq. ft. per gallon", "Coverage", comma=False) == pytest.approx(9.817)
    assert coverage("12 m2/l", "Coverage", comma=False) == 12
    assert coverage("12", "Coverage m² per litre", comma=False) == 12


def test_a_price_may_be_for_a_tin() -> None:
    assert price("46.25", "Price per 2.5 l", comma=False) == 18.5
    assert price("£46.25 / 2.5 l", "Price", comma=False) == 18.5
    assert price("18,50 €", "Price", comma=True) == 18.5
    with pytest.raises(RowError, match="below 0"):
        price("-1", "Price", comma=False)


@pytest.mark.parametrize(
    ("text", "tidy"),
    [("5Y 7/1", "5Y 7/1"), ("5y7/1", "5Y 7/1"), ("2,5 YR 6,5 / 2", "2.5YR 6.5/2"),
     ("10.0GY 5.0/10.0", "10GY 5/10"), ("N8", "N 8/"), ("n 8.25/", "N 8.25/"), ("N9/0", "N 9/"),
     ("0Y 7/2", "10YR 7/2"), ("5R 5/0", "N 5/")],
)  # fmt: skip
def test_notations_are_spelled_as_house_files_spell_them(text: str, tidy: str) -> None:
    assert tidy_notation(text) == tidy


@pytest.mark.parametrize("text", ["", "5Q 7/1", "12Y 7/1", "5Y 11/1", "N 12/", "5Y 7", "Navy"])
def test_what_is_no_notation_is_none(text: str) -> None:
    assert tidy_notation(text) is None


@pytest.mark.parametrize(
    ("text", "name"), [("D65", "D65"), ("d50", "D50"), ("Illuminant A", "A"), ("CIE C", "C"),
                       ("F11", "FL11"), ("FL2", "FL2"), ("led_b1", "LED-B1")]
)  # fmt: skip
def test_illuminants_are_known_by_their_usual_spellings(text: str, name: str) -> None:
    assert illuminant_of(text) == name


def test_every_illuminant_that_a_house_file_may_name_is_known() -> None:
    assert [illuminant_of(name) for name in ILLUMINANTS] == list(ILLUMINANTS)
    assert illuminant_of("TL84") is None


@pytest.mark.parametrize(
    ("text", "angle"), [("2", "2"), ("10_Degree", "10"), ("2 degree", "2"), ("CIE 1964", "10"),
                        ("1931", "2"), ("10°", "10")]
)  # fmt: skip
def test_observers_are_known_by_their_usual_spellings(text: str, angle: str) -> None:
    assert observer_of(text) == angle


@pytest.mark.parametrize(
    ("text", "pair"), [("D50/2", "D50/2"), ("d65, 10 degree", "D65/10"), ("D65 10°", "D65/10"),
                       ("(A/10)", "A/10"), ("LED-B1/10", "LED-B1/10"), ("F11-2", "FL11/2")]
)  # fmt: skip
def test_illuminant_and_observer_may_share_a_cell(text: str, pair: str) -> None:
    assert observed_of(text) == pair


def test_measurement_conditions_are_found_in_a_text() -> None:
    assert m_condition_of("MeasurementCondition=M1 Filter=no") == "M1"
    assert m_condition_of("M2_UVExcluded") == "M2"
    assert m_condition_of("DIM1 M12") is None


def paint(name: str, code: str = "") -> Paint:
    return Paint(name, Srgb("#d9d0bf"), code=code)


def test_ids_come_from_codes_else_names_and_stay_apart() -> None:
    paints = [paint("Oat", "A-102"), paint("Oat Ladle"), paint("Oat Ladle"), paint("Moss", "12")]
    assert list(with_ids(paints)) == ["a-102", "oat-ladle", "oat-ladle-2", "moss"]


def test_a_name_in_another_script_gives_the_same_id_every_time() -> None:
    first, second = (list(with_ids([paint("燕麦"), paint("苔藓")])) for _ in range(2))
    assert first == second
    assert all(id_.startswith("paint-") for id_ in first)
    assert list(with_ids([paint("苔藓")])) == first[1:]


@given(st.lists(st.tuples(st.text(max_size=8), st.text(max_size=4)), max_size=12))
def test_every_paint_keeps_a_legal_id_of_its_own(words: list[tuple[str, str]]) -> None:
    paints = with_ids([paint(name, code) for name, code in words])
    assert len(paints) == len(words)
    assert all(ID.fullmatch(id_) for id_ in paints)
