"""The incumbent: the best choice that a search knows, the bound it has proved, and its clock."""

import math
import time
from collections.abc import Callable
from typing import Protocol

from housemap.choose.optimiser.bucket_elimination import Labels
from housemap.choose.optimiser.indexed import Indexed
from housemap.choose.optimiser.problem import Progress, tolerance

LOOK_SECONDS = 0.005
"""How often, at most, the stop signal is looked at; it may be a pipe."""
REPORT_SECONDS = 0.05
"""How often, at most, a bound that rose is reported; a better choice always is."""

OnProgress = Callable[[Progress], None]


class Signal(Protocol):
    """What can ask a search to stop, such as an Event of threading or multiprocessing."""

    def is_set(self) -> bool: ...


class StoppedError(Exception):
    """The time is over, or the search was asked to stop."""


class Watch:
    """Times one search; `poll` raises StoppedError once it should end."""

    def __init__(
        self,
        seconds: float | None = None,
        stop: Signal | None = None,
        report: OnProgress | None = None,
    ) -> None:
        self._began = time.perf_counter()
        self._end = None if seconds is None else self._began + seconds
        self._stop, self._report = stop, report
        self._look = self._reported = self._began

    @property
    def seconds(self) -> float:
        """Since the search began."""
        return time.perf_counter() - self._began

    def poll(self) -> None:
        now = time.perf_counter()
        if self._end is not None and now >= self._end:
            raise StoppedError
        if self._stop is not None and now >= self._look:
            self._look = now + LOOK_SECONDS
            if self._stop.is_set():
                raise StoppedError

    def report(self, make: Callable[[], Progress], *, always: bool) -> None:
        """OnProgress the progress, if it is time to or must be; it is made only then."""
        now = time.perf_counter()
        if self._report is not None and (always or now >= self._reported + REPORT_SECONDS):
            self._reported = now
            self._report(make())


class Incumbent:
    """Best labels so far; every better choice and every higher bound is reported to the watch."""

    def __init__(self, indexed: Indexed, watch: Watch) -> None:
        self.indexed, self.watch = indexed, watch
        self.labels: Labels | None = None
        self.cost = math.inf
        self.bound = -math.inf

    @property
    def target(self) -> float:
        """A choice must cost less than this to count as better."""
        return self.cost - tolerance(self.cost)

    @property
    def done(self) -> bool:
        """Whether the best choice is proven to be optimal."""
        return self.bound >= self.target

    def consider(self, labels: Labels) -> float:
        """The cost of labels (n); they are offered if they keep to the cap."""
        cost = float(self.indexed.costs(labels[None])[0])
        if self.indexed.used(labels[None]).sum() <= self.indexed.cap:
            self.offer(labels, cost)
        return cost

    def offer(self, labels: Labels, cost: float) -> None:
        """A choice that keeps to the cap, and what it costs."""
        if cost < self.target:
            self.labels, self.cost = labels.copy(), cost
            self.watch.report(self.progress, always=True)

    def prove(self, bound: float) -> None:
        """No choice costs less than the bound."""
        if min(bound, self.cost) > self.bound:
            self.bound = min(bound, self.cost)
            self.watch.report(self.progress, always=self.done)

    def progress(self) -> Progress:
        """What is known now."""
        chosen = {} if self.labels is None else self.indexed.assignment(self.labels.tolist())
        return Progress(chosen, self.cost, self.bound, self.watch.seconds)
