"""How the cost of findings grows with the house: whole houses against one assignment.

A whole house should grow in line with its rooms; one assignment should cost about the same in a
house of 10 rooms and in one of 2,000.
"""

import time
from functools import partial
from itertools import cycle, islice
from statistics import median

from housemap.model.edits import assign

from housemap.checks.report import Report, report_of
from tests.benchmarks.measuring import wall_seconds
from tests.support.big_house import WALL_COLOURS, big_house

SIZES = (10, 60, 250, 500, 1000, 2000)
EDITS = 12


def main() -> None:
    print(f"{'rooms':>6}{'whole':>12}{'a room':>12}{'one edit':>12}{'findings':>10}")
    report_of(big_house(10))  # what is imported and tabulated once
    for rooms in SIZES:
        house = big_house(rooms)
        report = report_of(house)
        whole = median(wall_seconds(partial(report_of, house)) for _ in range(3))
        edit = median(edit_seconds(report, rooms))
        print(
            f"{rooms:>6}{whole * 1e3:>9.1f} ms{whole / rooms * 1e3:>9.3f} ms{edit * 1e3:>9.2f} ms"
            f"{len(report.findings):>10}"
        )


def edit_seconds(report: Report, rooms: int) -> list[float]:
    """Each edit paints the next of some rooms spread over the house, upon the one before."""
    times = []
    chosen = islice(cycle(list(report.study.house.rooms)[:: max(1, rooms // EDITS)]), EDITS)
    for number, room in enumerate(chosen):
        house = assign(report.study.house, room, "walls", f"p{number % len(WALL_COLOURS):02}")
        began = time.perf_counter()
        report = report_of(house, report)
        times.append(time.perf_counter() - began)
    return times


if __name__ == "__main__":
    main()
