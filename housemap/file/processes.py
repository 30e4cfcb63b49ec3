"""Another process for a part of the work: it begins with all that is known here."""

import os
import pickle
from collections.abc import Callable, Sequence
from contextlib import suppress
from threading import current_thread, main_thread
from typing import TypeVar

S = TypeVar("S")
T = TypeVar("T")


def cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def forked() -> tuple[int, int, int]:
    """Both ends of a pipe, and 0 in the process that is made; in this one, its number."""
    ours, theirs = os.pipe()
    try:
        return ours, theirs, os.fork()
    except OSError:
        os.close(ours)
        os.close(theirs)
        raise


def begin_apart(work: Callable[[], T]) -> Callable[[], T | None]:
    """Have another process work; what is returned waits for what it found, None where it failed.

    Nothing is begun where that would gain nothing, nor beside other work in threads.
    """
    alone = cores() == 1 or not hasattr(os, "fork") or current_thread() is not main_thread()
    try:
        ours, theirs, pid = (0, 0, -1) if alone else forked()
    except OSError:  # no more processes, or files, are to be had
        pid = -1
    if pid < 0:
        return lambda: None
    if pid:
        os.close(theirs)
        return lambda: _found(ours, pid)
    try:
        os.close(ours)
        with os.fdopen(theirs, "wb") as out:
            pickle.dump(work(), out, pickle.HIGHEST_PROTOCOL)
    finally:
        os._exit(0)  # without a word: what failed is done again by the one who asked


def _found(ours: int, pid: int) -> T | None:
    found: T | None = None
    with os.fdopen(ours, "rb") as sent, suppress(EOFError, pickle.UnpicklingError):
        found = pickle.load(sent)  # noqa: S301 - our own
    os.waitpid(pid, 0)
    return found


def in_two(work: Callable[[S], T], items: Sequence[S], worth: int = 12) -> list[T]:
    """What `work` makes of each, in order; of so many or more, another process does half."""
    middle = len(items) // 2 if len(items) >= worth else len(items)
    mine, others = items[:middle], items[middle:]
    found = begin_apart(lambda: [*map(work, others)]) if others else list
    return [*map(work, mine), *(found() or map(work, others))]
