"""What every benchmark needs: programs in a terminal, medians, and a table to print.

Times of one run are compared with each other, never with a number of another machine; where two
programs are compared they take turns, so that a noisy minute hits both.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from housemap.file import save_house
from housemap.model.house import House
from tests.support.terminal import Terminal, frame_ends

SIZE = (160, 48)

FIRST_FRAME = "all keys"
"""Stands at the end of the key bar, the last line of the program's first frame."""

ALL_FOUND = "▲W"
"""The mark of a room with a warning, which the map shows as soon as all findings are known."""


def module(name: str, *arguments: str) -> list[str]:
    """The command line that runs a module with this Python."""
    return [sys.executable, "-m", name, *arguments]


@contextmanager
def saved(house: House) -> Iterator[Path]:
    """The house in a file, in a folder that is gone afterwards."""
    with tempfile.TemporaryDirectory(prefix="housemap-bench-") as folder:
        path = Path(folder) / "house.toml"
        save_house(house, path)
        yield path


@contextmanager
def running(argv: Sequence[str], ready: str, size: tuple[int, int] = SIZE) -> Iterator[Terminal]:
    """The program in a terminal and a fresh home, once `ready` shows."""
    with (
        tempfile.TemporaryDirectory(prefix="housemap-bench-") as home,
        Terminal(argv, home=Path(home), size=size) as terminal,
    ):
        terminal.wait_for(ready, timeout=60)
        yield terminal


def start_seconds(argv: Sequence[str], ready: str) -> float:
    """From the start of the process to the output with which `ready` is on the screen."""
    with (
        tempfile.TemporaryDirectory(prefix="housemap-bench-") as home,
        Terminal(argv, home=Path(home), size=SIZE) as terminal,
    ):
        terminal.read(30)
        terminal.settle()
        return terminal.wait_for(ready, timeout=60) - terminal.started_at


def key_seconds(terminal: Terminal, key: str, quiet: float = 0.1) -> float | None:
    """From a key to the end of the first frame after it; None where it drew nothing."""
    terminal.settle(quiet)
    began = time.perf_counter()
    terminal.press(key)
    ends = frame_ends(terminal.collect(quiet))
    return ends[0] - began if ends else None


def wall_seconds(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def show_ratios(times: Mapping[str, Sequence[float]]) -> None:
    """Print median, range in milliseconds, and the ratio of medians to the first row's."""
    floor = statistics.median(next(iter(times.values())))
    for what, seconds in times.items():
        middle = statistics.median(seconds)
        low, high = min(seconds) * 1e3, max(seconds) * 1e3
        spread = f"({low:.1f} to {high:.1f})"
        print(f"{what:<44}{middle * 1e3:>9.1f} ms  {spread:<20}{middle / floor:>8.2f} x")
