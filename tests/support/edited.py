"""Hypothesis strategies for what people do to a house: a few edits, one after the other."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from housemap.errors import EditError
from housemap.model import edits
from housemap.model.house import SURFACES, House
from housemap.model.schema import ATTR_OF
from tests.support.strategies import lengths, names, paints, rooms

EVERY = tuple(ATTR_OF.values())

Edit = Callable[[st.DrawFn, House], House]


def _assign(draw: st.DrawFn, house: House) -> House:
    room = draw(_key(house.rooms))
    paint = draw(st.none() | _key(house.paints))
    return edits.assign(house, room, draw(st.sampled_from(SURFACES)), paint)


def _remove(draw: st.DrawFn, house: House) -> House:
    table = draw(st.sampled_from(EVERY))
    return edits.remove_with_uses(house, table, draw(_key(getattr(house, table))))


def _rename(draw: st.DrawFn, house: House) -> House:
    table = draw(st.sampled_from([each for each in EVERY if each != "visits"]))
    key = draw(_key(getattr(house, table)))
    return edits.rename(house, table, key, draw(st.sampled_from(("new-a", "new-b"))))


def _add(draw: st.DrawFn, house: House) -> House:
    new = draw(st.sampled_from(("new-a", "new-b")))
    if draw(st.booleans()):
        return edits.put(house, "paints", new, draw(paints))
    room = replace(draw(rooms(list(house.paints), list(house.finishes))), at_m=None)
    return edits.put(house, "rooms", new, room)


def _change(draw: st.DrawFn, house: House) -> House:
    values: dict[str, Any] = draw(
        st.fixed_dictionaries(
            {}, optional={"name": names, "height_m": st.none() | lengths(2.2, 4), "size_m": _sizes}
        )
    )
    if draw(st.booleans()):
        return edits.change(house, name=draw(names), low_vision=draw(st.booleans()))
    return edits.change_entity(house, "rooms", draw(_key(house.rooms)), **values)


_sizes = st.tuples(lengths(2, 9), lengths(2, 9))
EDITS: tuple[Edit, ...] = (_assign, _remove, _rename, _add, _change)


@st.composite
def edited(draw: st.DrawFn, house: House, most: int = 4) -> House:
    """Draw what becomes of a house by up to `most` edits; those that do not fit are left out."""
    for edit in draw(st.lists(st.sampled_from(EDITS), max_size=most)):
        with suppress(EditError):
            house = edit(draw, house)
    return house


def _key(table: Mapping[str, Any]) -> st.SearchStrategy[str]:
    return st.sampled_from(sorted(table) or ["none"])
