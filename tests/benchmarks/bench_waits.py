"""What a user waits for, in one table, as ratios to the first frame of a bare Textual program.

In processor time, which other work on the machine changes least: what a command and the threads and
processes of it compute; beside it what a user waits by the clock, where the machine is quiet. Of a
program in a terminal it is what the process that draws computes until it shows that; another, on a
core of its own, checks the house ahead (`first_frame` compares by the clock). Below the table: how
findings and merging grow with the rooms (1: as the rooms do).
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from itertools import pairwise
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter, process_time

from housemap.checks.report import report_of
from housemap.file.deck_file import save_deck
from housemap.file.reader import read_house
from housemap.model.house import EDITIONS
from housemap.plan.elevations import Elevations
from housemap.plan.placing import place
from housemap.plan.view import Camera, look
from housemap.plan.visibility import sight_of
from tests.benchmarks import bare_static
from tests.benchmarks.bench_files import exponent, merged, three_texts
from tests.benchmarks.bench_schedule import all_different
from tests.benchmarks.measuring import AS_INSTALLED, all_found, first_frame, module, saved
from tests.benchmarks.measuring import start_processor_seconds as shown_seconds
from tests.support.big_house import big_house
from tests.support.chips import random_paints
from tests.support.project import DEMO

RUNS = 3
SIZES = (10, 100, 1000, 2000)
SIZES_IN_DEPTH = (10, 50, 200)
FLOOR = "bare Textual, first frame"


def main() -> None:
    demo, check = module("housemap", str(DEMO)), module("housemap", "check", str(DEMO))
    with (
        saved(big_house(2000)) as huge,
        saved(all_different(big_house(200))) as large,
        tempfile.TemporaryDirectory(prefix="housemap-bench-") as folder,
    ):
        cache, deck = str(Path(folder) / "cache"), Path(folder) / "deck.toml"
        save_deck(random_paints(50_000), deck)
        table: dict[str, Callable[[], float]] = {
            FLOOR: partial(
                shown_seconds,
                module("tests.benchmarks.bare_static"),
                lambda text: bare_static.READY in text,
            ),
            "demo, first frame": partial(shown_seconds, demo, first_frame),
            "demo, all findings in every light": partial(shown_seconds, demo, all_found),
            "the same, opened before": partial(again, shown_seconds, demo, all_found, cache),
            "numpy and networkx imported": partial(command, [sys.executable, "-c", IMPORTS]),
            "housemap check, demo": partial(command, check),
            "the same, checked before": partial(again, command, check, cache),
            "housemap fill, demo": partial(command, module("housemap", "fill", str(DEMO))),
            **{
                f"schedule of 200 unlike rooms, {edition}": partial(
                    command, schedule(large, edition)
                )
                for edition in EDITIONS
            },
            "the full one, written before": partial(again, command, schedule(large), cache),
            "a deck of 50,000 paints ranked": partial(command, ranking(deck)),
            "the same, ranked before": partial(again, command, ranking(deck), cache),
            "2,000 rooms, first findings": partial(findings, huge),
            "2,000 rooms, merge of three": partial(merge_seconds, 2000),
            "a turn in the walk, 160 x 96": turn,
        }
        show(table)
    growth("findings, reference light", SIZES, partial(report_seconds, deep=False))
    growth("findings, every light", SIZES_IN_DEPTH, partial(report_seconds, deep=True))
    growth("merge of three", SIZES, merge_seconds)


IMPORTS = "import warnings; warnings.simplefilter('ignore'); import numpy, networkx"


def schedule(path: Path, edition: str = "full") -> list[str]:
    out = Path(tempfile.gettempdir()) / "housemap-bench.html"
    return module("housemap", "schedule", str(path), f"--for={edition}", "--force", "-o", str(out))


def ranking(deck: Path) -> list[str]:
    return module("housemap", "rank", "--deck", str(deck), str(DEMO), "landing")


def show(table: Mapping[str, Callable[[], float]]) -> None:
    print(f"{'':40}{'median':>12}{'p95':>12}{'ratio':>9}{'clock':>11}{'peak':>10}")
    floor = 0.0
    for name, measure in table.items():
        COMMANDS.clear()
        times = [measure() for _ in range(RUNS)]
        middle, late = quantiles(times, n=20, method="inclusive")[9::9]
        floor = floor or middle
        clocks, peaks = zip(*COMMANDS, strict=True) if COMMANDS else ((), ())
        seen = f"{median(clocks):>9.3f} s{max(peaks):>7.0f} MB" if COMMANDS else ""
        print(
            f"{name:40}{middle:>10.3f} s{late:>10.3f} s{middle / floor:>7.2f} x{seen}", flush=True
        )


COMMANDS: list[tuple[float, float]] = []
"""Of each command run for one row, seconds by the clock and the peak of its memory in 1e6 bytes."""


def again(measure: Callable[..., float], *arguments: object) -> float:
    """Measured the second time, with what the first one left in the cache."""
    measure(*arguments)
    COMMANDS.clear()
    return measure(*arguments)


def command(argv: Sequence[str], cache: str = os.devnull) -> float:
    """Processor seconds of a command with all that it starts."""
    as_installed = os.environ | AS_INSTALLED | {"HOUSEMAP_CACHE_DIR": cache}
    began = perf_counter()
    process = subprocess.Popen(
        argv, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, env=as_installed
    )
    assert process.stderr
    with process.stderr as told:
        text = told.read().decode()
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode in {0, 1}, text
    COMMANDS.append((perf_counter() - began, usage.ru_maxrss * 1024 / 1e6))
    return usage.ru_utime + usage.ru_stime


def findings(path: Path) -> float:
    """From the file to the findings that are shown first, those under the reference light."""
    began = process_time()
    report_of(read_house(path), deep=False)
    return process_time() - began


def report_seconds(rooms: int, *, deep: bool) -> float:
    house = big_house(rooms)
    began = process_time()
    report_of(house, deep=deep)
    return process_time() - began


def merge_seconds(rooms: int) -> float:
    texts = three_texts(rooms)
    began = process_time()
    merged(texts)
    return process_time() - began


def turn() -> float:
    """The longest of the pictures of one full turn, from where most of the kitchen is seen."""
    house = read_house(DEMO)
    plan = place(house)
    sight = sight_of(house, plan)
    elevations = Elevations(house, plan, sight.space)
    at_m = sight.rooms["hall"].views.best["kitchen"].at_m
    times = []
    for toward in range(0, 360, 10):
        began = process_time()
        look(elevations, Camera("hall", at_m, float(toward)), 160, 96, smooth=True)
        times.append(process_time() - began)
    return sorted(times)[int(len(times) * 0.95)]


def growth(name: str, sizes: Sequence[int], seconds: Callable[[int], float]) -> None:
    """Print the least of three times by size, and the exponent of each step."""
    seconds(sizes[0])  # what is imported and tabulated once
    found = [(rooms, min(seconds(rooms) for _ in "123")) for rooms in sizes]
    steps = [f"{exponent(a, b):.2f}" for a, b in pairwise(found)]
    cells = ", ".join(f"{rooms} rooms {took:.3f} s" for rooms, took in found)
    print(
        f"{name}: {cells}; exponents {', '.join(steps)}, in all {exponent(found[0], found[-1]):.2f}"
    )


if __name__ == "__main__":
    main()
