"""The first frames of the program on the demo house, against a bare Textual program.

First in processor time of the process that draws, which other work on the machine changes little,
and which leaves out what another process computes ahead; then by the clock.
"""

import os
import tempfile

from tests.benchmarks import bare_canvas, bare_static
from tests.benchmarks.measuring import (
    Shown,
    all_found,
    first_frame,
    module,
    show_ratios,
    some_found,
    start_processor_seconds,
    start_seconds,
)
from tests.support.project import DEMO

RUNS = 10

STATIC = module("tests.benchmarks.bare_static")
CANVAS = module("tests.benchmarks.bare_canvas")
PROGRAM = module("housemap", str(DEMO))

PROGRAMS: dict[str, tuple[list[str], Shown]] = {
    "bare Textual, one Static": (STATIC, lambda text: bare_static.READY in text),
    "bare Textual, 160x48 canvas": (CANVAS, lambda text: bare_canvas.READY in text),
    "housemap, first frame": (PROGRAM, first_frame),
    "housemap, findings under the reference light": (PROGRAM, some_found),
    "housemap, all findings": (PROGRAM, all_found),
}


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="housemap-bench-") as cache:
        start_seconds(PROGRAM, all_found, cache)
        every = {name: (*program, os.devnull) for name, program in PROGRAMS.items()}
        every["the same, opened before"] = PROGRAM, all_found, cache
        for heading, seconds in (("processor", start_processor_seconds), ("clock", start_seconds)):
            print(f"-- {heading}")
            times: dict[str, list[float]] = {name: [] for name in every}
            for _ in range(RUNS):
                for name, program in every.items():
                    times[name].append(seconds(*program))
            show_ratios(times)


if __name__ == "__main__":
    main()
