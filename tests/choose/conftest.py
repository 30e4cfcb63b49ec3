"""Tests of ranking compare figures closely, so that here no light passes from room to room.

What a paint does to the rooms next to its own, and they to it, is within what
`test_openings.py` allows.
"""

from collections.abc import Iterator, Mapping

import pytest

from housemap.light import house_light
from housemap.light.inputs import RoomInputs
from housemap.light.scene import Scene


def each_alone(
    scenes: Mapping[str, Scene], inputs: Mapping[str, RoomInputs]
) -> list[house_light.Group]:
    assert scenes.keys() <= inputs.keys()
    return [((room,), ()) for room in scenes]


@pytest.fixture(autouse=True, scope="module")
def rooms_lit_alone(request: pytest.FixtureRequest) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        if request.node.get_closest_marker("lit_together") is None:
            patch.setattr(house_light, "groups_of", each_alone)
        yield
