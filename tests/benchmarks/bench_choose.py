"""Paints for a whole house: to the proof without a limit and with one, and what is told early.

The houses are those of `tests.choose.support.problems`; "hard" ones have costs that no house has.
Ratios are to the free choice of 60 rooms from 24 paints, in the same run. The gap after two seconds
is what the program then tells: at most so much cheaper could a choice be.
"""

import resource
import statistics
from dataclasses import dataclass
from functools import partial

from housemap.choose.optimiser.completions import completions
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import solve
from tests.benchmarks.measuring import wall_seconds
from tests.choose.support.problems import house

SEEDS = range(3)
LONGEST_SECONDS = 40.0
EARLY_SECONDS = 2.0


@dataclass(frozen=True, slots=True)
class Case:
    name: str
    rooms: int
    paints: int
    limit: int | None
    roles: int = 0

    def problems(self) -> list[Problem]:
        make = partial(house, self.rooms, self.paints, limit=self.limit, roles=self.roles)
        return [make(seed) for seed in SEEDS]


CASES = (
    Case("free", 60, 24, None),
    Case("free", 500, 24, None),
    Case("hard, few paints", 120, 8, 4),
    Case("hard", 12, 24, 8),
    Case("hard", 40, 24, 8),
    Case("hard", 60, 24, 8),
    Case("hard", 120, 24, 8),
    Case("hard", 500, 24, 8),
    Case("roles", 40, 24, 8, 6),
    Case("roles", 60, 24, 8, 6),
    Case("roles", 60, 24, 5, 6),
    Case("roles", 40, 60, 8, 6),
)


def main() -> None:
    print(f"{'':<18}{'rooms':>6}{'of':>5}{'limit':>6}{'median':>10}{'worst':>10}{'ratio':>9}"
          f"{'proven':>8}{'gap at 2 s':>12}{'gap':>8}")  # fmt: skip
    unit = statistics.median(free_seconds(problem) for problem in CASES[0].problems())
    for case in CASES:
        print(row(case, unit), flush=True)
    every = Case("", 60, 24, 8).problems()
    each = statistics.median(wall_seconds(partial(completions, one)) for one in every)
    print(f"the best with every paint in every room, 60 of 24, limit 8: {each:.2f} s")
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


def free_seconds(problem: Problem) -> float:
    return min(wall_seconds(partial(solve, problem)) for _ in range(5))


def row(case: Case, unit: float) -> str:
    runs = [run(problem) for problem in case.problems()]
    seconds = [one.seconds for one in runs]
    middle = statistics.median(seconds)
    proven = sum(one.proven for one in runs)
    early, last = (max(values) for values in zip(*((o.early, o.gap) for o in runs), strict=True))
    return (
        f"{case.name:<18}{case.rooms:>6}{case.paints:>5}{case.limit or '-':>6}"
        f"{middle:>8.3f} s{max(seconds):>8.3f} s{middle / unit:>8.0f}x"
        f"{proven:>4} of {len(runs)}{early:>12.2%}{last:>8.2%}"
    )


@dataclass(frozen=True, slots=True)
class Measured:
    seconds: float
    proven: bool
    gap: float
    early: float


def run(problem: Problem) -> Measured:
    told: list[Progress] = []
    solution = solve(problem, seconds=LONGEST_SECONDS, progress=told.append)
    early = [one for one in told if one.seconds <= EARLY_SECONDS]
    gap = solution.gap if solution.seconds <= EARLY_SECONDS else early[-1].gap
    return Measured(solution.seconds, solution.proven, solution.gap, gap)


if __name__ == "__main__":
    main()
