"""The table of fields covers the model, and the words in it are those of the outside world."""

import warnings
from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.model.fieldtypes import ILLUMINANTS, Number, Record
from housemap.model.house import House
from housemap.model.schema import HOUSE, RECORDS, TABLES

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it warns that it cannot plot
    import colour


@pytest.mark.parametrize("record", RECORDS.values(), ids=lambda r: r.entity.__name__)
def test_every_attribute_of_an_entity_has_a_field(record: Record) -> None:
    assert [f.attr for f in record.fields] != []
    assert {f.attr for f in record.fields} == {f.name for f in fields(record.entity)}


def test_every_attribute_of_the_house_is_a_field_or_a_table() -> None:
    ours = [f.attr for f in (*HOUSE.fields, *TABLES)]
    assert ours == [f.name for f in fields(House)]


def test_every_illuminant_is_known_to_the_colour_library() -> None:
    # colour-science carries the CIE 015:2018 tables.
    for observer in ("CIE 1931 2 Degree Standard Observer", "CIE 1964 10 Degree Standard Observer"):
        assert set(ILLUMINANTS) <= set(colour.CCS_ILLUMINANTS[observer])
    assert set(ILLUMINANTS) <= set(colour.SDS_ILLUMINANTS)


NUMBERS = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True), st.integers(), st.booleans(), st.just("1"),
    st.just(10**400), st.floats(0, 1),
)  # fmt: skip


@pytest.mark.parametrize(
    "number", [Number(0, 1), Number(0, 1, above=True), Number(-5, 1e9), Number(0, 9, least=0.5)]
)
@given(values=st.lists(NUMBERS, max_size=6))
def test_a_list_of_numbers_is_judged_as_each_of_them_would_be(
    number: Number, values: list[object]
) -> None:
    found: list[str] = []

    def note(_path: tuple[str, ...], phrase: str) -> None:
        found.append(phrase)

    for value in values:
        read = number.read(value, note)
        number.faults(read, note)
    assert number.all_within(values) == (bool(values) and not found)
