"""The nodes that wait to be split, and how their children are put together."""

import heapq
from collections.abc import Iterator, Sequence
from itertools import count
from operator import attrgetter

import numpy as np

from housemap.choose.optimiser.batch import Batch, joined
from housemap.choose.optimiser.branch import Node, split
from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.fixing import Outlook
from housemap.choose.optimiser.indexed import Mask
from housemap.choose.optimiser.loose import carried
from housemap.choose.optimiser.relaxation import Relaxation, Relaxer
from housemap.choose.optimiser.width import Budget

TOGETHER = 16
"""Nodes bounded in one batch at most."""
BATCH_CELLS = 3_000_000
"""Cells that one elimination of a batch may compute."""
ALIKE = 1.4
"""Nodes of one batch differ at most by this factor in open labels: all pay for the largest."""
NODE_CELLS = 8_000_000
"""Multipliers that waiting nodes may keep, 64 MB; beyond it the newest is split first."""


class Waiting:
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

    def push(self, loose: Labels, batch: Batch, seen: Outlook, which: Mask) -> None:
        """Keep some nodes of a batch bounded with some pairs loose; each knows its split."""
        for place in np.flatnonzero(which).tolist():
            number = next(self._numbers)
            node = split(batch, place, seen, loose, number, paints_first=self._paints_first)
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
        if nodes and not len(nodes[0].loose):
            children = [child for node in nodes for child in node.children(target)]
            sizes = np.max([node.case.sizes(0) for node in nodes], axis=0)
            yield self._relaxer.relax(sizes), children
        else:
            yield from (self._relaxed(node, target) for node in nodes)

    def _relaxed(self, node: Node, target: float) -> tuple[Relaxation, list[Batch]]:
        """The children of a node with loose pairs, under a relaxation made for them."""
        sizes = node.case.sizes(0)
        if node.room >= 0:
            sizes[node.room] = 1
        relaxation = self._relaxer.relax(sizes)
        children = list(node.children(target))
        for child in children:
            child.pull = carried(node.loose, relaxation.loose.numbers, child.pull)
        return relaxation, children

    def _next(self, target: float) -> list[Node]:
        """The nodes to split next: one with loose pairs, or several without."""
        nodes: list[Node] = []
        while self._heap and len(nodes) < TOGETHER // 2:
            if nodes and (len(nodes[0].loose) or len(self._heap[0].loose)):
                break
            node = self._pop()
            if node.bound < target:
                nodes.append(node)
        return nodes

    def _pop(self) -> Node:
        """The least bound or, if too many wait, the newest: it is the nearest to its end."""
        case = self._heap[0].case
        if len(self._heap) * (case.rent.size + case.pull.size) < NODE_CELLS:
            return heapq.heappop(self._heap)
        node = max(self._heap, key=attrgetter("number"))
        self._heap.remove(node)
        heapq.heapify(self._heap)
        return node


def _together(relaxation: Relaxation, children: Sequence[Batch]) -> int:
    """How many of the children, smallest first, to bound in one batch."""
    most = min(TOGETHER, max(1, BATCH_CELLS // max(1, relaxation.loose.tables.size)))
    alike = [child for child in children[:most] if _size(child) <= ALIKE * _size(children[0])]
    largest = alike[-1].sizes(0)
    return next(n for n in range(len(alike), 0, -1) if n == 1 or _fits(relaxation, largest, n))


def _fits(relaxation: Relaxation, sizes: Labels, cases: int) -> bool:
    return relaxation.fits(sizes, Budget(BATCH_CELLS / cases, BATCH_CELLS / cases))


def _size(child: Batch) -> int:
    return int(child.is_open.sum())
