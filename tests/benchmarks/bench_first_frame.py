"""The first frame of the program, and the one with all findings, against a bare Textual program."""

from tests.benchmarks import bare_canvas, bare_static
from tests.benchmarks.measuring import ALL_FOUND, FIRST_FRAME, module, show_ratios, start_seconds
from tests.support.project import DEMO

RUNS = 10

PROGRAMS = {
    "bare Textual, one Static": (module("tests.benchmarks.bare_static"), bare_static.READY),
    "bare Textual, 160x48 canvas": (module("tests.benchmarks.bare_canvas"), bare_canvas.READY),
    "housemap, first frame": (module("housemap", str(DEMO)), FIRST_FRAME),
    "housemap, all findings": (module("housemap", str(DEMO)), ALL_FOUND),
}


def main() -> None:
    times: dict[str, list[float]] = {name: [] for name in PROGRAMS}
    for _ in range(RUNS):
        for name, (command, ready) in PROGRAMS.items():
            times[name].append(start_seconds(command, ready))
    show_ratios(times)


if __name__ == "__main__":
    main()
