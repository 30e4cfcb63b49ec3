"""A search may be stopped before it begins, while it begins, and while it runs."""

import numpy as np

from housemap.choose.optimiser.problem import Problem, Solution
from housemap.workbench.suggesting import Searching

PROBLEM = Problem(("a",), {"a": ("x", "y")}, {"a": np.array([2.0, 1.0])})


def test_a_search_tells_its_answer_at_last() -> None:
    *_, last = Searching(5.0)(PROBLEM)
    assert isinstance(last, Solution)
    assert last.assignment == {"a": "y"}


def test_a_search_that_was_stopped_before_tells_nothing() -> None:
    search = Searching(5.0)
    search.stop()
    assert search.stopped
    assert list(search(PROBLEM)) == []


def test_after_a_stop_no_further_search_begins() -> None:
    search = Searching(5.0)
    assert list(search(PROBLEM))
    search.stop()
    search.close()
    assert list(search(PROBLEM)) == []
