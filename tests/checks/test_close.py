"""A value nearer to its limit than it is known says so, and counts for half."""

from dataclasses import replace

import numpy as np
import pytest

from housemap.checks import check_of
from housemap.checks.finding import CLOSE_COST, WARN, Finding, Place
from housemap.checks.meetings import verdict
from housemap.model.house import House, Room


class Rows:
    """Two values that a check judges."""

    cell = np.arange(2)

    @staticmethod
    def light(row: int) -> str:
        return ("day", "evening")[row]


def test_within_its_band_a_value_is_close_and_costs_half() -> None:
    value = np.array([41.0, 50.0])
    made = verdict(Rows(), value > 40.0, value, 40.0, WARN, kind="doorway", band=3.0)
    sure = verdict(Rows(), value > 40.0, value, 40.0, WARN, kind="doorway")
    assert made.close.tolist() == [True, False]
    assert made.cost == pytest.approx(sure.cost * [CLOSE_COST, 1.0])
    assert not sure.close.any()


def test_a_close_finding_asks_for_a_sample() -> None:
    house = House(rooms={key: Room(key.title()) for key in ("hall", "study")})
    places = Place("hall", "walls"), Place("study", "walls")
    parts = {"lightness": 3.0, "chroma": 1.0, "hue": 1.0}
    finding = Finding("jar", "warn", places, "doorway", 41.0, 40.0, parts=parts, close=True)
    assert (
        check_of("jar").describe(finding, house).endswith("Close to the limit: judge by a sample.")
    )


def test_a_dim_room_is_held_against_what_its_country_asks_for() -> None:
    """A deep kitchen that Britain's annex passes, and EN 17037 does not; and never in between."""
    dim = check_of("dim")
    house = replace(dim.clean.house, country="DE")
    assert dim.limits_in(house)["kitchen"] == pytest.approx(2.16)
    assert dim.limits_in(replace(house, country="GB")) == dim.defaults
    own = replace(house, limits={"dim": {"kitchen": 1.0}})
    assert dim.limits_in(own)["kitchen"] == 1.0
