"""10,000 paints ranked for a wall seen from six rooms, under three lights, all checks counted.

Beside it the CIEDE2000 of as many paints from seven colours, by scikit-image, and the report of
the house with one paint. Times are of the processor; the room and the colours of the deck are
known, as they are on the screen.
"""

import time
from collections.abc import Callable

from housemap.checks import Report, report_of
from housemap.choose.chips import Chips, all_chips
from housemap.choose.rank import candidates, options_of, rank_deck
from housemap.choose.surface_trial import SurfaceTrial
from housemap.file.reader import read_house
from housemap.model.edits import paint_on
from tests.benchmarks.measuring import show_ratios
from tests.support.chips import random_paints, reference_de00
from tests.support.project import DEMO

PAINTS, RUNS, ROOM = 10_000, 7, "landing"


def works(report: Report, chips: Chips) -> dict[str, Callable[[], object]]:
    house, seen = report.house, report.study.graph.sees(ROOM)
    options = options_of(house, chips, "fan")
    colours = chips.lab100[: len(seen) + 1]
    other = paint_on(house, ROOM, "walls", next(iter(house.paints)))
    return {
        f"scikit-image, CIEDE2000 from {len(seen) + 1} colours": lambda: reference_de00(
            chips.lab100[:, None], colours
        ),
        "one paint, by a whole report": lambda: report.after(other),
        "every paint of the house": lambda: candidates(report, ROOM, "walls"),
        f"{PAINTS:,} paints, reference light": lambda: SurfaceTrial(report, ROOM, "walls").effects(
            options, deep=False
        ),
        f"best of {PAINTS:,} paints, {len(seen)} rooms in view, three lights": lambda: rank_deck(
            report, ROOM, "walls", chips, "fan"
        ),
    }


def seconds(work: Callable[[], object]) -> list[float]:
    taken = []
    for _ in range(RUNS):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return taken


def main() -> None:
    report, chips = report_of(read_house(DEMO)), all_chips(random_paints(PAINTS))
    len(report.findings)
    show_ratios({name: seconds(work) for name, work in works(report, chips).items()})


if __name__ == "__main__":
    main()
