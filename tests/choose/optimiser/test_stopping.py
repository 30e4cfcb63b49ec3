"""A search ends when it is told to, with the best so far and how far from optimal it can be."""

import threading
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from housemap.choose.optimiser import bucket_elimination
from housemap.choose.optimiser.best_completion import completions
from housemap.choose.optimiser.incumbent import LOOK_SECONDS, StoppedError, Watch
from housemap.choose.optimiser.problem import Problem, Progress, Solution
from housemap.choose.optimiser.solve import solve
from tests.choose.support.narrow import narrow
from tests.choose.support.oracles import allows
from tests.choose.support.problems import house, open_plan
from tests.choose.support.stopping import After, always_looked_at

HARD = house(60, 24, 0, limit=8)
WIDE = open_plan(30, 12, 0, limit=6, density=0.5)


class Cells:
    """Counts the cells of tables that are computed between two looks at a signal."""

    def __init__(self) -> None:
        self.now = self.most = self.looks = 0

    def counting(self, work: Callable[..., Any]) -> Callable[..., Any]:
        def counted(*arguments: Any) -> Any:
            result = work(*arguments)
            self.now += np.size(result)
            self.most = max(self.most, self.now)
            return result

        return counted

    def signal(self, looks: int) -> "Cells":
        self.looks = looks
        return self

    def is_set(self) -> bool:
        self.now = 0
        self.looks -= 1
        return self.looks < 0


def is_honest(problem: Problem, solution: Solution) -> None:
    assert not solution.proven
    assert solution.bound < solution.cost
    assert solution.gap > 0
    assert allows(problem, solution.assignment)
    assert problem.cost(solution.assignment) == pytest.approx(solution.cost)


@pytest.mark.parametrize("looks", [0, 1, 5, 40])
@pytest.mark.parametrize("problem", [HARD, WIDE], ids=["hard", "wide"])
def test_a_search_stopped_early_keeps_the_best_and_says_how_far_it_can_be(
    problem: Problem, looks: int
) -> None:
    is_honest(problem, solve(problem, stop=After(looks)))


def test_so_does_one_whose_time_is_over() -> None:
    is_honest(HARD, solve(HARD, seconds=0.05))
    is_honest(HARD, solve(HARD, seconds=0.0))


def test_an_elimination_cut_short_still_gives_a_choice() -> None:
    problem = house(200, 24, 1)
    is_honest(problem, solve(problem, stop=After(0)))


def test_parts_cut_short_still_give_a_choice_for_every_room() -> None:
    with narrow(100):
        problem = house(40, 6, 1)
        is_honest(problem, solve(problem, stop=After(0)))


def test_more_time_never_gives_a_worse_answer() -> None:
    answers = [solve(HARD, stop=After(looks)) for looks in (0, 3, 20)]
    assert [a.cost for a in answers] == sorted((a.cost for a in answers), reverse=True)
    assert [a.bound for a in answers] == sorted(a.bound for a in answers)


def test_an_event_of_another_thread_stops_it() -> None:
    event = threading.Event()
    told: list[Progress] = []

    def report(progress: Progress) -> None:
        told.append(progress)
        event.set()

    solution = solve(WIDE, stop=event, progress=report)
    assert told
    assert not solution.proven


def test_the_signal_is_looked_at_again_and_again_through_all_the_work() -> None:
    signal = After(60)
    solve(HARD, stop=signal)
    assert signal.looks < 0


@pytest.mark.parametrize("work", [solve, completions])
def test_little_is_computed_between_two_looks_at_the_signal(
    work: Callable[..., object], monkeypatch: pytest.MonkeyPatch
) -> None:
    """At a nanosecond or two for each cell these are far less than 100 ms."""
    cells = Cells()
    monkeypatch.setattr(bucket_elimination, "total", cells.counting(bucket_elimination.total))
    monkeypatch.setattr(bucket_elimination, "slice_of", cells.counting(bucket_elimination.slice_of))
    with always_looked_at():
        work(house(500, 24, 0, limit=8), stop=cells.signal(8000))
    assert 0 < cells.most <= 3_000_000


def test_the_watch_raises_once_time_is_over_or_the_signal_is_set() -> None:
    Watch().poll()
    Watch(60.0).poll()
    with pytest.raises(StoppedError):
        Watch(0.0).poll()
    event = threading.Event()
    watch = Watch(None, event)
    watch.poll()
    event.set()
    time.sleep(2 * LOOK_SECONDS)
    with pytest.raises(StoppedError):
        watch.poll()


def test_better_choices_are_told_at_once_and_bounds_now_and_then() -> None:
    told: list[Progress] = []
    watch = Watch(report=told.append)
    one = Progress({}, 2.0, 1.0, 0.0)
    for _ in range(100):
        watch.report(lambda: one, always=False)
    assert len(told) <= 1
    for _ in range(3):
        watch.report(lambda: one, always=True)
    assert len(told) >= 3
