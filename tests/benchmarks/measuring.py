"""What every benchmark needs: programs in a terminal, medians, and a table to print.

Times of one run are compared with each other, never with a number of another machine; where two
programs are compared they take turns, so that a noisy minute hits both.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from housemap.file import save_house
from housemap.model.house import House
from tests.support.terminal import Terminal, frame_ends

SIZE = (160, 48)


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


def key_seconds(terminal: Terminal, key: str, quiet: float = 0.1) -> float:
    """From a key to the end of the first frame after it."""
    terminal.settle(quiet)
    began = time.perf_counter()
    terminal.press(key)
    return frame_ends(terminal.collect(quiet))[0] - began


def wall_seconds(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def show(what: str, seconds: Sequence[float], floor: float | None = None) -> float:
    """Print one row (median and range in milliseconds, ratio to a floor); the median."""
    middle = statistics.median(seconds)
    ratio = f"{middle / floor:8.2f} x" if floor else " " * 10
    low, high = min(seconds) * 1e3, max(seconds) * 1e3
    print(f"{what:<52}{middle * 1e3:10.1f} ms  ({low:.1f} to {high:.1f}){ratio}")
    return middle
