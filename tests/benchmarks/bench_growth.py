"""How the cost of findings grows with the house: whole houses against one assignment.

A whole house should grow in line with its rooms; one assignment should cost about the same in a
house of 10 rooms and in one of 2,000. "Listed" adds the order in which the screen shows them.
First what is found under the reference light, which the screen shows first; then everything, with
light and sight.
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
SIZES_IN_DEPTH = (10, 60, 250)
EDITS = 12


def main() -> None:
    report_of(big_house(10))  # what is imported and tabulated once
    print("under the reference light")
    measure(SIZES, deep=False)
    print("with light and sight")
    measure(SIZES_IN_DEPTH, deep=True)


def measure(sizes: tuple[int, ...], *, deep: bool) -> None:
    print(f"{'rooms':>6}{'whole':>13}{'a room':>12}{'one edit':>12}{'listed':>12}{'findings':>10}")
    for rooms in sizes:
        house = big_house(rooms)
        whole = wall_seconds(partial(report_of, house, deep=deep))
        report = report_of(house, deep=deep)
        edit, listed = edit_seconds(report)
        print(
            f"{rooms:>6}{whole * 1e3:>10.1f} ms{whole / rooms * 1e3:>9.3f} ms{edit * 1e3:>9.2f} ms"
            f"{listed * 1e3:>9.2f} ms{len(report.findings):>10}"
        )


def edit_seconds(report: Report) -> tuple[float, float]:
    """Medians of one assignment, without and with its list; each is made upon the one before."""
    edits, lists = [], []
    rooms = list(report.house.rooms)
    spread = islice(cycle(rooms[:: max(1, len(rooms) // EDITS)]), EDITS)
    for number, room in enumerate(spread):
        house = assign(report.house, room, "walls", f"p{number % len(WALL_COLOURS):02}")
        edits.append(wall_seconds(partial(report.after, house)))
        lists.append(wall_seconds(partial(_listed, report, house)))
        report = report.after(house)
    return median(edits), median(lists)


def _listed(report: Report, house: House) -> int:
    return len(report.after(house).findings)


if __name__ == "__main__":
    main()
