"""Small houses by chance, every choice of paints tried: is what is called best really best?

    python -m tests.benchmarks.brute_houses [HOUSES]

The cost of every choice is added up from outside (`tests.choose.support.documented`), and no swap
of one paint betters the suggestion. Prints the houses where it does not hold; exits 1 then.
"""

import sys
from itertools import product

from housemap.checks import report_of
from housemap.choose.optimiser.solve import solve
from tests.choose.support.documented import documented_cost
from tests.choose.support.random_houses import problem_of, random_house

CLOSE = 0.02


def wrong(seed: int) -> str:
    """What does not hold in a house; empty where all does."""
    report = report_of(random_house(seed, 3, 3), deep=False)
    limit = (None, 1, 2)[seed % 3]
    most = limit or report.house.brief.colours
    problem = problem_of(report, paints=limit)
    solution = solve(problem)
    costs = {
        paints: documented_cost(report, dict(zip(problem.rooms, paints, strict=True)), limit)
        for paints in product(report.house.paints, repeat=len(problem.rooms))
        if most is None or len(set(paints)) <= most
    }
    if abs(min(costs.values()) - solution.cost) > CLOSE or not solution.proven:
        return (
            f"house {seed}: {solution.cost:.3f} suggested, {min(costs.values()):.3f} by trying all"
        )
    return ""


def main() -> None:
    houses = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    found = [line for seed in range(houses) if (line := wrong(seed))]
    print("\n".join(found) or f"{houses} houses: the suggestion is the best of all choices in each")
    sys.exit(bool(found))


if __name__ == "__main__":
    main()
