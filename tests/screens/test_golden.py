"""Whole frames are as a person has seen them; `python -m tests.screens.golden` renews them."""

import pytest

from tests.screens.golden import FRAMES, Frame, as_text, shown

LATE_S = 4.0


@pytest.mark.parametrize("frame", FRAMES, ids=lambda frame: frame.name)
def test_the_frame_is_the_one_that_was_looked_at(frame: Frame) -> None:
    looked_at = frame.path.read_text("utf-8").splitlines()
    with shown(frame) as terminal:
        if as_text(terminal).splitlines() != looked_at:  # a busy machine is still computing
            terminal.settle(LATE_S)
            terminal.look()
        assert as_text(terminal).splitlines() == looked_at
