"""A paint taken from a deck belongs to the house from then on, and replaces nothing there."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.choose.chips import take
from housemap.model.house import House, Paint, Srgb
from housemap.model.validation import problems
from tests.support.strategies import ids, paints

OAT, MOSS = Paint("Oat", Srgb("#d9d0bf")), Paint("Moss", Srgb("#5b6b4a"))


def test_the_paint_says_which_deck_it_came_from() -> None:
    house, own_id = take(House(), "oat", OAT, "fan")
    assert own_id == "oat"
    assert house.paints == {"oat": replace(OAT, deck="fan")}
    kept, _ = take(House(), "oat", replace(OAT, deck="last year"), "fan")
    assert kept.paints["oat"].deck == "last year"


def test_an_id_that_another_paint_has_is_left_to_it() -> None:
    house, own_id = take(House(paints={"oat": MOSS}), "oat", OAT)
    assert own_id == "oat-2"
    assert house.paints == {"oat": MOSS, "oat-2": OAT}


def test_a_paint_that_the_house_has_is_not_taken_twice() -> None:
    house = House(paints={"mine": replace(OAT, deck="fan")})
    assert take(house, "oat", OAT, "fan") == (house, "mine")


@settings(max_examples=40)
@given(st.dictionaries(ids, paints, max_size=4), ids, paints)
def test_every_paint_of_before_stays_as_it_was(
    held: dict[str, Paint], wanted: str, paint: Paint
) -> None:
    before = House(paints=held)
    house, own_id = take(before, wanted, paint, "fan")
    assert {id_: house.paints[id_] for id_ in held} == held
    assert replace(house.paints[own_id], deck=paint.deck) == paint
    assert not problems(house) or problems(before)
