"""Assigning a paint: how soon the map shows it, and how soon its findings are counted.

Undo and redo of an assignment are used, since each repaints one room and asks for its findings.
The number of findings on both sides is learnt first; the second time is that of the frame with
which the head shows it. `python -m tests.benchmarks.bench_assign 60 500` takes other sizes.
"""

import re
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.benchmarks.measuring import (
    first_frame,
    module,
    running,
    saved,
    show_all,
    show_ratios,
)
from tests.support.big_house import big_house
from tests.support.project import DEMO
from tests.support.terminal import Terminal, frame_ends

TURNS = 10
UNDO, REDO = "u", "ctrl+r"
STILL = 2.0
"""Seconds without output after which nothing more is being computed."""


def main() -> None:
    sizes = [int(size) for size in sys.argv[1:]] or [60, 500]
    with opened(DEMO) as terminal:
        measure("demo house", terminal)
    for rooms in sizes:
        with saved(big_house(rooms)) as path, opened(path) as terminal:
            measure(f"{rooms} rooms", terminal)


@contextmanager
def opened(path: Path) -> Iterator[Terminal]:
    with running(module("housemap", str(path)), first_frame) as terminal:
        terminal.settle(STILL, timeout=120)
        yield terminal


def measure(name: str, terminal: Terminal) -> None:
    assign_another(terminal)
    counts = {key: count_after(terminal, key) for key in (UNDO, REDO)}
    assert len(set(counts.values())) > 1, f"this paint changes no count: {counts}"
    shown, counted = [], []
    for key in (UNDO, REDO) * TURNS:
        show_all(terminal, STILL)
        began = time.perf_counter()
        terminal.press(key)
        outputs = terminal.collect(quiet=0.3)
        shown.append(frame_ends(outputs)[0] - began)
        counted.append(terminal.wait_for(counts[key]) - began)
    show_ratios({f"{name}: shown": shown, f"{name}: findings counted": counted})


def assign_another(terminal: Terminal) -> None:
    """Put the last paint of the list, which suits least, on the walls of the selected room."""
    terminal.press("enter")
    terminal.wait_for("by findings")
    terminal.settle(STILL)
    terminal.press("end")
    terminal.settle(STILL)
    terminal.press("enter")


def count_after(terminal: Terminal, key: str) -> str:
    """The head's number of findings once everything is known after a key."""
    terminal.settle(STILL, timeout=60)
    terminal.press(key)
    terminal.settle(STILL, timeout=60)
    found = re.search(r"\d+ findings?", terminal.look())
    assert found, terminal.text
    return found[0]


if __name__ == "__main__":
    main()
