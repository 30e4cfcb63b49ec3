"""The entry of the optimiser: solve a problem here, or in a process of its own.

Where only pairs join the rooms, elimination proves the optimum in milliseconds. Where paints do,
because they cost or are limited, and where rooms see too many others for elimination, a search
proves it or says how far from it the answer can be.
"""

import multiprocessing
import signal
import sys
from collections.abc import Iterator
from contextlib import redirect_stderr, suppress
from multiprocessing.connection import Connection
from threading import Lock, Thread
from typing import Any, Self

from housemap import errors
from housemap.choose.optimiser.branch_and_bound import Search
from housemap.choose.optimiser.dual_decomposition import Relaxation, Relaxer
from housemap.choose.optimiser.elimination_order import Budget
from housemap.choose.optimiser.heuristics import LocalSearch, palette_heuristic, plain_choice
from housemap.choose.optimiser.incumbent import Incumbent, OnProgress, Signal, StoppedError, Watch
from housemap.choose.optimiser.indexed import index, lift
from housemap.choose.optimiser.lagrangian import DualFunction, root
from housemap.choose.optimiser.problem import Problem, Progress, Solution, solution_of


def solve(
    problem: Problem,
    *,
    seconds: float | None = None,
    stop: Signal | None = None,
    progress: OnProgress | None = None,
) -> Solution:
    """The best assignment, proven optimal unless the time is over or `stop` was set before.

    `progress` is called, in this thread, with every better choice and now and then with the bound.
    Raises InputError if no assignment keeps to the limit of paints.
    """
    if not problem.rooms:
        return Solution({}, 0.0, 0.0, 0.0, proven=True)
    indexed = index(problem)
    incumbent = Incumbent(indexed, Watch(seconds, stop, progress))
    with suppress(StoppedError):
        plain_choice(incumbent)
        relaxer = Relaxer(indexed, incumbent.watch.poll)
        if relaxer.whole and not indexed.coupled and relaxer.whole.fits(indexed.sizes, ONCE):
            _eliminate(relaxer.whole, incumbent)
        else:
            LocalSearch(incumbent, indexed).improve()
            heuristic = palette_heuristic(relaxer, incumbent)
            if heuristic is None and (lifted := lift(indexed)) is not None:
                LocalSearch(incumbent, lifted).improve()
                relaxer = Relaxer(lifted, incumbent.watch.poll)
            Search(relaxer, incumbent, heuristic).run()
    return solution_of(incumbent.progress())


ONCE = Budget(4_000_000_000, 30_000_000)
"""For one elimination that is not repeated: ten seconds, and 240 MB."""


def _eliminate(whole: Relaxation, incumbent: Incumbent) -> None:
    """Offer and prove the optimum, where the pairs alone join the rooms."""
    start = root(whole.indexed, 0)
    dual = DualFunction(whole, start, incumbent.watch.poll)
    point = dual.at(start.paint_dual, start.pair_dual)
    incumbent.prove(incumbent.consider(point.labels[0]))


# A search in a process of its own, so that no interface waits for it.
#
# A thread would not do: the search is made of numpy calls of microseconds, between which it would
# hold the interpreter. The process is spawned, streams its progress through a pipe, and is ended
# with whoever asked for it.

WAIT_SECONDS = 0.01
"""How long `reports` waits at a time before it looks whether the search was closed."""


class Run:
    """One search in the background.

    Its reports are read by one thread; any thread may close it. Use it in a `with` statement, or
    close it.
    """

    def __init__(self, problem: Problem, seconds: float | None = None) -> None:
        context = multiprocessing.get_context("spawn")
        self._pipe, theirs = context.Pipe()
        self._process = context.Process(
            target=_work, args=(theirs,), name="housemap search", daemon=True
        )
        # A program with a screen puts a stand-in without a file number in the place of stderr.
        with redirect_stderr(sys.__stderr__):
            self._process.start()
        theirs.close()
        # A pipe holds little: a large problem is taken only when the process has come so far.
        self._sender = Thread(target=self._send, args=(problem, seconds), daemon=True)
        self._sender.start()
        self._lock = Lock()
        self.ended = False
        """Whether the last report has been read, or the search was closed."""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def reports(self) -> Iterator[Progress]:
        """Every report as it comes; the last is the Solution. Raises InputError as `solve` does."""
        while not self.ended:
            report = self.poll(WAIT_SECONDS)
            if report is not None:
                yield report

    def poll(self, seconds: float = 0.0) -> Progress | None:
        """The next report, waited for so long; None if there is none."""
        with self._lock:
            if self.ended or not self._pipe.poll(seconds):
                return None
            report: Progress | list[errors.Problem] | None = None
            with suppress(EOFError, ConnectionResetError):
                report = self._pipe.recv()
        if report is None or isinstance(report, Solution | list):
            self.close()
        if report is None:
            raise ChildProcessError("the search ended without an answer")
        if isinstance(report, list):
            raise errors.InputError(report)
        return report

    def close(self) -> None:
        """End the process, whatever it is doing."""
        with self._lock:
            self.ended = True
            self._process.kill()
            self._process.join()
            self._sender.join()
            self._pipe.close()

    def _send(self, problem: Problem, seconds: float | None) -> None:
        with suppress(OSError):  # the process was ended before
            self._pipe.send((problem, seconds))


def _work(pipe: "Connection[Any, Any]") -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent decides when to stop
    with suppress(BrokenPipeError, EOFError):  # the parent is gone
        problem, seconds = pipe.recv()
        try:
            pipe.send(solve(problem, seconds=seconds, progress=pipe.send))
        except errors.InputError as wrong:
            pipe.send(list(wrong.problems))
