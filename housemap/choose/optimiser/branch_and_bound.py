"""Branch and bound (Land & Doig 1960), best bound first: a best choice and a rising bound.

A node is bounded as soon as it is made: its multipliers are raised, what cannot be part of a
better choice is removed (`lagrangian`).
"""

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import count
from operator import attrgetter
from typing import NamedTuple

import numpy as np

from housemap.choose.optimiser.bucket_elimination import Labels
from housemap.choose.optimiser.dual_decomposition import Relaxation, Relaxer, carried
from housemap.choose.optimiser.elimination_order import Budget
from housemap.choose.optimiser.heuristics import PaletteHeuristic
from housemap.choose.optimiser.incumbent import Incumbent
from housemap.choose.optimiser.indexed import Mask
from housemap.choose.optimiser.lagrangian import (
    IN,
    OPEN,
    OUT,
    DualFunction,
    NodeBatch,
    SubgradientAscent,
    VariableBounds,
    joined,
    propagate,
    root,
    rule_out,
    variable_bounds,
)

LEAN = 1.2
"""Paints that the palette has anyway are not split by: to have them would change little."""
CHAIN = 2
"""Paints that one split decides on; nodes that only have one paint more are hardly better."""


@dataclass(order=True, slots=True)
class Node:
    """One node (a batch of one), ordered by its bound."""

    bound: float
    number: int
    case: NodeBatch = field(compare=False)
    decoupled: Labels = field(compare=False)
    """The pairs that were decoupled when it was bounded."""
    branches: tuple["Branch", ...] = field(compare=False)
    room: int = field(compare=False)
    """The room that is decided; -1 where paints are."""

    def children(self, target: float) -> Iterator[NodeBatch]:
        """Those that may still hold a choice cheaper than the target, one by one."""
        for branch in self.branches:
            if branch.bound < target:
                child = self.case.take([0])
                child.bound = np.maximum(child.bound, branch.bound)
                branch.apply(child)
                yield child


class Branch(NamedTuple):
    """What a child is to have, and the bound that is known of it."""

    bound: float
    paints: tuple[int, ...] = ()
    """That it has."""
    without: int = -1
    """The paint that it does not have; -1 for none."""
    room: int = -1
    label: int = -1
    """Of the room; -1 for none."""

    def apply(self, child: NodeBatch) -> None:
        child.state[:, list(self.paints)] = IN
        if self.without >= 0:
            child.state[:, self.without] = OUT
        if self.room >= 0:
            child.is_open[:, self.room] = False
            child.is_open[:, self.room, self.label] = True


def split(
    batch: NodeBatch,
    place: int,
    seen: VariableBounds,
    decoupled: Labels,
    number: int,
    *,
    paints_first: bool,
) -> Node:
    """How to split one node of a batch, in which some room still has several labels.

    By the paints that would be missed most, or by the room that decoupled pairs disagree with most.
    """
    case = batch.take([place])
    bound = float(batch.bound[place])
    several = case.is_open[0].sum(axis=1) > 1
    conflict = np.where(several, seen.conflict[place], 0.0)
    free = np.flatnonzero(case.state[0] == OPEN)
    if len(free) and (paints_first or not conflict.any()):
        weight = seen.regret[place] * (LEAN - batch.usage[place])
        ranked = free[np.argsort(-weight[free], kind="stable")][:CHAIN].tolist()
        return Node(bound, number, case, decoupled, _by_paints(ranked, seen, place), -1)
    room = int(np.where(several, 1.0 + conflict, 0.0).argmax())
    labels = np.flatnonzero(case.is_open[0, room]).tolist()
    bounds = seen.label[place, room].tolist()
    branches = tuple(Branch(bounds[label], room=room, label=label) for label in labels)
    return Node(bound, number, case, decoupled, branches, room)


def _by_paints(paints: list[int], seen: VariableBounds, place: int) -> tuple[Branch, ...]:
    """Without the first; with it but without the second; and so on; with all."""
    having, without = seen.with_paint[place].tolist(), seen.without[place].tolist()
    branches: list[Branch] = []
    least = -np.inf
    for at, paint in enumerate(paints):
        branches.append(Branch(max(least, without[paint]), tuple(paints[:at]), paint))
        least = max(least, having[paint])
    return (*branches, Branch(least, tuple(paints)))


# Open nodes, and how their children are put together.

TOGETHER = 16
"""Nodes bounded in one batch at most."""
BATCH_CELLS = 3_000_000
"""Cells that one elimination of a batch may compute."""
ALIKE = 1.4
"""Nodes of one batch differ at most by this factor in open labels: all pay for the largest."""
NODE_CELLS = 8_000_000
"""Multipliers that open nodes may keep, 64 MB; beyond it the newest is split first."""


class OpenNodes:
    """Open nodes, best bound first."""

    def __init__(self, relaxer: Relaxer, *, paints_first: bool) -> None:
        """Nodes are split by paints before rooms, or not."""
        self._relaxer, self._paints_first = relaxer, paints_first
        self._heap: list[Node] = []
        self._numbers = count()

    @property
    def bound(self) -> float:
        """The least bound of all; infinite when none waits."""
        return self._heap[0].bound if self._heap else np.inf

    def push(self, decoupled: Labels, batch: NodeBatch, seen: VariableBounds, which: Mask) -> None:
        """Keep some nodes of a batch bounded with some pairs decoupled; each knows its split."""
        for place in np.flatnonzero(which).tolist():
            number = next(self._numbers)
            node = split(batch, place, seen, decoupled, number, paints_first=self._paints_first)
            heapq.heappush(self._heap, node)

    def batches(self, target: float) -> Iterator[tuple[Relaxation, NodeBatch]]:
        """The children of the next nodes that may be better than the target."""
        nodes = [node for node in self._next() if node.bound < target]
        if nodes:
            relaxation, children = self._children(nodes, target)
            children.sort(key=_size)
            while children:
                together = _together(relaxation, children)
                yield relaxation, joined(children[:together])
                del children[:together]

    def _children(self, nodes: Sequence[Node], target: float) -> tuple[Relaxation, list[NodeBatch]]:
        """The children of the nodes, and a relaxation for all of them."""
        sizes = np.max([node.case.sizes(0) for node in nodes], axis=0)
        if len(nodes) == 1 and nodes[0].room >= 0:
            sizes[nodes[0].room] = 1
        relaxation = self._relaxer.relax(sizes)
        children: list[NodeBatch] = []
        for node in nodes:
            for child in node.children(target):
                child.pair_dual = carried(
                    node.decoupled, relaxation.decoupled.numbers, child.pair_dual
                )
                children.append(child)
        return relaxation, children

    def _next(self) -> list[Node]:
        """The nodes to split next: one with decoupled pairs, or several without."""
        nodes = [self._pop()]
        while self._heap and len(nodes) < TOGETHER // 2:
            if len(nodes[0].decoupled) or len(self._heap[0].decoupled) or self._crowded:
                break
            nodes.append(self._pop())
        return nodes

    @property
    def _crowded(self) -> bool:
        case = self._heap[0].case
        return len(self._heap) * (case.paint_dual.size + case.pair_dual.size) > NODE_CELLS

    def _pop(self) -> Node:
        """The least bound or, if too many wait, the newest: it is the nearest to its end."""
        if not self._crowded:
            return heapq.heappop(self._heap)
        node = max(self._heap, key=attrgetter("number"))
        self._heap.remove(node)
        heapq.heapify(self._heap)
        return node


def _together(relaxation: Relaxation, children: Sequence[NodeBatch]) -> int:
    """How many of the children, smallest first, to bound in one batch."""
    most = min(TOGETHER, max(1, BATCH_CELLS // max(1, relaxation.decoupled.tables.size)))
    alike = [child for child in children[:most] if _size(child) <= ALIKE * _size(children[0])]
    largest = alike[-1].sizes(0)
    return next(n for n in range(len(alike), 0, -1) if n == 1 or _fits(relaxation, largest, n))


def _fits(relaxation: Relaxation, sizes: Labels, cases: int) -> bool:
    return relaxation.fits(sizes, Budget(BATCH_CELLS / cases, BATCH_CELLS / cases))


def _size(child: NodeBatch) -> int:
    return int(child.is_open.sum())


# The search.

STEPS = 11
"""Of an ascent between two looks at what can be taken out."""
ROUNDS = 25
"""Climbs of the root at most; every other node has one."""
SINGLE = 1e-5
"""Share of a cost by which an ascent goes too far, as single precision may be off by that."""
PROGRESS = 0.08
"""The root's ascents end with one that closes less than this share of the gap."""
SHRINKING = 0.9
"""They go on as long as each leaves at most this share of the open labels."""


class Search:
    """The search of one problem, and all that it needs to bound nodes."""

    def __init__(
        self, relaxer: Relaxer, incumbent: Incumbent, heuristic: PaletteHeuristic | None
    ) -> None:
        self.relaxer, self.indexed, self.incumbent = relaxer, relaxer.indexed, incumbent
        self.relaxation = relaxer.relax(self.indexed.sizes)
        self.heuristic = heuristic
        self.open_nodes = OpenNodes(self.relaxer, paints_first=self.heuristic is not None)

    def run(self) -> None:
        """To the proof, or until the watch raises StoppedError."""
        self._begin()
        while self.open_nodes.bound < self.incumbent.target:
            self.incumbent.prove(self.open_nodes.bound)
            for relaxation, batch in self.open_nodes.batches(self.incumbent.target):
                self._grow(relaxation, batch)
        self.incumbent.prove(self.incumbent.cost)

    def _begin(self) -> None:
        """A choice to start from, and the bound of the whole problem."""
        first = root(self.indexed, len(self.relaxation.decoupled.numbers))
        propagate(self.indexed, first)
        dual = self._dual(self.relaxation, first)
        self._start(dual)
        if not self.incumbent.done and first.alive.all():
            self._ascend_root(self._next_dual(dual))

    def _start(self, dual: DualFunction) -> None:
        """From what the rooms would choose freely; labels that cost too much even so go out."""
        start, seen = dual.batch, variable_bounds(dual)
        self.incumbent.prove(float(start.bound[0]))
        self.incumbent.consider(seen.labels[0])
        if not self.incumbent.done:
            if self.heuristic is not None:
                self.heuristic.start(seen.labels[0])
            rule_out(dual, seen, self.incumbent.target)

    def _ascend_root(self, dual: DualFunction) -> None:
        first, ascent = dual.batch, SubgradientAscent(dual, self.incumbent.offer)
        for _ in range(ROUNDS):
            gap, labels = self.incumbent.target - first.bound[0], first.is_open.sum()
            seen = self._round(ascent)
            self.incumbent.prove(float(first.bound[0]))
            if self.heuristic is not None:
                self.heuristic.again(first)
            left = self.incumbent.target - first.bound[0]
            if left <= 0 or not first.alive.all():
                return
            if gap - left < PROGRESS * left and first.is_open.sum() > SHRINKING * labels:
                break
            ascent.continue_on(self._next_dual(ascent.dual))
        self._keep(ascent.dual.relaxation, first, seen)

    def _next_dual(self, dual: DualFunction) -> DualFunction:
        """With fewer labels open; of a better relaxation, if that is now affordable."""
        before, first = dual.relaxation, dual.batch
        after = before if before.exact else self.relaxer.relax(first.sizes(0))
        first.pair_dual = carried(
            before.decoupled.numbers, after.decoupled.numbers, first.pair_dual
        )
        return self._dual(after, first)

    def _dual(self, relaxation: Relaxation, batch: NodeBatch) -> DualFunction:
        return DualFunction(relaxation, batch, self.incumbent.watch.poll)

    def _grow(self, relaxation: Relaxation, batch: NodeBatch) -> None:
        """Bound the nodes of a batch, and keep those that are still open."""
        propagate(self.indexed, batch)
        batch = batch.take(batch.alive)
        batch = batch.take(~self._finished(batch))
        if len(batch):
            ascent = SubgradientAscent(self._dual(relaxation, batch), self.incumbent.offer)
            seen = self._round(ascent)
            if self.heuristic is not None:
                self.heuristic.again(batch)
            self._keep(relaxation, batch, seen)

    def _round(self, ascent: SubgradientAscent) -> VariableBounds:
        """Raise the bounds and take out what they rule out, in place."""
        goal = self.incumbent.target + SINGLE * abs(self.incumbent.target)
        for _ in range(STEPS):
            ascent.step(self.incumbent.target)
            if (ascent.best >= goal).all():
                break
        seen = variable_bounds(ascent.dual)
        ascent.consider(seen.labels)
        rule_out(ascent.dual, seen, self.incumbent.target)
        return seen

    def _keep(self, relaxation: Relaxation, batch: NodeBatch, seen: VariableBounds) -> None:
        left = (batch.bound < self.incumbent.target) & batch.alive
        left[left] = ~self._finished(batch.take(left))
        self.open_nodes.push(relaxation.decoupled.numbers, batch, seen, left)

    def _finished(self, batch: NodeBatch) -> Mask:
        """(b): the nodes of which nothing is left to look into."""
        finished = np.asarray((batch.is_open.sum(axis=2) == 1).all(axis=1))
        for labels in batch.is_open[finished].argmax(axis=2):
            self.incumbent.consider(labels)
        return finished
