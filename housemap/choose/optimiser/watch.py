"""The clock of a search: when to stop, and whom to tell how far it has come."""

import time
from collections.abc import Callable
from typing import Protocol

from housemap.choose.optimiser.problem import Progress

LOOK_SECONDS = 0.005
"""How often, at most, the stop signal is looked at; it may be a pipe."""
TELL_SECONDS = 0.05
"""How often, at most, a bound that rose is told; a better choice is always told."""

Tell = Callable[[Progress], None]


class Signal(Protocol):
    """What can tell a search to stop, such as an Event of threading or multiprocessing."""

    def is_set(self) -> bool: ...


class StoppedError(Exception):
    """The time is over, or the search was told to stop."""


class Watch:
    """Times one search; `poll` raises StoppedError once it should end."""

    def __init__(
        self, seconds: float | None = None, stop: Signal | None = None, tell: Tell | None = None
    ) -> None:
        self._began = time.perf_counter()
        self._end = None if seconds is None else self._began + seconds
        self._stop, self._tell = stop, tell
        self._look = self._told = self._began

    def silent(self) -> "Watch":
        """The same watch, telling nobody."""
        watch = Watch(None, self._stop)
        watch._began, watch._end = self._began, self._end
        return watch

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

    def tell(self, make: Callable[[], Progress], *, always: bool) -> None:
        """Tell the progress, if it is time to or must be; it is made only then."""
        now = time.perf_counter()
        if self._tell is not None and (always or now >= self._told + TELL_SECONDS):
            self._told = now
            self._tell(make())
