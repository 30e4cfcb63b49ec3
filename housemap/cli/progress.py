"""A line on the terminal while a command works for more than a second; gone before its output."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Lock, Thread
from typing import TextIO

QUIET_S = 1.0
"""So long nothing is shown."""
STEP_S = 0.5
CLEAR = "\r\x1b[K"


class Clearing:
    """A stream that takes the line away before anything is written to it."""

    def __init__(self, stream: TextIO, clear: Callable[[], None]) -> None:
        self._stream, self._clear = stream, clear

    def write(self, text: str) -> int:
        self._clear()
        return self._stream.write(text)

    def __getattr__(self, name: str) -> object:
        return getattr(self._stream, name)


class Line:
    """The line: how long the command has worked, and how long it still may."""

    def __init__(self, name: str, most_s: float | None, stream: TextIO) -> None:
        self._name, self._most_s, self._stream = name, most_s, stream
        self._begun = time.monotonic()
        self._done, self._lock = Event(), Lock()
        self._shown = False

    def run(self) -> None:
        pause = QUIET_S
        while not self._done.wait(pause):
            pause = STEP_S
            with self._lock:
                if not self._done.is_set():
                    self._shown = True
                    self._stream.write(f"{CLEAR}{self.text}")
                    self._stream.flush()

    @property
    def text(self) -> str:
        passed = time.monotonic() - self._begun
        left = max((self._most_s or 0.0) - passed, 0.0)
        until = f", at most {left:.0f} s left" if self._most_s is not None else ""
        return f"{self._name}: {passed:.0f} s{until}; ctrl+c stops"

    def end(self) -> None:
        self._done.set()
        with self._lock:
            if self._shown:
                self._shown = False
                self._stream.write(CLEAR)
                self._stream.flush()


@contextmanager
def progress(name: str, most_s: float | None = None) -> Iterator[None]:
    """Show the line on standard error where that is a terminal, until something is printed."""
    if not sys.stderr.isatty():
        yield
        return
    out, err = sys.stdout, sys.stderr
    line = Line(name, most_s, err)
    sys.stdout, sys.stderr = (Clearing(each, line.end) for each in (out, err))
    Thread(target=line.run, daemon=True).start()
    try:
        yield
    finally:
        line.end()
        sys.stdout, sys.stderr = out, err
