"""The table of fields covers the model, and the words in it are those of the outside world."""

import warnings
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.model.fieldtypes import ILLUMINANTS, Number, Record
from housemap.model.house import House, Lab, Notation, Paint, Reflectance, Srgb, Xyz
from housemap.model.schema import HOUSE, PAINT, RECORDS, TABLES

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
    assert number.all_fine(values) == (bool(values) and not found)


PARTS = st.text(max_size=4) | st.sampled_from(["Sea", "e\u0301", "\u0301" * 3, " ", "x" * 120])
COORDINATES = st.floats(-250, 250) | st.just(50.0)
COLOURS = st.one_of(
    st.builds(Lab, st.tuples(*[COORDINATES] * 3), st.sampled_from(["D65/10", "D65/3"])),
    st.just(Lab((50.0, 1.0, 2.0))),
    st.builds(Xyz, st.tuples(*[COORDINATES] * 3)),
    st.sampled_from([Srgb("#aabbcc"), Srgb("grey"), Notation("5Y 7/1"), Notation("olive")]),
    st.just(Reflectance(380.0, 10.0, (0.5,) * 41)),
)  # fmt: skip
TINS = st.sampled_from([(), (0.0,), (2.5,)])
SOME = st.builds(Paint, PARTS, COLOURS, code=PARTS, lrv=st.none() | COORDINATES, tins=TINS)


@given(st.lists(SOME, min_size=1, max_size=3), st.booleans())
def test_paints_that_are_fine_together_are_fine_one_by_one(
    paints: list[Paint],
    alike: bool,  # noqa: FBT001 - drawn
) -> None:
    values = [replace(each, colour=paints[0].colour) for each in paints] if alike else paints
    found: list[str] = []
    for each in values:
        PAINT.faults(each, lambda _path, phrase: found.append(phrase))
    assert not (PAINT.all_fine(values) and found)


def test_a_plain_deck_is_known_to_be_fine_at_once() -> None:
    """Whichever way its colours are given."""
    for colour in (
        Lab((50.0, 1.0, 2.0)),
        Xyz((20.0, 20.0, 20.0)),
        Srgb("#aabbcc"),
        Notation("N 5/"),
    ):
        assert PAINT.all_fine([Paint(f"Sea {i}", colour, code="S", lrv=50.0) for i in range(3)])
