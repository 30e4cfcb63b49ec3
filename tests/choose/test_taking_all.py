"""Many paints taken at once are taken as each would be by itself."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.choose.chips import take, take_all
from housemap.model.edits import put
from housemap.model.house import House
from tests.support.chips import random_paints

FAN = random_paints(6)


@settings(max_examples=40)
@given(st.sets(st.sampled_from([*FAN])), st.booleans())
def test_many_paints_are_taken_as_each_alone(held: set[str], again: bool) -> None:  # noqa: FBT001 - drawn
    house = House(paints={id_: replace(FAN[id_], name="mine") for id_ in held})
    if again:
        house = take(house, "kept", FAN["a-1"], "fan")[0]
        house = put(house, "paints", "kept-too", FAN["a-1"])
    together, ids = take_all(house, FAN, "fan")
    alone = house
    for id_, paint in FAN.items():
        alone, own_id = take(alone, id_, paint, "fan")
        assert ids[id_] == own_id
    assert together == alone
    assert {id_: together.paints[id_] for id_ in house.paints} == house.paints
