"""House files by size: read, written, and three of them merged as `housemap merge` does it.

Beside them what tomli takes for the text alone. Processor time, the least of some runs; the
exponent says how the time grows with the rooms from the size before (1: in line with them).
"""

import math
import time
from collections.abc import Callable
from functools import partial

import tomli

from housemap.file.merge import merge_files
from housemap.file.reader import HouseFile, parse_house
from housemap.file.writer import dump_house
from housemap.model.edits import assign, change_entity
from tests.support.big_house import WALL_COLOURS, big_house

SIZES = (10, 60, 250, 500, 1000, 2000)
RUNS = 5


def main() -> None:
    heads = ("tomli", "read", "write", "merge of three", "exponent of the merge")
    print(f"{'rooms':>6}" + "".join(f"{head:>16}" for head in heads[:-1]) + f"  {heads[-1]}")
    before: tuple[int, float] | None = None
    for rooms in SIZES:
        times = seconds_of(rooms)
        cells = "".join(f"{each * 1e3:>13.1f} ms" for each in times)
        growth = f"{exponent(before, (rooms, times[-1])):.2f}" if before else ""
        print(f"{rooms:>6}{cells}  {growth}")
        before = rooms, times[-1]


def exponent(before: tuple[int, float], after: tuple[int, float]) -> float:
    return math.log(after[1] / before[1]) / math.log(after[0] / before[0])


def seconds_of(rooms: int) -> tuple[float, float, float, float]:
    house, texts = big_house(rooms), three_texts(rooms)
    return (
        least_seconds(partial(tomli.loads, texts[0])),
        least_seconds(partial(parse_house, texts[0])),
        least_seconds(partial(dump_house, house)),
        least_seconds(partial(merged, texts)),
    )


def three_texts(rooms: int) -> tuple[str, ...]:
    """A house file, and the same as two have changed it."""
    house = big_house(rooms)
    keys = list(house.rooms)
    mine = assign(house, keys[0], "walls", f"p{len(WALL_COLOURS) - 1:02}")
    theirs = change_entity(house, "rooms", keys[-1], notes="theirs")
    return tuple(map(dump_house, (house, mine, theirs)))


def merged(texts: tuple[str, ...]) -> str:
    sent, yours, theirs = (HouseFile(parse_house(text), text.encode()) for text in texts)
    return merge_files(sent, yours, theirs)[0]


def least_seconds(call: Callable[[], object]) -> float:
    times = []
    for _ in range(RUNS):
        start = time.process_time()
        call()
        times.append(time.process_time() - start)
    return min(times)


if __name__ == "__main__":
    main()
