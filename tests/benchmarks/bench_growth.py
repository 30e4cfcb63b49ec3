"""How the cost of findings grows with the house: whole houses against one assignment.

A whole house should grow in line with its rooms; one assignment should cost about the same in a
house of 10 rooms and in one of 2,000. "Listed" adds the order in which the screen shows them.
"""

from functools import partial
from itertools import cycle, islice
from statistics import median

from housemap.checks.report import Report, report_of
from housemap.model.edits import assign
from housemap.model.house import House
from tests.benchmarks.measuring import wall_seconds
from tests.support.big_house import WALL_COLOURS, big_house

SIZES = (10, 60, 250, 500, 1000, 2000)
EDITS = 12


def main() -> None:
    print(f"{'rooms':>6}{'whole':>12}{'a room':>12}{'one edit':>12}{'listed':>12}{'findings':>10}")
    report_of(big_house(10))  # what is imported and tabulated once
    for rooms in SIZES:
        house = big_house(rooms)
        report = report_of(house)
        whole = median(wall_seconds(partial(report_of, house)) for _ in range(3))
        edit, listed = edit_seconds(report)
        print(
            f"{rooms:>6}{whole * 1e3:>9.1f} ms{whole / rooms * 1e3:>9.3f} ms{edit * 1e3:>9.2f} ms"
            f"{listed * 1e3:>9.2f} ms{len(report.findings):>10}"
        )


def edit_seconds(report: Report) -> tuple[float, float]:
    """Medians of one assignment, without and with its list; each is made upon the one before."""
    edits, lists = [], []
    rooms = list(report.house.rooms)
    spread = islice(cycle(rooms[:: max(1, len(rooms) // EDITS)]), EDITS)
    for number, room in enumerate(spread):
        house = assign(report.house, room, "walls", f"p{number % len(WALL_COLOURS):02}")
        edits.append(wall_seconds(partial(report_of, house, report)))
        lists.append(wall_seconds(partial(_listed, house, report)))
        report = report_of(house, report)
    return median(edits), median(lists)


def _listed(house: House, report: Report) -> int:
    return len(report_of(house, report).findings)


if __name__ == "__main__":
    main()
