"""How placing and sight grow with the house, on random plans of about 16 square metres a room.

"Pairs" is who sees whom, exactly; "shares" all of sight with the grid of standing points; "edit"
all of it after one door was shut, its plan included. The last columns are milliseconds a room.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from random import Random
from statistics import median

from housemap.model.house import House
from housemap.plan.free_space import space_of
from housemap.plan.placing import place
from housemap.plan.sightings import ways
from housemap.plan.visibility import Sight, sight_of
from tests.benchmarks.measuring import wall_seconds
from tests.support.plans import random_house

SIZES = (20, 60, 100, 250, 500)
PLANS = 3


def main() -> None:
    print(f"{'rooms':>6}{'place':>9}{'space':>9}{'pairs':>9}{'shares':>9}{'edit':>9}"
          f"{'pairs/room':>12}{'shares/room':>12}")  # fmt: skip
    for rooms in SIZES:
        rows = [times(random_house(Random(seed), rooms, ells=0.2)) for seed in range(PLANS)]
        placed, space, pairs, shares, edit = (
            median(each) * 1e3 for each in zip(*rows, strict=True)
        )
        print(f"{rooms:>6}{placed:>9.2f}{space:>9.2f}{pairs:>9.2f}{shares:>9.1f}{edit:>9.1f}"
              f"{pairs / rooms:>12.3f}{shares / rooms:>12.3f}")  # fmt: skip


def times(house: House) -> tuple[float, float, float, float, float]:
    plan = place(house)
    space = space_of(house, plan)
    return (
        best_of(3, partial(place, house)),
        best_of(3, partial(space_of, house, plan)),
        best_of(3, partial(ways, space)),
        best_of(1, partial(sight_of, house, plan)),
        best_of(3, partial(again, with_door_shut(house), sight_of(house, plan))),
    )


def again(house: House, before: Sight) -> Sight:
    return sight_of(house, place(house), before)


def with_door_shut(house: House) -> House:
    key = next(key for key, each in house.openings.items() if each.seen_through)
    shut = replace(house.openings[key], kind="doorway", door="shut")
    return replace(house, openings={**house.openings, key: shut})


def best_of(times_run: int, work: Callable[[], object]) -> float:
    return min(wall_seconds(work) for _ in range(times_run))


if __name__ == "__main__":
    main()
