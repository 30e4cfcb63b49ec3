"""What every benchmark needs: programs in a terminal, medians, and a table to print.

Times of one run are compared with each other, never with a number of another machine; where two
programs are compared they take turns, so that a noisy minute hits both.
"""

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cached_property
from pathlib import Path

from housemap.file.save import save_house
from housemap.model.house import House
from tests.support.terminal import Terminal, frame_ends

SIZE = (160, 48)
AS_INSTALLED = {"PYTHONDONTWRITEBYTECODE": ""}
"""Modules are compiled once, not at every start."""

ALL_READ_S = 1.5
"""Without output for so long, a start is over: what is read later is stamped too late."""

Shown = Callable[[str], bool]
"""Whether a text of the screen shows what is waited for."""


def first_frame(text: str) -> bool:
    """Whether the key bar, the last line of the first frame, is there to its end."""
    return "? help" in text


def some_found(text: str) -> bool:
    """Whether the head counts findings, be it under the reference light alone."""
    return " finding" in text.partition("\n")[0]


def all_found(text: str) -> bool:
    """Whether the head counts all findings, those by day and in the evening too."""
    return some_found(text) and "so far" not in text.partition("\n")[0]


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
def running(argv: Sequence[str], ready: Shown, size: tuple[int, int] = SIZE) -> Iterator[Terminal]:
    """The program in a terminal and a fresh home, once the screen is `ready`."""
    with (
        tempfile.TemporaryDirectory(prefix="housemap-bench-") as home,
        Terminal(argv, home=Path(home), size=size) as terminal,
    ):
        wait_for(terminal, ready)
        yield terminal


def wait_for(terminal: Terminal, ready: Shown, quiet: float = 0.15) -> float:
    """When the screen was first `ready`; output is read before it is looked at."""
    terminal.read(30)
    terminal.settle(quiet)
    return terminal.wait_until(lambda: ready(terminal.text), "never ready", timeout=120)


def start_seconds(argv: Sequence[str], ready: Shown, cache: str = os.devnull) -> float:
    """From the start of the process to the output with which the screen is `ready`."""
    cached = {"HOUSEMAP_CACHE_DIR": cache}
    with (
        tempfile.TemporaryDirectory(prefix="housemap-bench-") as home,
        Terminal(argv, home=Path(home), size=SIZE, env=AS_INSTALLED | cached) as terminal,
    ):
        return wait_for(terminal, ready, ALL_READ_S) - terminal.started_at


def processor_seconds(pid: int) -> float:
    """What the threads of a process have computed so far; not the time that they waited."""
    threads = Path(f"/proc/{pid}/task").glob("*/schedstat")
    return sum(int(each.read_text().split()[0]) for each in threads) / 1e9


class Stamped(Terminal):
    """Keeps what its program has computed by each piece of output."""

    def read(self, timeout: float) -> bool:
        if not super().read(timeout):
            return False
        self.spent[self.newest.at] = processor_seconds(self.pid)
        return True

    @cached_property
    def spent(self) -> dict[float, float]:
        return {}


def start_processor_seconds(argv: Sequence[str], ready: Shown, cache: str = os.devnull) -> float:
    """What a process computes from its start to the output with which the screen is `ready`."""
    cached = {"HOUSEMAP_CACHE_DIR": cache}
    with (
        tempfile.TemporaryDirectory(prefix="housemap-bench-") as home,
        Stamped(argv, home=Path(home), size=SIZE, env=AS_INSTALLED | cached) as terminal,
    ):
        return terminal.spent[wait_for(terminal, ready, ALL_READ_S)]


def show_all(terminal: Terminal, quiet: float, timeout: float = 60.0) -> None:
    """Settle, and show the screen what came: done later, that would be counted with a key."""
    terminal.settle(quiet, timeout)
    terminal.collect(0.001)


def key_seconds(terminal: Terminal, key: str, quiet: float = 0.1) -> float | None:
    """From a key to the end of the first frame after it; None where it drew nothing."""
    show_all(terminal, quiet)
    began = time.perf_counter()
    terminal.press(key)
    ends = frame_ends(terminal.collect(quiet))
    return ends[0] - began if ends else None


def wall_seconds(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def show_ratios(times: Mapping[str, Sequence[float]]) -> None:
    """Print median and range in milliseconds, and the ratios to the first row.

    The ratio of the medians is what a user meets; that of the shortest times is what remains when
    other work on the machine is left out.
    """
    floor = next(iter(times.values()))
    for what, seconds in times.items():
        middle, least, most = statistics.median(seconds), min(seconds), max(seconds)
        ratio, best = middle / statistics.median(floor), least / min(floor)
        spread = f"({least * 1e3:.1f} to {most * 1e3:.1f})"
        print(f"{what:<46}{middle * 1e3:>9.1f} ms {spread:<20}{ratio:>7.2f} x, best {best:.2f} x")
