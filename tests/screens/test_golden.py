"""Whole frames are as a person has seen them; `python -m tests.screens.golden` renews them."""

import pytest

from tests.screens.golden import FRAMES, Frame, as_text, shown


@pytest.mark.parametrize("frame", FRAMES, ids=lambda frame: frame.name)
def test_the_frame_is_the_one_that_was_looked_at(frame: Frame) -> None:
    with shown(frame) as terminal:
        assert as_text(terminal).splitlines() == frame.path.read_text("utf-8").splitlines()
