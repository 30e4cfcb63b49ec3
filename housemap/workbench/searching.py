"""A search in a process of its own that may be stopped at any moment, even before it begins."""

from collections.abc import Iterator
from threading import Event
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from housemap.choose.optimiser.problem import Problem, Progress
    from housemap.choose.optimiser.solve import Run


class Searching:
    """One search after the other, run in a thread; any thread may stop them."""

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._run: Run | None = None
        self._stopped = Event()

    @property
    def stopped(self) -> bool:
        return self._stopped.is_set()

    def __call__(self, problem: "Problem") -> "Iterator[Progress]":
        """How far the search has come, at last its answer; nothing once all was stopped."""
        from housemap.choose.optimiser.solve import Run  # noqa: PLC0415 - in the thread

        if self.stopped:
            return
        with Run(problem, self._seconds) as run:
            self._run = run
            if self._stopped.is_set():  # meanwhile
                run.stop()
            yield from run.reports()

    def stop(self) -> None:
        """Keep the best so far, and begin no further search."""
        self._stopped.set()
        if self._run is not None:
            self._run.stop()

    def close(self) -> None:
        """Give all up."""
        self._stopped.set()
        if self._run is not None:
            self._run.close()
