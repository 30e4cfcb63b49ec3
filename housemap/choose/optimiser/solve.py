"""The entry of the optimiser: solve a problem here, or in a process of its own.

Where only pairs join the rooms, elimination proves the optimum in milliseconds. Where paints do,
because they cost or are limited, and where rooms see too many others for elimination, a search
proves it or says how far from it the answer can be.
"""

import math
import multiprocessing
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import redirect_stderr, suppress
from dataclasses import replace
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
# hold the interpreter. The process is spawned, streams its progress through a pipe, and ends when
# it is asked to, when its parent is gone or, if it does not answer in time, by force.

PATIENCE_SECONDS = 0.06
"""How long a search may take to answer a stop before its process is ended."""
WAIT_SECONDS = 0.01
"""How long `reports` waits at a time before it looks whether patience is over."""


class Run:
    """One search in the background.

    Its reports are read by one thread; any thread may stop it. Use it in a `with` statement, or
    close it.
    """

    def __init__(self, problem: Problem, seconds: float | None = None) -> None:
        context = multiprocessing.get_context("spawn")
        self._pipe, theirs = context.Pipe()
        stop, self._stop_pipe = context.Pipe(duplex=False)
        self._process = context.Process(
            target=_work, args=(theirs, stop), name="housemap search", daemon=True
        )
        # A program with a screen puts a stand-in without a file number in the place of stderr.
        with redirect_stderr(sys.__stderr__):
            self._process.start()
        theirs.close()
        stop.close()
        # A pipe holds little: a large problem is taken only when the process has come so far.
        self._sender = Thread(target=self._send, args=(problem, seconds), daemon=True)
        self._sender.start()
        self._began = time.perf_counter()
        self._stopped_at = math.inf
        self._last = Progress({}, math.inf, -math.inf, 0.0)
        self._lock = Lock()
        self.ended = False
        """Whether the last report has been read."""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def stop(self) -> None:
        """Ask for the answer so far: it comes as the last report, within 100 ms."""
        with self._lock, suppress(OSError):  # it may just have ended, its answer in the pipe
            if self._stopped_at == math.inf and not self.ended:
                self._stopped_at = time.perf_counter()
                self._stop_pipe.send(None)

    def reports(self) -> Iterator[Progress]:
        """Every report as it comes; the last is the Solution. Raises InputError as `solve` does."""
        while not self.ended:
            report = self.poll(WAIT_SECONDS)
            if report is not None:
                yield report

    def poll(self, seconds: float = 0.0) -> Progress | None:
        """The next report, waited for so long; None if there is none."""
        if self.ended:
            return None
        if self._pipe.poll(seconds):
            return self._received()
        if time.perf_counter() - self._stopped_at > PATIENCE_SECONDS:
            self.close()
            now = time.perf_counter() - self._began
            return solution_of(replace(self._last, seconds=now))
        return None

    def close(self) -> None:
        """End the process, whatever it is doing."""
        with self._lock:
            self.ended = True
            self._process.kill()
            self._process.join()
            self._sender.join()
            self._pipe.close()
            self._stop_pipe.close()

    def _send(self, problem: Problem, seconds: float | None) -> None:
        with suppress(OSError):  # the process was ended before
            self._pipe.send((problem, seconds))

    def _received(self) -> Progress:
        try:
            report: Progress | list[errors.Problem] = self._pipe.recv()
        except (EOFError, ConnectionResetError):
            self.close()
            raise ChildProcessError("the search ended without an answer") from None
        if isinstance(report, list):
            self.close()
            raise errors.InputError(report)
        self._last = report
        if isinstance(report, Solution):
            self.close()
        return report


class _StopSignal:
    """Set once anything came through the pipe, or its other end is gone."""

    def __init__(self, pipe: "Connection[Any, Any]") -> None:
        self._pipe = pipe

    def is_set(self) -> bool:
        return self._pipe.poll()


def _work(pipe: "Connection[Any, Any]", stop: "Connection[Any, Any]") -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent decides when to stop
    with suppress(BrokenPipeError, EOFError):  # the parent is gone
        problem, seconds = pipe.recv()
        try:
            pipe.send(solve(problem, seconds=seconds, stop=_StopSignal(stop), progress=pipe.send))
        except errors.InputError as wrong:
            pipe.send(list(wrong.problems))
