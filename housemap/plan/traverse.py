"""Measured rooms joined by measured openings, adjusted by least squares like a surveyor's traverse.

Every tie says where one room lies from another. Where ties close loops (or run between pinned
rooms) they never quite agree; the disagreement is spread so that the sum of squared corrections
of the ties is least (equal weights). x and y are independent and solved together.
Source: the adjustment of a traverse by observation equations, as in Ghilani, "Adjustment
Computations" (ch. 16); the gross-error test is Baarda's data snooping (1968).
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from heapq import heapify, heappop, heappush
from math import hypot, sqrt
from typing import NamedTuple

from housemap.model.geometry import cross, dot, is_measured, minus, plus, scaled
from housemap.model.house import House, Point
from housemap.plan.floor_plan import Closing, Tie, measured_tie
from housemap.plan.house_graph import HouseGraph

CLOSED_M = 1e-9
"""Below this a loop closes; what is left is rounding."""
ACROSS_WEIGHT = 0.5
"""Of an error across the wall beside one along it, when blaming an opening (our assumption):
along it there are two tape readings, across it only the wall's thickness."""
SUSPECTS = 8
"""So many openings with the largest residuals are tested for being wrong."""


def walk(graph: HouseGraph, ties: Iterable[Tie], fixed: Mapping[str, Point]) -> dict[str, Point]:
    """Positions of the rooms that ties lead to from the fixed ones, nearest first."""
    by_opening = {each.opening: each for each in ties}
    found = dict(fixed)
    for here, (opening, there) in graph.spanning_tree(fixed, by_opening):
        tie = by_opening[opening]
        found[there] = plus(found[here], scaled(tie.offset_m, 1 if here == tie.a else -1))
    return found


def misclosure(tie: Tie, positions: Mapping[str, Point]) -> Point:
    """What the tie says less what the positions say."""
    return minus(tie.offset_m, minus(positions[tie.b], positions[tie.a]))


def worst_misclosure_m(ties: Sequence[Tie], positions: Mapping[str, Point]) -> float:
    return max((hypot(*misclosure(tie, positions)) for tie in ties), default=0.0)


def adjusted(
    ties: Sequence[Tie], walked: Mapping[str, Point], fixed: Mapping[str, Point]
) -> dict[str, Point]:
    """The positions of least squares, from those of a walk."""
    corrections = _corrections(ties, {tie: misclosure(tie, walked) for tie in ties}, fixed)
    return {node: plus(at, corrections.get(node, (0.0, 0.0))) for node, at in walked.items()}


def likely_blunder(
    ties: Sequence[Tie], positions: Mapping[str, Point], fixed: Mapping[str, Point]
) -> tuple[Tie, Point] | None:
    """The tie whose residual is largest for how well the others control it (data snooping), and by
    how much it would be off.
    """  # noqa: D205 - one sentence
    residuals = {tie: misclosure(tie, positions) for tie in ties}

    def blame(tie: Tie) -> float:
        residual = residuals[tie]
        return hypot(dot(residual, tie.along), ACROSS_WEIGHT * cross(residual, tie.along))

    found: list[tuple[float, float, tuple[Tie, Point]]] = []
    for tie in sorted(ties, key=blame, reverse=True)[:SUSPECTS]:
        redundancy = 1 - _resistance(tie, ties, fixed)
        if redundancy > CLOSED_M:
            score = round(blame(tie) / sqrt(redundancy), 9)
            found.append((score, tie.taped_m, (tie, scaled(residuals[tie], 1 / redundancy))))
    return max(found, key=lambda each: each[:2])[2] if found else None


def _resistance(tie: Tie, ties: Sequence[Tie], fixed: Mapping[str, Point]) -> float:
    """The effective resistance of the network between a tie's ends: 1 where nothing else ties."""
    pulled = _corrections(ties, {tie: (1.0, 0.0)}, fixed)
    return pulled.get(tie.b, (0.0, 0.0))[0] - pulled.get(tie.a, (0.0, 0.0))[0]


def _corrections(
    ties: Sequence[Tie], misclosures: Mapping[Tie, Point], fixed: Mapping[str, Point]
) -> dict[str, Point]:
    """Solves the normal equations; the nodes not in `fixed` and not tied to it are left out."""
    equations = _Equations(fixed)
    for tie in ties:
        pull = misclosures.get(tie, (0.0, 0.0))
        equations.add(tie.a, tie.b, scaled(pull, -1))
        equations.add(tie.b, tie.a, pull)
    return equations.solved()


class _Equations:
    """Normal equations as a weighted graph: eliminating a node joins all that it was tied to."""

    def __init__(self, fixed: Mapping[str, Point]) -> None:
        self._fixed = fixed
        self._weights: dict[str, dict[str, float]] = defaultdict(dict)
        self._held: dict[str, float] = defaultdict(float)
        self._pull: dict[str, Point] = defaultdict(lambda: (0.0, 0.0))

    def add(self, here: str, there: str, pull: Point) -> None:
        """One side of a tie."""
        if here in self._fixed:
            return
        self._pull[here] = plus(self._pull[here], pull)
        row = self._weights[here]
        if there in self._fixed:
            self._held[here] += 1
        else:
            row[there] = row.get(there, 0.0) + 1

    def solved(self) -> dict[str, Point]:
        solution: dict[str, Point] = {}
        for node, row, total, pull in reversed(list(self._eliminated())):
            for other, weight in row.items():
                pull = plus(pull, scaled(solution[other], weight))  # noqa: PLW2901 a running sum
            solution[node] = scaled(pull, 1 / total)
        return solution

    def _eliminated(self) -> Iterator[tuple[str, dict[str, float], float, Point]]:
        """Each node with the row it had when its turn came, the fewest ties first."""
        queue = [(len(row), node) for node, row in self._weights.items()]
        heapify(queue)
        while queue:
            ties, node = heappop(queue)
            if node not in self._weights or ties != len(self._weights[node]):
                continue
            row = self._weights.pop(node)
            total = self._held[node] + sum(row.values())
            for other, weight in row.items():
                self._fold(node, other, weight / total, row)
                heappush(queue, (len(self._weights[other]), other))
            yield node, row, total, self._pull[node]

    def _fold(self, node: str, other: str, share: float, row: Mapping[str, float]) -> None:
        """Hands the share of `node` in `other`'s equation to the rest of its row."""
        self._pull[other] = plus(self._pull[other], scaled(self._pull[node], share))
        self._held[other] += share * self._held[node]
        target = self._weights[other]
        del target[node]
        for third, weight in row.items():
            if third != other:
                target[third] = target.get(third, 0.0) + share * weight


REPORTED_M = 0.01
"""A loop that closes within a centimetre is not reported as a closing."""
CLOSINGS = 8
"""At most so many openings of a group are named."""
EASED_M = 0.5
"""Between two pinned rooms the wall may differ so much from the house's wall thickness."""

ORIGIN: Point = (0.0, 0.0)


class Group(NamedTuple):
    """Rooms whose places follow from each other; pinned groups all lie in one plan."""

    level: int
    origins: Mapping[str, Point]
    pinned: bool
    closing_error_m: float
    closings: tuple[Closing, ...]


def groups(house: House, graph: HouseGraph) -> list[Group]:
    """Every group of measured or pinned rooms, in file order of its first room."""
    ties = _ties(house, graph)
    pins = {key: room.at_m for key, room in house.rooms.items() if room.at_m is not None}
    found: list[Group] = []
    seen: set[str] = set()
    for key, room in house.rooms.items():
        if key not in seen and (is_measured(room) or key in pins):
            members = [key, *(there for _, (_, there) in graph.spanning_tree([key], ties))]
            seen.update(members)
            openings = dict.fromkeys(each.opening for key in members for each in graph.exits(key))
            own = [ties[opening] for opening in openings if opening in ties]
            found.append(_group(graph, room.level, members, own, pins))
    return found


def _ties(house: House, graph: HouseGraph) -> dict[str, Tie]:
    """By opening; none between levels."""
    rooms = graph.rooms
    found = (
        measured_tie(house, key)
        for key, opening in graph.openings.items()
        if rooms[opening.between[0]].level == rooms[opening.between[1]].level
    )
    return {each.opening: each for each in found if each}


def _group(
    graph: HouseGraph, level: int, members: Sequence[str], measured: Iterable[Tie],
    pins: Mapping[str, Point],
) -> Group:  # fmt: skip
    fixed = {key: pins[key] for key in members if key in pins}
    held = fixed or {members[0]: ORIGIN}
    ties = [_eased(each, fixed) for each in measured]
    walked = walk(graph, ties, held)
    error = worst_misclosure_m(ties, walked)
    if error <= CLOSED_M:
        return Group(level, walked, bool(fixed), 0.0, ())
    closings = tuple(_closings(graph, ties, held)) if error > REPORTED_M else ()
    return Group(level, adjusted(ties, walked, held), bool(fixed), error, closings)


def _eased(each: Tie, pins: Mapping[str, Point]) -> Tie:
    """Between two pinned rooms the wall is as thick as the pins leave it (up to EASED_M)."""
    if not (each.a in pins and each.b in pins):
        return each
    pinned = minus(pins[each.b], pins[each.a])
    across = (each.along[1], -each.along[0])
    gap = dot(minus(pinned, each.offset_m), across)
    if not 0 < abs(gap) <= EASED_M:
        return each
    return each._replace(offset_m=plus(each.offset_m, scaled(across, gap)))


def _closings(
    graph: HouseGraph, ties: Sequence[Tie], held: Mapping[str, Point]
) -> Iterator[Closing]:
    """Names an opening, leaves it out and looks again, until the rest closes."""
    for _ in range(CLOSINGS):
        walked = walk(graph, ties, held)
        if worst_misclosure_m(ties, walked) <= REPORTED_M:
            return
        blunder = likely_blunder(ties, adjusted(ties, walked, held), held)
        if blunder is None:
            return
        tie, off_m = blunder
        yield Closing(round(hypot(*off_m), 6), tie.opening)
        ties = [each for each in ties if each is not tie]
