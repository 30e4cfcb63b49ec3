"""Paints for a whole house: to the proof without a limit and with one, and what is told early.

The houses are those of `tests.choose.support.problems`; "hard" ones have costs that no house has.
Ratios are to the free choice of 60 rooms from 24 paints, in the same run. The gap after so many
seconds is what the program then tells: at most so much cheaper could a choice be. A stop is from
the signal to the answer.
"""

import math
import resource
import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from threading import Event, Timer

from housemap.choose.optimiser.best_completion import completions
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import Run, solve
from tests.benchmarks.measuring import wall_seconds
from tests.choose.support.problems import house, open_plan

LONGEST_SECONDS = 40.0
EARLY_SECONDS = (0.5, 1.0, 2.0, 5.0)
STOPS_SECONDS = (0.02, 0.2, 0.5, 1.0, 1.7)
"""After so long the work is told to stop."""


@dataclass(frozen=True, slots=True)
class Case:
    name: str
    rooms: int
    paints: int
    limit: int | None
    roles: int = 0
    seeds: int = 3

    def problems(self) -> list[Problem]:
        make = partial(house, self.rooms, self.paints, limit=self.limit, roles=self.roles)
        return [make(seed) for seed in range(self.seeds)]


CASES = (
    Case("free", 60, 24, None),
    Case("free", 500, 24, None),
    Case("hard, few paints", 120, 8, 4),
    Case("hard", 12, 24, 8, seeds=8),
    Case("hard", 40, 24, 8, seeds=8),
    Case("hard", 60, 24, 8, seeds=8),
    Case("hard", 120, 24, 8),
    Case("hard", 500, 24, 8, seeds=1),
    Case("roles", 40, 24, 8, 6),
    Case("roles", 60, 24, 8, 6, seeds=8),
    Case("roles", 60, 24, 5, 6),
    Case("roles", 40, 60, 8, 6),
)


def main() -> None:
    early = "".join(f"{f'at {seconds:g} s':>9}" for seconds in EARLY_SECONDS)
    print(f"{'':<18}{'rooms':>6}{'of':>5}{'limit':>6}{'median':>10}{'worst':>10}{'ratio':>9}"
          f"{'proven':>10}  worst gap told{early}{'end':>9}")  # fmt: skip
    unit = statistics.median(free_seconds(problem) for problem in CASES[0].problems())
    for case in CASES:
        print(row(case, unit), flush=True)
    every = Case("", 60, 24, 8).problems()
    each = statistics.median(wall_seconds(partial(completions, one)) for one in every)
    print(f"the best with every paint in every room, 60 of 24, limit 8: {each:.2f} s")
    show_stops(unit)
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


def free_seconds(problem: Problem) -> float:
    return min(wall_seconds(partial(solve, problem)) for _ in range(5))


def row(case: Case, unit: float) -> str:
    runs = [run(problem) for problem in case.problems()]
    seconds = [one.seconds for one in runs]
    middle = statistics.median(seconds)
    proven = sum(one.proven for one in runs)
    gaps = "".join(f"{max(at):>9.2%}" for at in zip(*(one.gaps for one in runs), strict=True))
    return (
        f"{case.name:<18}{case.rooms:>6}{case.paints:>5}{case.limit or '-':>6}"
        f"{middle:>8.3f} s{max(seconds):>8.3f} s{middle / unit:>8.0f}x"
        f"{proven:>5} of {len(runs)}{'':<17}{gaps}"
    )


@dataclass(frozen=True, slots=True)
class Measured:
    seconds: float
    proven: bool
    gaps: tuple[float, ...]
    """Told after EARLY_SECONDS and at the end."""


def run(problem: Problem) -> Measured:
    told: list[Progress] = []
    solution = solve(problem, seconds=LONGEST_SECONDS, progress=told.append)
    told.append(solution)
    gaps = (_gap_at(seconds, told) for seconds in EARLY_SECONDS)
    return Measured(solution.seconds, solution.proven, (*gaps, solution.gap))


def _gap_at(seconds: float, told: Sequence[Progress]) -> float:
    return [math.inf, *(one.gap for one in told if one.seconds <= seconds)][-1]


def show_stops(unit: float) -> None:
    """The longest of the waits after a stop, by kind of work."""
    problems = {
        "60 of 24": house(60, 24, 0, limit=8),
        "500 of 24": house(500, 24, 0, limit=8),
        "120, open plan": open_plan(120, 24, 0, limit=6, density=0.5),
    }
    works: dict[str, Callable[[Problem, float], float]] = {
        "solve": partial(stopped, solve),
        "completions": partial(stopped, completions),
        "a search in the background": stopped_run,
    }
    for what, problem in problems.items():
        for name, work in works.items():
            worst = max(work(problem, seconds) for seconds in STOPS_SECONDS)
            print(f"stop of {name}, {what}: at most {worst * 1e3:.0f} ms, {worst / unit:.1f}x")


def stopped(work: Callable[..., object], problem: Problem, seconds: float) -> float:
    """How long the work in this thread goes on after it is told to stop."""
    stop, told = Event(), [float("inf")]

    def report() -> None:
        told[0] = time.perf_counter()
        stop.set()

    timer = Timer(seconds, report)
    timer.start()
    work(problem, stop=stop)
    ended = time.perf_counter()
    timer.cancel()
    return max(0.0, ended - told[0])


def stopped_run(problem: Problem, seconds: float) -> float:
    """To end a process of its own."""
    with Run(problem) as search:
        end = time.perf_counter() + seconds
        while time.perf_counter() < end and not search.ended:
            search.poll(0.01)
        if search.ended:
            return 0.0
        return wall_seconds(search.close)


if __name__ == "__main__":
    main()
