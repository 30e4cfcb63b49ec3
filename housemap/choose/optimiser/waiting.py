"""The nodes that wait to be split, and how their children are put together."""

import heapq
from collections.abc import Iterator, Sequence
from itertools import count
from math import prod
from operator import attrgetter

import numpy as np

from housemap.choose.optimiser.batch import Batch, joined
from housemap.choose.optimiser.branch import Node, split
from housemap.choose.optimiser.fixing import Outlook
from housemap.choose.optimiser.indexed import Mask
from housemap.choose.optimiser.loose import carried
from housemap.choose.optimiser.relaxation import Relaxation, relax_rest

TOGETHER = 16
"""Nodes bounded in one batch at most."""
BATCH_CELLS = 3_000_000
"""Cells that one elimination of a batch may compute."""
ALIKE = 1.4
"""Nodes of one batch differ at most by this factor in open labels: all pay for the largest."""
NODE_CELLS = 15_000_000
"""Numbers that waiting nodes may keep, 120 MB; beyond it the newest is split first."""


class Waiting:
    """Open nodes, best bound first."""

    def __init__(self) -> None:
        self._heap: list[Node] = []
        self._numbers = count()

    @property
    def bound(self) -> float:
        """The least bound of all; infinite when none waits."""
        return self._heap[0].bound if self._heap else np.inf

    def push(self, relaxation: Relaxation, batch: Batch, seen: Outlook, which: Mask) -> None:
        """Keep some nodes of a batch, each with how it will be split."""
        for place in np.flatnonzero(which).tolist():
            node = split(batch, place, seen, relaxation, next(self._numbers))
            heapq.heappush(self._heap, node)

    def batches(self, target: float) -> Iterator[tuple[Relaxation, Batch]]:
        """The children of the next nodes that may be better than the target."""
        for relaxation, children in self._families(target):
            children.sort(key=_size)
            while children:
                together = _together(relaxation, children)
                yield relaxation, joined(children[:together])
                del children[:together]

    def _families(self, target: float) -> Iterator[tuple[Relaxation, list[Batch]]]:
        """Children by relaxation: where it is exact, those of several nodes share it."""
        nodes = self._next(target)
        if nodes and nodes[0].relaxation.exact:
            children = [child for node in nodes for child in node.children(target)]
            yield nodes[0].relaxation, children
        else:
            yield from (_decided(node, target) for node in nodes)

    def _next(self, target: float) -> list[Node]:
        """The nodes to split next, which share a relaxation."""
        nodes: list[Node] = []
        while self._heap and len(nodes) < TOGETHER // 2:
            if nodes and not self._joins(nodes[0]):
                break
            node = self._pop()
            if node.bound < target:
                nodes.append(node)
        return nodes

    def _joins(self, node: Node) -> bool:
        return node.relaxation.exact and self._heap[0].relaxation is node.relaxation

    def _pop(self) -> Node:
        """The least bound or, if too many wait, the newest: it is the nearest to its end."""
        case = self._heap[0].case
        if len(self._heap) * (case.rent.size + case.pull.size) < NODE_CELLS:
            return heapq.heappop(self._heap)
        node = max(self._heap, key=attrgetter("number"))
        self._heap.remove(node)
        heapq.heapify(self._heap)
        return node


def _decided(node: Node, target: float) -> tuple[Relaxation, list[Batch]]:
    """The children of a node with loose pairs, under a relaxation made for them."""
    single = np.flatnonzero(node.case.is_open[0].sum(axis=1) == 1).tolist()
    decided = frozenset([*single, node.room]) - {-1}
    relaxation = relax_rest(node.relaxation.indexed, decided)
    children = list(node.children(target))
    for child in children:
        child.pull = carried(node.relaxation.loose, relaxation.loose, child.pull)
    return relaxation, children


def _together(relaxation: Relaxation, children: Sequence[Batch]) -> int:
    """How many of the children, smallest first, to bound in one batch."""
    most = min(TOGETHER, max(1, BATCH_CELLS // max(1, relaxation.loose.tables.size)))
    alike = [child for child in children[:most] if _size(child) <= ALIKE * _size(children[0])]
    return max(1, min(len(alike), BATCH_CELLS // max(1, _work(relaxation, alike[-1]))))


def _size(child: Batch) -> int:
    return int(child.is_open.sum())


def _work(relaxation: Relaxation, child: Batch) -> int:
    """Cells that one elimination computes."""
    rooms = child.is_open[0].sum(axis=1)[relaxation.rooms].tolist()
    steps = enumerate(relaxation.tree)
    return sum(rooms[n] * prod(rooms[other] for other in step.scope) for n, step in steps)
