"""`housemap schedule` of 200 rooms as HTML: the whole command, and what it is made of.

Once with rooms of few sizes, as in most large buildings, and once with a lamp in every room and no
two rooms alike, where no light can be shared. The first row is the start of Python with numpy.
"""

import datetime as dt
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

from housemap.checks import Report, report_of
from housemap.light import enclosures
from housemap.model.house import House, Lamp, Room
from housemap.schedule.as_text import as_markdown, sheet
from housemap.schedule.document import schedule_of
from housemap.schedule.publishing import as_html
from tests.benchmarks.measuring import module, saved, show_ratios, wall_seconds
from tests.support.big_house import big_house

ROOMS, RUNS = 200, 5
DAY = dt.date(2026, 5, 2)


def main() -> None:
    house = big_house(ROOMS)
    with saved(house) as path, saved(all_different(house)) as other:
        works: dict[str, Callable[[], object]] = {
            "python, numpy": partial(run, [sys.executable, "-c", "import numpy"]),
            f"housemap schedule, {ROOMS} rooms, HTML": partial(command, path),
            "the same, no two rooms alike": partial(command, other),
            **parts(house),
        }
        times: dict[str, list[float]] = {name: [] for name in works}
        for _ in range(RUNS):
            for name, work in works.items():
                times[name].append(wall_seconds(work))
    show_ratios(times)


def parts(house: House) -> dict[str, Callable[[], object]]:
    schedule = schedule_of(report_of(house), DAY)
    return {
        "of it: report": partial(from_scratch, house),
        "of it: schedule": partial(schedule_of, schedule.report, DAY),
        "of it: HTML with pictures": partial(as_html, schedule),
        "HTML for the painter, every wall drawn": partial(as_html, schedule, "painter"),
        "Markdown instead": partial(as_markdown, schedule),
        "CSV instead": partial(sheet, schedule),
    }


def all_different(house: House) -> House:
    rooms = {key: _own(room, number) for number, (key, room) in enumerate(house.rooms.items())}
    return replace(house, rooms=rooms)


def _own(room: Room, number: int) -> Room:
    assert room.size_m is not None
    east, north = room.size_m
    size = (east, north + number / 200.0) if room.windows else room.size_m
    lamp = Lamp(800.0 + number, 2700.0)
    return replace(room, size_m=size, height_m=2.4 + number / 1000.0, lamps={"pendant": lamp})


def from_scratch(house: House) -> Report:
    enclosures.forget()
    return report_of(house)


def command(path: Path) -> None:
    run(module("housemap", "schedule", str(path), "-o", str(path.with_suffix(".html"))))


def run(words: list[str]) -> None:
    subprocess.run(words, capture_output=True, check=True)


if __name__ == "__main__":
    main()
