"""The table of fields covers the model, and the words in it are those of the outside world."""

import warnings
from dataclasses import fields

import pytest

from housemap.model.house import House
from housemap.model.illuminants import ILLUMINANTS
from housemap.model.records import Record
from housemap.model.schema import HOUSE, PAINTS, RECORD_OF, SHEENS_OF, TABLES

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it warns that it cannot plot
    import colour


@pytest.mark.parametrize("record", [*RECORD_OF.values(), PAINTS, SHEENS_OF], ids=lambda r: r.label)
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
