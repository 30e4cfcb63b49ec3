"""A network of measured offsets, adjusted by least squares as a surveyor adjusts a traverse.

Every tie says where one node lies from another. Where ties close loops (or run between fixed
nodes) they never quite agree; the disagreement is spread so that the sum of squared corrections
of the ties is least (equal weights). x and y are independent and solved together.
Source: the adjustment of a traverse by observation equations, as in Ghilani, "Adjustment
Computations" (ch. 16); the gross-error test is Baarda's data snooping (1968).
"""

from collections import defaultdict, deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from math import hypot, sqrt

from housemap.model.house import Point
from housemap.plan.vectors import cross, dot, minus, plus, scaled

CLOSED_M = 1e-9
"""Below this a loop closes; what is left is rounding."""
ACROSS_WEIGHT = 0.5
"""Of an error across the wall beside one along it, when blaming an opening (our assumption):
along it there are two tape readings, across it only the wall's thickness."""
SUSPECTS = 8
"""So many openings with the largest residuals are tested for being wrong."""


@dataclass(frozen=True, slots=True)
class Tie:
    """An opening that says where `b` lies from `a`."""

    opening: str
    a: str
    b: str
    offset_m: Point
    """Origin of `b` less origin of `a`."""
    along: Point
    """Unit vector along the wall."""
    taped_m: float
    """The length read off the tape along both walls; breaks ties between suspects."""


@dataclass(frozen=True, slots=True)
class Blunder:
    """The tie that would explain a loop that does not close, and by how much it would be off."""

    tie: Tie
    off_m: Point


def walk(nodes: Sequence[str], ties: Sequence[Tie], fixed: Mapping[str, Point]) -> dict[str, Point]:
    """Positions of the nodes that ties lead to from the fixed ones, nearest first."""
    steps: dict[str, list[tuple[str, Point]]] = {node: [] for node in nodes}
    for tie in ties:
        steps[tie.a].append((tie.b, tie.offset_m))
        steps[tie.b].append((tie.a, scaled(tie.offset_m, -1)))
    found = dict(fixed)
    queue = deque(fixed)
    while queue:
        here = queue.popleft()
        for there, offset in steps[here]:
            if there not in found:
                found[there] = plus(found[here], offset)
                queue.append(there)
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
) -> Blunder | None:
    """The tie whose residual is largest for how well the others control it (data snooping)."""
    residuals = {tie: misclosure(tie, positions) for tie in ties}
    suspects = sorted(ties, key=lambda tie: -_blame(tie, residuals[tie]))[:SUSPECTS]
    best: tuple[float, float, Blunder] | None = None
    for tie in suspects:
        redundancy = 1 - _resistance(tie, ties, fixed)
        if redundancy <= CLOSED_M:
            continue
        blunder = Blunder(tie, scaled(residuals[tie], 1 / redundancy))
        score = round(_blame(tie, residuals[tie]) / sqrt(redundancy), 9)
        if best is None or (score, tie.taped_m) > best[:2]:
            best = score, tie.taped_m, blunder
    return best[2] if best else None


def _blame(tie: Tie, residual: Point) -> float:
    return hypot(dot(residual, tie.along), ACROSS_WEIGHT * cross(residual, tie.along))


def _resistance(tie: Tie, ties: Sequence[Tie], fixed: Mapping[str, Point]) -> float:
    """The effective resistance of the network between a tie's ends: 1 where nothing else ties."""
    pulled = _corrections(ties, {tie: (1.0, 0.0)}, fixed)
    return pulled.get(tie.b, (0.0, 0.0))[0] - pulled.get(tie.a, (0.0, 0.0))[0]


def _corrections(
    ties: Sequence[Tie], misclosures: Mapping[Tie, Point], fixed: Mapping[str, Point]
) -> dict[str, Point]:
    """Solves the normal equations; the nodes not in `fixed` and not tied to it stay out."""
    equations = _Equations(fixed)
    for tie in ties:
        equations.add(tie.a, tie.b, misclosures.get(tie, (0.0, 0.0)))
    return equations.solved()


class _Equations:
    """Normal equations as a weighted graph: eliminating a node joins all that it was tied to."""

    def __init__(self, fixed: Mapping[str, Point]) -> None:
        self._fixed = fixed
        self._weights: dict[str, dict[str, float]] = defaultdict(dict)
        self._held: dict[str, float] = defaultdict(float)
        self._pull: dict[str, Point] = defaultdict(lambda: (0.0, 0.0))

    def add(self, a: str, b: str, misclosure_m: Point) -> None:
        self._one_side(a, b, scaled(misclosure_m, -1))
        self._one_side(b, a, misclosure_m)

    def _one_side(self, here: str, there: str, pull: Point) -> None:
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
