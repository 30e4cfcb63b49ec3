"""Keys at random moments while findings and light are still computed, against a bare canvas.

Each key is given about the same short time, so that the program has no pause in which to catch up.
"""

import random
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from tests.benchmarks.bench_schedule import all_different
from tests.benchmarks.measuring import SIZE, module, saved, show_ratios
from tests.support.big_house import big_house
from tests.support.project import DEMO
from tests.support.terminal import FRAME_END, Terminal

KEYS = 500
EACH_S = 0.06
"""Longer than the card takes to follow the selection: its frame is not to be taken for the next."""
AND_UP_TO_S = 0.03
STARTS_AFTER_S = 0.4
"""The map is there, and numpy is being imported beside it."""


def main() -> None:
    with saved(all_different(big_house(200))) as large:
        programs = {
            "bare 160x48 canvas": (module("tests.benchmarks.bare_canvas"), 2.0),
            "demo house, from its map on": (module("housemap", str(DEMO)), 2.0),
            "200 rooms, no two alike, from their map on": (module("housemap", str(large)), 8.0),
        }
        times: dict[str, list[float]] = {name: [] for name in programs}
        while any(len(each) < KEYS for each in times.values()):
            for name, (command, until_s) in programs.items():
                if len(times[name]) < KEYS:
                    times[name] += pressed(command, ("right", "left"), until_s)
    show_ratios(times)
    for name, seconds in times.items():
        late = sorted(seconds)[int(len(seconds) * 0.99)]
        print(f"{name}: 99 of 100 keys within {late * 1e3:.1f} ms")


def pressed(command: Sequence[str], keys: Sequence[str], until_s: float) -> list[float]:
    """From each key to the end of the next frame, the keys in turn."""
    with (
        tempfile.TemporaryDirectory(prefix="housemap-bench-") as home,
        Terminal(command, home=Path(home), size=SIZE) as terminal,
    ):
        while since_start(terminal) < STARTS_AFTER_S:
            terminal.read(0.005)
        found: list[float] = []
        while since_start(terminal) < until_s:
            found.append(frame_after(terminal, keys[len(found) % len(keys)]))
        return found


def since_start(terminal: Terminal) -> float:
    return time.perf_counter() - terminal.started_at


def frame_after(terminal: Terminal, key: str) -> float:
    """Reads on until the key has had its time, or has its frame if that is later."""
    began, drawn = time.perf_counter(), None
    each_s = EACH_S + random.uniform(0.0, AND_UP_TO_S)
    terminal.press(key)
    while drawn is None or time.perf_counter() - began < each_s:
        if terminal.read(0.005) and drawn is None and FRAME_END in terminal.newest.data:
            drawn = terminal.newest.at - began
    return drawn


if __name__ == "__main__":
    main()
