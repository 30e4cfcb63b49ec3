"""A search in its own process: reports as they come, an answer, an end when it is closed."""

import multiprocessing
import time
from dataclasses import replace
from itertools import pairwise
from threading import Timer

import numpy as np
import pytest

from housemap.choose.optimiser.problem import Pair, Problem, Solution
from housemap.choose.optimiser.solve import Run, solve
from housemap.errors import InputError
from tests.choose.support.problems import house, open_plan

ENDLESS = open_plan(40, 12, 0, limit=6, density=0.6)


def answer_of(run: Run) -> Solution:
    """Wait for the last report."""
    *_, last = run.reports()
    assert isinstance(last, Solution)
    return last


def processes_left() -> int:
    return len(multiprocessing.active_children())


def test_the_answer_is_that_of_the_calling_thread() -> None:
    problem = house(15, 8, 1, limit=3)
    with Run(problem) as run:
        answer = answer_of(run)
    here = solve(problem)
    assert (answer.assignment, answer.cost, answer.proven) == (here.assignment, here.cost, True)
    assert run.ended
    assert processes_left() == 0


def test_reports_come_while_it_searches_and_end_with_the_solution() -> None:
    with Run(house(40, 16, 2, limit=5)) as run:
        reports = list(run.reports())
    assert isinstance(reports[-1], Solution)
    assert not any(isinstance(report, Solution) for report in reports[:-1])
    assert all(later.cost <= earlier.cost for earlier, later in pairwise(reports))
    assert all(later.bound >= earlier.bound for earlier, later in pairwise(reports))
    assert list(run.reports()) == []


def test_closed_by_another_thread_its_reports_end() -> None:
    with Run(ENDLESS) as run:
        reports = run.reports()
        next(reports)
        Timer(0.05, run.close).start()
        assert not any(isinstance(report, Solution) for report in reports)
    assert processes_left() == 0


def test_a_problem_that_no_pipe_holds_at_once_does_not_hold_up_its_caller() -> None:
    small = house(120, 40, 0, limit=6)
    pairs = tuple(Pair(pair.rooms, pair.cost.copy()) for pair in small.pairs)
    with Run(replace(small, pairs=pairs)) as run:
        assert run._sender.is_alive(), "it waits for the process, so that the caller need not"
        assert run.poll() is None
    assert not run._sender.is_alive()
    assert processes_left() == 0


def test_polling_never_waits() -> None:
    with Run(ENDLESS) as run:
        assert run.poll() is None, "a process takes longer to start than this call"
        while run.poll() is None:
            time.sleep(0.005)


def test_a_time_limit_is_kept_in_the_process() -> None:
    with Run(ENDLESS, seconds=0.2) as run:
        answer = answer_of(run)
    assert not answer.proven
    assert answer.assignment


def test_a_problem_without_a_choice_is_refused_here() -> None:
    nothing = np.zeros(1)
    problem = Problem(
        ("a", "b"), {"a": ("x",), "b": ("y",)}, {"a": nothing, "b": nothing}, paints=1
    )
    with Run(problem) as run, pytest.raises(InputError, match="limit of paints, 1"):
        answer_of(run)
    assert processes_left() == 0


def test_leaving_the_with_statement_ends_the_process() -> None:
    with Run(ENDLESS):
        assert processes_left() == 1
    assert processes_left() == 0


def test_a_process_that_dies_is_not_taken_for_an_answer() -> None:
    with Run(ENDLESS) as run:
        run._process.kill()
        with pytest.raises(ChildProcessError, match="ended without an answer"):
            answer_of(run)
