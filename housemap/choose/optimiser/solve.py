"""The entry of the optimiser: solve a problem in the calling thread.

Where only pairs join the rooms, elimination proves the optimum in milliseconds. Where paints do,
because they cost or are limited, and where rooms see too many others for elimination, a search
proves it or says how far from it the answer can be.
"""

from contextlib import suppress

from housemap.choose.optimiser.branch_and_bound import Search
from housemap.choose.optimiser.bucket_elimination import Labels, single_pass, single_pass_affordable
from housemap.choose.optimiser.dual_decomposition import Relaxation, Relaxer
from housemap.choose.optimiser.elimination_order import components
from housemap.choose.optimiser.heuristics import plain_choice
from housemap.choose.optimiser.incumbent import (
    NOTHING,
    Incumbent,
    OnProgress,
    Signal,
    StoppedError,
    Watch,
)
from housemap.choose.optimiser.indexed import Indexed, index
from housemap.choose.optimiser.problem import Poll, Problem, Progress, Solution, solution_of


def solve(
    problem: Problem,
    *,
    seconds: float | None = None,
    stop: Signal | None = None,
    progress: OnProgress | None = None,
) -> Solution:
    """The best assignment, proven optimal unless the time is over or `stop` was set before.

    `progress` is called, in this thread, with every better choice and now and then with the bound.
    Raises InputError if no assignment keeps to the limit of paints.
    """
    watch = Watch(seconds, stop, progress)
    if not problem.rooms:
        return solution_of(NOTHING, "elimination")
    indexed = index(problem)
    if indexed.coupled:
        return _searched(indexed, watch)
    whole = Relaxer(indexed).whole
    if whole is not None and _is_eliminated(whole):
        return _eliminated(whole, watch)
    return _by_parts(indexed, watch)


def _is_eliminated(relaxation: Relaxation) -> bool:
    return single_pass_affordable(relaxation.tree, relaxation.indexed.sizes)


def _single_pass(relaxation: Relaxation, poll: Poll) -> Labels:
    """The optimum of a relaxation whose tree holds all pairs."""
    indexed = relaxation.indexed
    own = [row[:size] for row, size in zip(indexed.own, indexed.sizes, strict=True)]
    return single_pass(relaxation.tree, own, indexed.pairs, poll)


def _eliminated(relaxation: Relaxation, watch: Watch, base: Progress = NOTHING) -> Solution:
    """The optimum by one elimination, or a plain choice if that is cut short."""
    indexed = relaxation.indexed
    incumbent = Incumbent(indexed, watch, base)
    with suppress(StoppedError):
        plain_choice(incumbent)
        incumbent.prove(incumbent.consider(_single_pass(relaxation, watch.poll)))
    return solution_of(incumbent.progress(), "elimination")


def _searched(indexed: Indexed, watch: Watch, base: Progress = NOTHING) -> Solution:
    """The best choice that a search finds until the watch stops it."""
    incumbent = Incumbent(indexed, watch, base)
    search: Search | None = None
    with suppress(StoppedError):
        plain_choice(incumbent)
        search = Search(indexed, incumbent)
        search.run()
    if search is None:
        return solution_of(incumbent.progress(), "search")
    return solution_of(incumbent.progress(), search.method, search.nodes)


def _by_parts(indexed: Indexed, watch: Watch) -> Solution:
    """Parts that no pair joins: by elimination where affordable, all the rest by one search."""
    problem = indexed.problem
    parts = _parts(problem)
    if len(parts) == 1:
        return _searched(indexed, watch)
    settled: Progress = NOTHING
    wide: list[str] = []
    for rooms in parts:
        whole = Relaxer(index(problem.part(rooms))).whole
        if whole is not None and _is_eliminated(whole):
            settled = _eliminated(whole, watch.silent(), settled)
        else:
            wide += rooms
    if wide:
        return _searched(index(problem.part(wide)), watch, settled)
    watch.report(lambda: settled, always=True)
    return solution_of(settled, "elimination")


def _parts(problem: Problem) -> list[list[str]]:
    number = {room: place for place, room in enumerate(problem.rooms)}
    edges = [(number[one], number[other]) for one, other in (pair.rooms for pair in problem.pairs)]
    groups = components(len(number), edges)
    return [[problem.rooms[place] for place in group] for group in groups]
