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
        nodes = [node for node in self._next() if node.bound < target]
        if nodes:
            relaxation, children = self._children(nodes, target)
            children.sort(key=_size)
            while children:
                together = _together(relaxation, children)
                yield relaxation, joined(children[:together])
                del children[:together]

    def _children(self, nodes: Sequence[Node], target: float) -> tuple[Relaxation, list[Batch]]:
        """The children of the nodes, and a relaxation for all of them."""
        sizes = np.max([node.case.sizes(0) for node in nodes], axis=0)
        if len(nodes) == 1 and nodes[0].room >= 0:
            sizes[nodes[0].room] = 1
        relaxation = self._relaxer.relax(sizes)
        children: list[Batch] = []
        for node in nodes:
            for child in node.children(target):
                child.pull = carried(node.loose, relaxation.loose.numbers, child.pull)
                children.append(child)
        return relaxation, children

    def _next(self) -> list[Node]:
        """The nodes to split next: one with loose pairs, or several without."""
        nodes = [self._pop()]
        while self._heap and len(nodes) < TOGETHER // 2:
            if len(nodes[0].loose) or len(self._heap[0].loose) or self._crowded:
                break
            nodes.append(self._pop())
        return nodes

    @property
    def _crowded(self) -> bool:
        case = self._heap[0].case
        return len(self._heap) * (case.rent.size + case.pull.size) > NODE_CELLS

    def _pop(self) -> Node:
        """The least bound or, if too many wait, the newest: it is the nearest to its end."""
        if not self._crowded:
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
