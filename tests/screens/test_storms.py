"""The program outlives random keys and resizes; for long storms see `tests.screens.storm`."""

import pytest

from tests.screens.storm import storm


@pytest.mark.parametrize("seed", [1001, 1002])
def test_a_storm_of_keys_and_resizes_ends_nothing(seed: int) -> None:
    assert storm(seed, 80) == ""
