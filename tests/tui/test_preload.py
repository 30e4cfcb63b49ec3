"""What is imported ahead of the keys that need it is there to be imported."""

from importlib.util import find_spec

import pytest

from housemap.tui.tasks import AHEAD


@pytest.mark.parametrize("name", AHEAD)
def test_every_module_that_is_imported_ahead_exists(name: str) -> None:
    assert find_spec(name) is not None
