"""A search for the best choice keeps what it has when it is stopped while the problem is made."""

from collections.abc import Iterator
from functools import partial
from itertools import count

from housemap.checks import report_of
from housemap.choose.house_problem import choices, house_problem
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.optimiser.solve import solve
from tests.support.houses import grid_house

REPORT = report_of(grid_house(4, columns=2, paints=4))
MAKE = partial(house_problem, keep=frozenset())


def search(problem: Problem) -> Iterator[Progress]:
    yield solve(problem)


def test_a_choice_by_the_reference_light_comes_first_and_claims_nothing() -> None:
    (soon, first), *_, (made, last) = choices(REPORT, MAKE, search)
    assert first.bound == float("-inf")
    assert last.gap == 0.0
    assert made.problem.cost(first.assignment) >= last.cost - 1e-9
    assert soon.problem.rooms == made.problem.rooms


def test_stopped_between_two_rooms_the_first_choice_remains() -> None:
    looks = count()
    found = [*choices(REPORT, MAKE, search, lambda: next(looks) >= 2)]
    assert len(found) == 1
    assert found[0][1].assignment
    assert next(looks) == 3, "it ended at the third look"
