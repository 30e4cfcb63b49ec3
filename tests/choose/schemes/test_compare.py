"""Schemes of one house: kept, compared, taken."""

from dataclasses import replace

import pytest

from housemap.checks import report_of
from housemap.choose.schemes.compare import AS_IT_IS, compared
from housemap.model.edits import assign, make_scheme, put, take_scheme
from housemap.model.house import House
from tests.choose.support.schemes import with_scheme
from tests.support.houses import paint, small_house


def repainted() -> House:
    house = put(small_house(), "paints", "rose", paint("#cfb0a8", "Rose"))
    house = put(house, "paints", "unused", paint("#102030", "Unused"))
    return assign(house, "kitchen", "walls", "rose")


def test_a_suggestion_becomes_a_scheme_with_the_paints_that_it_uses() -> None:
    house = with_scheme(small_house(), repainted(), "Quiet")
    assert house.rooms == small_house().rooms
    assert "rose" in house.paints
    assert "unused" not in house.paints
    [key] = house.schemes
    assert take_scheme(house, key).rooms == repainted().rooms


def test_two_schemes_of_one_name_are_two() -> None:
    house = with_scheme(with_scheme(small_house(), repainted(), "Quiet"), small_house(), "Quiet")
    assert len(house.schemes) == 2


def test_each_scheme_is_compared_with_the_house_as_it_is() -> None:
    house = make_scheme(with_scheme(small_house(), repainted(), "Quiet"), "Now")
    now, quiet, same = compared(report_of(house))
    assert (now.key, now.name, now.changed) == (None, AS_IT_IS, 0)
    assert quiet.changed == 1
    assert same.changed == 0
    assert len(same.report.causes) == len(now.report.causes)
    assert sum(quiet.shares.values()) == pytest.approx(1.0)
    assert "rose" in quiet.shares
    assert quiet.report.causes == report_of(take_scheme(house, quiet.key or "")).causes


def test_an_accent_wall_is_a_change_too() -> None:
    house = small_house()
    bare = replace(house, rooms={k: replace(r, accents={}) for k, r in house.rooms.items()})
    _, plain = compared(report_of(with_scheme(house, bare, "Plain"), deep=False))
    assert plain.changed == 1
