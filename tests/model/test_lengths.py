"""Lengths as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.errors import InputError
from housemap.model.house import Units
from housemap.model.lengths import format_length, parse_length_m

# The foot is 0.3048 m exactly: International Yard and Pound Agreement, 1959.
READ: list[tuple[str, Units, float]] = [
    ("3.1", "m", 3.1),
    ("3,1", "m", 3.1),
    (".5", "m", 0.5),
    ("3.1 m", "ft", 3.1),
    ("310cm", "m", 3.1),
    ("3100 mm", "m", 3.1),
    ("-0.4", "m", -0.4),
    ("12", "ft", 3.6576),
    ("12'", "m", 3.6576),
    ("12'4\"", "m", 3.7592),
    ("12' 4 1/2\"", "m", 3.7719),
    ("12'4-1/2\"", "m", 3.7719),
    ("12 ft 4 in", "m", 3.7592),
    ("12 feet 4.5 inches", "m", 3.7719),
    ("12'4", "ft", 3.7592),
    ('4"', "m", 0.1016),
    ('1/16"', "m", 0.0015875),
    ("12′ 4″", "m", 3.7592),  # noqa: RUF001 - primes, as some keyboards write them
    ("12\u20194\u201d", "ft", 3.7592),
]  # fmt: skip


@pytest.mark.parametrize(("text", "units", "metres"), READ)
def test_a_length_is_read_in_metres(text: str, units: Units, metres: float) -> None:
    assert parse_length_m(text, units) == metres


@pytest.mark.parametrize(
    "text", ["", " ", "wide", "3.1.2", "1,234.5", "3 4", '4 1/0"', "nan", "inf", "1e3", "9" * 41]
)
def test_what_is_no_length_is_refused_with_examples(text: str) -> None:
    with pytest.raises(InputError, match=r"is not a length; write 3\.1, 310 cm or 12'4\""):
        parse_length_m(text, "m")


@pytest.mark.parametrize("text", ["8'14\"", "8 ft 14 in", "8' 14", "8 feet 14 inches"])
def test_more_inches_than_a_foot_has_are_asked_about(text: str) -> None:
    with pytest.raises(InputError, match="a foot has 12 inches; is it 9'2\"\\? Write it so"):
        parse_length_m(text, "ft")


def test_lengths_are_written_to_the_millimetre_or_the_eighth_of_an_inch() -> None:
    assert [format_length(x, "m") for x in (3.1, 3.125, 0, -2)] == [
        "3.10 m", "3.125 m", "0.00 m", "-2.00 m",
    ]  # fmt: skip
    assert [format_length(x, "ft") for x in (3.7719, 3.6576, 0.1016, -0.3048, 0.0001)] == [
        "12'4 1/2\"", "12'0\"", "0'4\"", "-1'0\"", "0'0\"",
    ]  # fmt: skip


@given(st.integers(-100_000, 100_000), st.sampled_from(("m", "ft")))
def test_a_written_length_reads_as_nearly_the_same(mm: int, units: Units) -> None:
    back = parse_length_m(format_length(mm / 1000, units), units)
    assert abs(back - mm / 1000) <= (0.0254 / 16 + 1e-7 if units == "ft" else 1e-9)
