"""The schedule of a building of 200 rooms, against its report from scratch.

What the command takes is the start of Python, the report, and the two rows below it.
"""

import datetime as dt
from collections.abc import Callable
from functools import partial

from housemap.checks import report_of
from housemap.schedule.as_csv import as_csv
from housemap.schedule.as_markdown import as_markdown
from housemap.schedule.document import schedule_of
from housemap.schedule.page import as_html
from tests.benchmarks.measuring import show_ratios, wall_seconds
from tests.support.big_house import big_house

ROOMS, RUNS = 200, 5
DAY = dt.date(2026, 5, 2)


def main() -> None:
    house = big_house(ROOMS)
    report = report_of(house)
    schedule = schedule_of(report, DAY)
    works: dict[str, Callable[[], object]] = {
        f"report of {ROOMS} rooms": partial(report_of, house),
        "schedule": partial(schedule_of, report, DAY),
        "as HTML, with pictures": partial(as_html, schedule),
        "as Markdown": partial(as_markdown, schedule),
        "as CSV": partial(as_csv, schedule),
    }
    times: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(RUNS):
        for name, work in works.items():
            times[name].append(wall_seconds(work))
    show_ratios(times)


if __name__ == "__main__":
    main()
