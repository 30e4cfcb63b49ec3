"""Whole frames are as a person has seen them; `python -m tests.screens.golden` renews them."""

import pytest

from tests.screens.golden import RUNS, Run, as_text, path_of, shown


@pytest.mark.parametrize("run", RUNS, ids=lambda run: " ".join(run.frames))
def test_the_frames_are_those_that_were_looked_at(run: Run) -> None:
    now = {name: as_text(terminal) for name, terminal in shown(run)}
    for name, text in now.items():
        assert text.splitlines() == path_of(name).read_text("utf-8").splitlines(), name
