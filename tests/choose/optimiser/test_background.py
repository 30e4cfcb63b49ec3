"""A search in its own process: reports as they come, an answer, an end when told to."""

import multiprocessing
import os
import signal
import time
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from housemap.choose.optimiser.problem import Pair, Problem, Solution
from housemap.choose.optimiser.solve import Run, solve
from housemap.errors import InputError
from tests.choose.support.oracles import allows
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


def test_told_to_stop_it_gives_the_best_so_far() -> None:
    with Run(ENDLESS) as run:
        first = next(run.reports())
        run.stop()
        run.stop()
        answer = answer_of(run)
    assert not answer.proven
    assert answer.cost <= first.cost
    assert allows(ENDLESS, answer.assignment)
    assert processes_left() == 0


def test_stopped_before_it_has_begun_it_ends_without_a_choice() -> None:
    with Run(ENDLESS) as run:
        run.stop()
        answer = answer_of(run)
    assert not answer.proven
    assert answer.gap > 0
    assert answer.assignment == {} or allows(ENDLESS, answer.assignment)


def test_a_search_that_does_not_answer_is_ended_and_its_last_report_is_the_answer() -> None:
    with Run(ENDLESS) as run:
        last = next(report for report in run.reports() if report.assignment)
        assert run._process.pid is not None
        os.kill(run._process.pid, signal.SIGSTOP)
        time.sleep(0.05)
        while (report := run.poll()) is not None:
            last = report
        run.stop()
        answer = answer_of(run)
    assert (answer.assignment, answer.cost) == (last.assignment, last.cost)
    assert not answer.proven
    assert processes_left() == 0


def test_a_problem_that_no_pipe_holds_at_once_does_not_hold_up_its_caller() -> None:
    small = house(120, 40, 0, limit=6)
    pairs = tuple(Pair(pair.rooms, pair.cost.copy()) for pair in small.pairs)
    with Run(replace(small, pairs=pairs)) as run:
        assert run._sender.is_alive(), "it waits for the process, so that the caller need not"
        assert run.poll() is None
        run.stop()
        assert not answer_of(run).proven
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
