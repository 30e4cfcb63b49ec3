"""Hypothesis strategies for any legal house (`houses`) and for its parts.

Everything drawn is legal by `housemap.model.validation`. The number of rooms and paints shrinks,
what stands in them comes by chance from a drawn seed (`tests.support.chance`).
"""

from collections.abc import Callable
from typing import TypeVar

from hypothesis import strategies as st

from housemap.model.house import ColourSource, Finish, House, Lamp, Paint, Room
from tests.support.chance import IDS, NAMES, Chance

T = TypeVar("T")


def by_chance(make: Callable[[Chance], T]) -> st.SearchStrategy[T]:
    return st.integers(0, 2**32).map(lambda seed: make(Chance(seed)))


def lengths(low_m: float, high_m: float) -> st.SearchStrategy[float]:
    """Draw metres in whole centimetres."""
    return st.integers(round(low_m * 100), round(high_m * 100)).map(lambda cm: cm / 100)


ids = st.sampled_from(IDS)
names = st.sampled_from(NAMES)
colours: st.SearchStrategy[ColourSource] = by_chance(Chance.colour)
paints: st.SearchStrategy[Paint] = by_chance(Chance.paint)
finishes: st.SearchStrategy[Finish] = by_chance(Chance.finish)
lamps: st.SearchStrategy[Lamp] = by_chance(Chance.lamp)


def rooms(paint_ids: list[str], finish_ids: list[str]) -> st.SearchStrategy[Room]:
    """Draw a room that may wear the paints and hold the finishes."""
    return by_chance(lambda chance: chance.room(paint_ids, finish_ids))


def houses(max_rooms: int = 4) -> st.SearchStrategy[House]:
    """Draw a house with at most `max_rooms` rooms."""
    return st.builds(
        lambda seed, room_count, paint_count: Chance(seed).house(room_count, paint_count),
        st.integers(0, 2**32),
        st.integers(0, max_rooms),
        st.integers(0, 3),
    )
